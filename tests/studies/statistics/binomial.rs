//! Of `statistics::binomial`.

use relatch::internals::statistics::binomial::*;

#[test]
fn sums_of_the_terms() {
    for p in [0.003, 0.3, 0.7] {
        let n = 25;
        let (mut term, mut sum) = ((1.0_f64 - p).powi(n), 0.0);
        for k in 0..n {
            sum += term;
            let below = cdf(k as u64, n as u64, p).unwrap();
            assert!((below - sum).abs() < 1e-14, "{k} {p}");
            let above = at_least(k as u64 + 1, n as u64, p).unwrap();
            assert!((below + above - 1.0).abs() < 1e-14);
            term *= f64::from(n - k) / f64::from(k + 1) * p / (1.0 - p);
        }
    }
}

#[test]
fn ends() {
    assert_eq!(cdf(5, 5, 0.3), Ok(1.0));
    assert_eq!(cdf(0, 5, 0.0), Ok(1.0));
    assert_eq!(cdf(4, 5, 1.0), Ok(0.0));
    assert_eq!(at_least(6, 5, 0.9), Ok(0.0));
    assert!(cdf(0, 5, -0.1).is_err());
}
