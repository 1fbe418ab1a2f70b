//! Of `statistics::proportion`.

use relatch::internals::statistics::binomial;
use relatch::internals::statistics::proportion::*;
use relatch::internals::statistics::{Interval, StatisticsError};

/// Exact coverage: the binomial probability of all counts whose interval holds the true share.
fn coverage(
    interval: fn(u64, u64, f64) -> Result<Interval, StatisticsError>,
    n: u64,
    p: f64,
) -> f64 {
    let mut sum = 0.0;
    for k in 0..=n {
        let i = interval(k, n, 0.95).unwrap();
        if i.low <= p && p <= i.high {
            let below = if k == 0 {
                0.0
            } else {
                binomial::cdf(k - 1, n, p).unwrap()
            };
            sum += binomial::cdf(k, n, p).unwrap() - below;
        }
    }
    sum
}

#[test]
fn clopper_pearson_never_covers_less_than_it_says() {
    for n in [5, 20, 60] {
        for i in 1..100 {
            let p = f64::from(i) / 100.0;
            let c = coverage(clopper_pearson, n, p);
            assert!(c >= 0.95 - 1e-12, "{n} {p}: {c}");
        }
    }
}

#[test]
fn wilson_covers_what_it_says_on_average() {
    for n in [20, 60] {
        let mean = (1..200)
            .map(|i| coverage(wilson, n, f64::from(i) / 200.0))
            .sum::<f64>()
            / 199.0;
        assert!((mean - 0.95).abs() < 0.006, "{n}: {mean}");
    }
}

#[test]
fn hits_and_misses_mirror() {
    for interval in [wilson, clopper_pearson] {
        let (a, b) = (
            interval(3, 40, 0.9).unwrap(),
            interval(37, 40, 0.9).unwrap(),
        );
        assert!((a.low + b.high - 1.0).abs() < 1e-13);
        assert!((a.high + b.low - 1.0).abs() < 1e-13);
    }
}

#[test]
fn nonsense_is_refused() {
    for interval in [wilson, clopper_pearson] {
        assert!(interval(0, 0, 0.95).is_err());
        assert!(interval(2, 1, 0.95).is_err());
        assert!(interval(1, 2, 1.0).is_err());
        assert!(interval(1, 2, f64::NAN).is_err());
    }
}
