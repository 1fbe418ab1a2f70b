//! Of `statistics::latin_hypercube`.

use relatch::internals::statistics::latin_hypercube::*;

#[test]
fn one_point_a_slice_in_every_dimension() {
    for n in [1, 2, 7, 100, 1000] {
        let design = LatinHypercube::new(n, 51, 4).unwrap();
        for dimension in [0, 1, 50] {
            let mut seen = vec![false; n as usize];
            for point in 0..n {
                let x = design.coordinate(point, dimension);
                assert!(x > 0.0 && x < 1.0);
                let slice = (x * n as f64) as usize;
                assert!(!seen[slice], "{n} {dimension}");
                seen[slice] = true;
            }
        }
    }
}

/// Two dimensions are in independent orders: the correlation of 1000 slices stays within four
/// deviations.
#[test]
fn dimensions_are_uncorrelated() {
    let n = 1000;
    let design = LatinHypercube::new(n, 5, 31).unwrap();
    for dimension in 1..5 {
        let sum: f64 = (0..n)
            .map(|i| (design.coordinate(i, 0) - 0.5) * (design.coordinate(i, dimension) - 0.5))
            .sum();
        let correlation = sum / n as f64 * 12.0;
        assert!(correlation.abs() < 4.0 / (n as f64).sqrt(), "{correlation}");
    }
}

/// So are the places within the slices.
#[test]
fn places_are_uncorrelated() {
    let n = 1000;
    let design = LatinHypercube::new(n, 2, 31).unwrap();
    let place = |i, d| (design.coordinate(i, d) * n as f64).fract() - 0.5;
    let sum: f64 = (0..n).map(|i| place(i, 0) * place(i, 1)).sum();
    let square: f64 = (0..n).map(|i| place(i, 0).powi(2)).sum();
    let four = 4.0 / (n as f64).sqrt();
    assert!((sum / n as f64 * 12.0).abs() < four);
    assert!((square / n as f64 * 12.0 - 1.0).abs() < four);
}

/// The mean of an additive function has a variance of order n⁻³ instead of n⁻¹.
#[test]
fn additive_functions_are_averaged_better_than_by_chance() {
    let n = 100;
    for seed in 0..5 {
        let design = LatinHypercube::new(n, 2, seed).unwrap();
        let mean = (0..n)
            .map(|i| design.coordinate(i, 0) + design.coordinate(i, 1))
            .sum::<f64>()
            / n as f64;
        // By chance 0.41/√100 = 0.041; here 0.41/100^1.5 = 4.1e-4.
        assert!((mean - 1.0).abs() < 4.0 * 4.1e-4);
    }
}

#[test]
fn the_last_slice_of_very_many_is_open() {
    let design = LatinHypercube::new(1 << 52, 1, 1).unwrap();
    for i in 0..1000 {
        let x = design.coordinate(i, 0);
        assert!(x > 0.0 && x < 1.0);
    }
    assert!(design.coordinate(0, 1).is_nan());
    assert!(LatinHypercube::new(0, 1, 1).is_err());
    assert!(LatinHypercube::new(0, 0, 1).is_err());
}
