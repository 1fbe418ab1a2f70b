//! Of `statistics::order_statistics`.

use relatch::internals::statistics::binomial;
use relatch::internals::statistics::order_statistics::*;
use relatch::internals::statistics::stream::{Purpose, Stream};

#[test]
fn ranks_of_estimates() {
    assert_eq!(quantile_rank(100, 0.07), Ok(7));
    assert_eq!(quantile_rank(100, 0.071), Ok(8));
    assert_eq!(quantile_rank(1, 0.001), Ok(1));
    assert_eq!(quantile_rank(10, 0.95), Ok(10));
    assert!(quantile_rank(0, 0.5).is_err() && quantile_rank(5, 0.0).is_err());
}

#[test]
fn too_few_values_leave_an_end_open() {
    let i = quantile_interval(10, 0.95, 0.95).unwrap();
    assert_eq!(i.high, None);
    assert!(i.low.is_some());
    let i = quantile_interval(3, 0.5, 0.95).unwrap();
    assert_eq!((i.low, i.high, i.confidence), (None, None, 1.0));
}

/// The ranks are the narrowest: one step inwards on either side breaks the promise.
#[test]
fn narrowest() {
    for n in [60, 1000, 1_000_000] {
        for p in [0.05, 0.5, 0.95] {
            let i = quantile_interval(n, p, 0.9).unwrap();
            let (l, h) = (i.low.unwrap_or(0), i.high.unwrap_or(n + 1));
            assert!(binomial::cdf(l, n, p).unwrap() > 0.05);
            assert!(binomial::at_least(h - 1, n, p).unwrap() > 0.05);
            assert!(i.confidence >= 0.9, "{n} {p}");
        }
    }
}

/// Coverage by simulation, 4000 samples each: the share that encloses the true quantile is the
/// confidence stated, within four standard deviations (seed fixed).
#[test]
fn covers_as_often_as_it_says() {
    let runs = 4000;
    for (n, p) in [(59_u32, 0.5), (100, 0.9), (200, 0.05)] {
        let stated = quantile_interval(u64::from(n), p, 0.9).unwrap();
        let (low, high) = (stated.low.unwrap() as usize, stated.high.unwrap() as usize);
        let mut hits = 0;
        for run in 0..runs {
            let stream = Stream::new(77, Purpose::other(1), run);
            let mut x: Vec<f64> = (0..n).map(|i| stream.uniform(i)).collect();
            x.sort_by(f64::total_cmp);
            hits += u32::from(x[low - 1] <= p && p <= x[high - 1]);
        }
        let found = f64::from(hits) / runs as f64;
        let four = 4.0 * (stated.confidence * (1.0 - stated.confidence) / runs as f64).sqrt();
        assert!(
            (found - stated.confidence).abs() < four,
            "{n} {p}: {found} {stated:?}"
        );
    }
}
