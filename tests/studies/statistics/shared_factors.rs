//! Of `statistics::shared_factors`.

use relatch::internals::statistics::shared_factors::*;
use relatch::internals::statistics::stream::{Purpose, Stream};

/// Melts of 20 coils of 10 units, shares 0.3 and 0.5: correlations of neighbours in a coil (0.8),
/// of units in the same melt but another coil (0.3) and elsewhere (0), by simulation. Four standard
/// deviations of the mean over 3000 melts, which are independent.
#[test]
fn nested_batches_have_the_correlations_asked_for() {
    let model = SharedFactors::of_shares(&[0.3, 0.5]).unwrap();
    let score = |unit: u64| {
        let factors = [
            batch_score(6, batch_of(unit, 200), 0),
            batch_score(6, batch_of(unit, 10), 1),
        ];
        let own = Stream::new(6, Purpose::UNIT_INPUTS, unit).normal(0);
        model.score(&factors, own).unwrap()
    };
    let melts = 3000;
    for (distance, expected) in [(0, 1.0), (1, 0.8), (10, 0.3), (200, 0.0)] {
        let products: Vec<f64> = (0..melts)
            .map(|m| score(m * 200) * score(m * 200 + distance))
            .collect();
        let mean = products.iter().sum::<f64>() / melts as f64;
        let four = 4.0 * ((1.0_f64 + expected * expected) / melts as f64).sqrt();
        assert!((mean - expected).abs() < four, "{distance}: {mean}");
    }
}

#[test]
fn impossible_shares_are_refused() {
    assert!(SharedFactors::of_shares(&[0.7, 0.4]).is_err());
    assert!(SharedFactors::of_shares(&[-0.1]).is_err());
    assert!(SharedFactors::of_shares(&[f64::NAN]).is_err());
    let all = SharedFactors::of_shares(&[0.7, 0.2, 0.1]).unwrap();
    assert!(all.score(&[0.0; 3], 1.0).unwrap() < 1e-6);
    assert!(all.score(&[1.0], 0.0).is_err());
}
