//! Of `statistics::sobol`.

use relatch::internals::statistics::sobol::*;

/// Every dimension puts exactly one of 2ᵏ points in each of 2ᵏ equal intervals, scrambled or not.
#[test]
fn every_dimension_is_stratified() {
    for sequence in [
        SobolSequence::plain(128).unwrap(),
        SobolSequence::scrambled(128, 5).unwrap(),
    ] {
        for dimension in 0..128 {
            let mut seen = [false; 256];
            for point in 0..256 {
                let cell = (sequence.coordinate(point, dimension) * 256.0) as usize;
                assert!(!seen[cell], "{dimension}");
                seen[cell] = true;
            }
        }
    }
}

/// The first two dimensions are a (0, 2)-sequence: one of 256 points in each of 16 × 16, 4 × 64, …
/// boxes; the scrambled ones too.
#[test]
fn two_dimensions_are_stratified_in_every_shape() {
    let sequence = SobolSequence::scrambled(2, 11).unwrap();
    for split in 0..=8 {
        let (wide, high) = (1 << split, 256 >> split);
        let mut seen = vec![false; 256];
        for point in 0..256 {
            let p = sequence.point(point);
            let cell = (p[0] * f64::from(wide)) as usize * high as usize
                + (p[1] * f64::from(high)) as usize;
            assert!(!seen[cell]);
            seen[cell] = true;
        }
    }
}

/// A single point of a scrambled sequence is uniform over the seeds, and two of its coordinates
/// independent.
#[test]
fn one_point_is_uniform_over_seeds() {
    let (mut cells, seeds) = ([0_u32; 16], 4800);
    for seed in 0..seeds {
        let p = SobolSequence::scrambled(2, seed).unwrap().point(3);
        cells[(p[0] * 4.0) as usize * 4 + (p[1] * 4.0) as usize] += 1;
    }
    let expected = seeds as f64 / 16.0;
    let chi2: f64 = cells
        .iter()
        .map(|&c| (f64::from(c) - expected).powi(2) / expected)
        .sum();
    // Fifteen degrees of freedom: 37.7 is passed one time in a thousand.
    assert!(chi2 < 37.7, "{chi2}");
}

/// A mere shift would keep the sum of two points' digits; the matrix changes all but the first
/// digit of it.
#[test]
fn differences_are_scrambled_too() {
    let mut halves = 0;
    for seed in 0..400 {
        let s = SobolSequence::scrambled(1, seed).unwrap();
        // Points 0 and 1 differ in the first digit; whether in the second is left to chance.
        let quarters = [0, 1].map(|i| (s.coordinate(i, 0) * 4.0) as u32);
        assert_ne!(quarters[0] / 2, quarters[1] / 2);
        halves += i32::from(quarters[0] % 2 == quarters[1] % 2);
    }
    // Four standard deviations of 400 throws of a coin.
    assert!((halves - 200).abs() <= 40, "{halves}");
}

/// The error of a smooth mean over four scrambles falls much faster than that of chance.
#[test]
fn means_are_far_better_than_by_chance() {
    let n = 1024;
    for seed in 0..4 {
        let s = SobolSequence::scrambled(5, seed).unwrap();
        let mean: f64 = (0..n)
            .map(|i| {
                s.point(i)
                    .iter()
                    .map(|x| 1.0 + 0.5 * (x - 0.5))
                    .product::<f64>()
            })
            .sum::<f64>()
            / n as f64;
        // By chance one standard deviation would be 0.33/√1024 = 1e-2.
        assert!((mean - 1.0).abs() < 1e-3, "{mean}");
    }
}

#[test]
fn a_dimension_does_not_depend_on_how_many_there_are() {
    let (few, many) = (
        SobolSequence::scrambled(3, 8).unwrap(),
        SobolSequence::scrambled(20, 8).unwrap(),
    );
    assert_eq!(few.coordinate(77, 2), many.coordinate(77, 2));
}

#[test]
fn too_many_dimensions_are_refused() {
    assert!(SobolSequence::plain(0).is_err());
    assert!(SobolSequence::scrambled(129, 0).is_err());
    assert!(SobolSequence::plain(2).unwrap().coordinate(0, 2).is_nan());
}
