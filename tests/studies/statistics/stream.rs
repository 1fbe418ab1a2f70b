//! Of `statistics::stream`.

use relatch::internals::statistics::stream::*;

#[test]
fn bits_are_the_same_on_every_machine() {
    // The published vector with counter and key taken from pi, read as seed, unit, draw and
    // purpose.
    let stream = Stream::new(
        0x299f_31d0_a409_3822,
        Purpose(0x0370_7344),
        0x85a3_08d3_243f_6a88,
    );
    assert_eq!(stream.bits(0x1319_8a2e), 0x94fd_cceb_d16c_fe09);
}

#[test]
fn ends_of_the_interval_are_open_and_exact() {
    assert_eq!(open_unit(0), 2f64.powi(-53));
    assert_eq!(1.0 - open_unit((1 << 52) - 1), 2f64.powi(-53));
}

#[test]
fn changing_anything_changes_the_draw() {
    let base = Stream::new(1, Purpose::UNIT_INPUTS, 5);
    let others = [
        Stream::new(2, Purpose::UNIT_INPUTS, 5).bits(0),
        Stream::new(1 << 32, Purpose::UNIT_INPUTS, 5).bits(0),
        Stream::new(1, Purpose::BATCH_FACTORS, 5).bits(0),
        Stream::new(1, Purpose::other(1), 5).bits(0),
        Stream::new(1, Purpose::UNIT_INPUTS, 5 << 32).bits(0),
        base.bits(1),
    ];
    assert!(others.iter().all(|&b| b != base.bits(0)));
}

/// Neighbouring units must look independent: correlation of 100 000 pairs within four of its
/// standard deviations (one run in 16 000 would fail by chance; this seed is fixed), mean and
/// variance likewise.
#[test]
fn neighbouring_units_and_draws_are_uncorrelated() {
    let n = 100_000;
    let (mut mean, mut square, mut by_unit, mut by_draw) = (0.0, 0.0, 0.0, 0.0);
    for unit in 0..n {
        let here = Stream::new(9, Purpose::UNIT_INPUTS, unit);
        let next = Stream::new(9, Purpose::UNIT_INPUTS, unit + 1);
        let x = here.uniform(0) - 0.5;
        mean += x;
        square += x * x;
        by_unit += x * (next.uniform(0) - 0.5);
        by_draw += x * (here.uniform(1) - 0.5);
    }
    let n = n as f64;
    let four = 4.0 / n.sqrt();
    assert!((mean / n).abs() < four / 12f64.sqrt());
    assert!((square / n * 12.0 - 1.0).abs() < four * 0.8f64.sqrt());
    assert!((by_unit / n * 12.0).abs() < four);
    assert!((by_draw / n * 12.0).abs() < four);
}

#[test]
fn whole_numbers_stay_below_and_reach_all() {
    let stream = Stream::new(3, Purpose::BOOTSTRAP, 0);
    let mut seen = [0_u32; 7];
    for draw in 0..7000 {
        seen[stream.below(draw, 7) as usize] += 1;
    }
    // Chi-square with six degrees of freedom: 22.5 is passed one time in a thousand.
    let chi2: f64 = seen
        .iter()
        .map(|&s| (f64::from(s) - 1e3).powi(2) / 1e3)
        .sum();
    assert!(chi2 < 22.5, "{chi2}");
    assert_eq!(stream.below(0, 0), 0);
}
