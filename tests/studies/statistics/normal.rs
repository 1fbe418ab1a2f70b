//! Of `statistics::normal`.

use relatch::internals::statistics::normal::*;

#[test]
fn quantile_undoes_the_cdf() {
    for i in -70..=40 {
        let x = f64::from(i) * 0.1;
        // Above, the double nearest to Φ(x) no longer knows x.
        let spread = (f64::EPSILON / density(x)).max(4e-15);
        assert!((quantile(cdf(x)) - x).abs() < spread, "{x}");
    }
}

#[test]
fn ends_and_nonsense() {
    assert_eq!(quantile(0.0), f64::NEG_INFINITY);
    assert_eq!(quantile(1.0), f64::INFINITY);
    for p in [-0.1, 1.1, f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
        assert!(quantile(p).is_nan(), "{p}");
    }
    assert_eq!(cdf(f64::INFINITY), 1.0);
    assert_eq!(cdf(f64::NEG_INFINITY), 0.0);
    assert!(cdf(f64::NAN).is_nan());
}

#[test]
fn symmetric_and_monotone() {
    let mut last = f64::NEG_INFINITY;
    for n in 1..10_000 {
        let p = f64::from(n) / 16_384.0;
        let x = quantile(p);
        assert!(x > last);
        // p and 1 − p are both exact.
        assert_eq!(x, -quantile(1.0 - p));
        last = x;
    }
}
