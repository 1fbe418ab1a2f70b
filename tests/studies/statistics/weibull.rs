//! Of `statistics::weibull`.

use relatch::internals::statistics::weibull::*;

#[test]
fn ends_and_nonsense() {
    let w = Weibull::new(1.5, 3.0).unwrap();
    assert_eq!(w.log_cumulative_hazard(-1.0), f64::NEG_INFINITY);
    assert_eq!(w.log_cumulative_hazard(f64::INFINITY), f64::INFINITY);
    assert!(w.quantile(0.0).is_err() && w.quantile(f64::NAN).is_err());
    assert!(Weibull::new(0.0, 1.0).is_err() && Weibull::new(1.0, f64::INFINITY).is_err());
}

#[test]
fn shape_one_is_the_exponential() {
    let w = Weibull::new(1.0, 4.0).unwrap();
    assert!((w.log_cumulative_hazard(2.0) - 0.5_f64.ln()).abs() < 1e-15);
    assert!((w.quantile(0.5).unwrap() - 4.0 * 2f64.ln()).abs() < 1e-14);
}
