//! Of `statistics::marginal`.

use relatch::internals::statistics::marginal::*;
use relatch::internals::statistics::normal;

#[test]
fn lognormal_has_the_mean_and_deviation_asked_for() {
    let x = Marginal::lognormal_of_mean(3.0, 1.2).unwrap();
    // Midpoint rule over the probability: its error is the tail beyond 1/n.
    let n = 400_000;
    let (mut sum, mut square) = (0.0, 0.0);
    for i in 0..n {
        let v = x.quantile((f64::from(i) + 0.5) / f64::from(n)).unwrap();
        sum += v;
        square += v * v;
    }
    let mean = sum / f64::from(n);
    let deviation = (square / f64::from(n) - mean * mean).sqrt();
    assert!((mean - 3.0).abs() < 1e-4, "{mean}");
    assert!((deviation - 1.2).abs() < 1e-3, "{deviation}");
}

#[test]
fn scores_and_quantiles_agree() {
    let all = [
        Marginal::uniform(-1.0, 2.0).unwrap(),
        Marginal::normal(5.0, 0.1).unwrap(),
        Marginal::truncated(0.0, 1.0, -0.5, 3.0).unwrap(),
        Marginal::lognormal(2.0, 0.3).unwrap(),
    ];
    for marginal in all {
        for z in [-3.0, -0.2, 0.0, 1.7] {
            let (a, b) = (
                marginal.from_score(z).unwrap(),
                marginal.quantile(normal::cdf(z)).unwrap(),
            );
            assert!((a - b).abs() < 1e-12, "{marginal:?} {z}");
        }
        assert!(marginal.from_score(f64::INFINITY).unwrap().is_finite());
        assert!(marginal.from_score(f64::NAN).is_err());
    }
}

#[test]
fn nonsense_is_refused() {
    assert!(Marginal::uniform(1.0, 1.0).is_err());
    assert!(Marginal::uniform(f64::NEG_INFINITY, 1.0).is_err());
    assert!(Marginal::uniform(f64::NAN, 1.0).is_err());
    assert!(Marginal::normal(0.0, -1.0).is_err());
    assert!(Marginal::lognormal(0.0, 1.0).is_err());
    assert!(Marginal::lognormal_of_mean(1e-200, 1e200).is_err());
    assert!(Marginal::uniform(0.0, 1.0).unwrap().quantile(1.0).is_err());
}
