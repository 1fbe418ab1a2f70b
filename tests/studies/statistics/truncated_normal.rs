//! Of `statistics::truncated_normal`.

use relatch::internals::statistics::normal;
use relatch::internals::statistics::truncated_normal::*;

#[test]
fn without_ends_it_is_the_normal() {
    let t = TruncatedNormal::new(3.0, 2.0, f64::NEG_INFINITY, f64::INFINITY).unwrap();
    for p in [1e-9, 0.1, 0.5, 0.9] {
        let x = 3.0 + 2.0 * normal::quantile(p);
        assert!((t.quantile(p).unwrap() - x).abs() < 1e-14);
    }
}

#[test]
fn stays_inside_and_mirrors() {
    let right = TruncatedNormal::new(0.0, 1.0, 5.0, 6.0).unwrap();
    let left = TruncatedNormal::new(0.0, 1.0, -6.0, -5.0).unwrap();
    for p in [1e-12, 0.01, 0.5, 0.75, 1.0 - 1e-12] {
        let (x, y) = (
            right.quantile(p).unwrap(),
            left.quantile(1.0 - p).unwrap_or(f64::NAN),
        );
        assert!((5.0..=6.0).contains(&x));
        assert!((x + y).abs() < 1e-12, "{p}: {x} {y}");
    }
}

#[test]
fn nonsense_is_refused() {
    let inf = f64::INFINITY;
    assert!(TruncatedNormal::new(f64::NAN, 1.0, 0.0, 1.0).is_err());
    assert!(TruncatedNormal::new(0.0, 0.0, 0.0, 1.0).is_err());
    assert!(TruncatedNormal::new(0.0, 1.0, 1.0, 1.0).is_err());
    assert!(TruncatedNormal::new(0.0, 1.0, f64::NAN, 1.0).is_err());
    assert!(TruncatedNormal::new(0.0, 1.0, 40.0, inf).is_err());
    let t = TruncatedNormal::new(0.0, 1.0, 0.0, inf).unwrap();
    assert!(t.quantile(0.0).is_err() && t.quantile(1.0).is_err());
}
