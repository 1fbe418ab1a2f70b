//! Of `statistics::beta`.

use relatch::internals::statistics::beta::*;
use relatch::internals::statistics::deviance::beta_weight;

#[test]
fn closed_forms() {
    for x in [1e-9, 0.01, 0.3, 0.5, 0.9, 0.999] {
        for a in [0.5, 1.0, 3.0, 40.0] {
            let power = cdf(a, 1.0, x).unwrap();
            let expected = x.powf(a);
            assert!((power - expected).abs() <= 1e-13 * expected, "{a} {x}");
        }
        let arc = 2.0 / std::f64::consts::PI * x.sqrt().asin();
        assert!((cdf(0.5, 0.5, x).unwrap() - arc).abs() < 1e-14);
    }
}

#[test]
fn quantile_undoes_the_cdf() {
    for (a, b) in [
        (0.5, 0.5),
        (1.0, 20.0),
        (82.0, 182.0),
        (5e5, 3.0),
        (1e6, 1e6),
    ] {
        for p in [1e-12, 0.001, 0.025, 0.5, 0.975] {
            let x = quantile(a, b, p).unwrap();
            let back = cdf(a, b, x).unwrap();
            // One unit in the last place of x moves p by this much.
            let spread = f64::EPSILON * (1.0 + beta_weight(a, b, x, 1.0 - x) / (1.0 - x) / p);
            assert!(
                (back / p - 1.0).abs() < 8.0 * spread + 1e-12,
                "{a} {b} {p}: {back}"
            );
        }
    }
}

#[test]
fn quantile_keeps_its_digits_in_the_upper_tail() {
    for (a, b) in [(0.5, 20.0), (3.0, 7.0)] {
        for p in [1.0 - 1e-6, 1.0 - 1e-12] {
            let x = quantile(a, b, p).unwrap();
            let above = cdf(b, a, 1.0 - x).unwrap();
            assert!((above / (1.0 - p) - 1.0).abs() < 1e-12, "{a} {b} {p}");
        }
    }
}

#[test]
fn ends_and_nonsense() {
    assert_eq!(cdf(2.0, 3.0, 0.0), Ok(0.0));
    assert_eq!(cdf(2.0, 3.0, 1.0), Ok(1.0));
    assert_eq!(quantile(2.0, 3.0, 1.0), Ok(1.0));
    assert!(cdf(0.0, 1.0, 0.5).is_err());
    assert!(cdf(1.0, f64::NAN, 0.5).is_err());
    assert!(cdf(1.0, 1.0, 1.5).is_err());
    assert!(quantile(1.0, 1.0, f64::NAN).is_err());
}
