//! Confidence for a quantile from ordered values alone, whatever their distribution.
//!
//! How many of n values lie below the true quantile is binomial, so two of the ordered values enclose it with a
//! probability that can be counted: H. A. David & H. N. Nagaraja, Order Statistics, 3rd ed. (2003), section 7.1;
//! G. J. Hahn & W. Q. Meeker, Statistical Intervals (1991), section 5.2 (both from memory, the counting
//! re-derived and simulated in the tests).

use super::binomial;
use super::error::{StatisticsError, require, require_open};

/// Ranks (1 is the smallest value) between which a quantile lies with a stated confidence.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RankInterval {
    /// Rank of the lower end; `None` if too few values reach below: the interval is open there.
    pub low: Option<u64>,
    /// Rank of the upper end; `None` if too few values reach above.
    pub high: Option<u64>,
    /// The confidence reached for a continuous distribution: at least what was asked for.
    pub confidence: f64,
}

/// Rank of the value that estimates the quantile at `p`: the smallest with at least the share `p` of all values
/// at or below it, ⌈np⌉ (type 1 of R. J. Hyndman & Y. Fan, American Statistician 50 (1996) 361–365). It is always
/// one of the values, so merging and ties do no harm.
///
/// # Errors
///
/// No values, or `p` not strictly between 0 and 1.
pub fn quantile_rank(n: u64, p: f64) -> Result<u64, StatisticsError> {
    check(n, p)?;
    let exact = n as f64 * p;
    // 100 × 0.07 is 7.000000000000001 in doubles; rank 7 is meant.
    let rank = (exact * (1.0 - 4.0 * f64::EPSILON)).ceil() as u64;
    Ok(rank.clamp(1, n))
}

/// Ranks that enclose the true quantile at `p` with at least `confidence`, at most half of the rest on either
/// side; the narrowest such pair.
///
/// # Errors
///
/// No values, or `p` or `confidence` not strictly between 0 and 1.
///
/// ```
/// use relatch::statistics::order_statistics::quantile_interval;
/// // The median of 100 values lies between the 40th and the 61st.
/// let median = quantile_interval(100, 0.5, 0.95)?;
/// assert_eq!((median.low, median.high), (Some(40), Some(61)));
/// assert!((median.confidence - 0.9648).abs() < 5e-5);
/// # Ok::<(), relatch::statistics::StatisticsError>(())
/// ```
pub fn quantile_interval(n: u64, p: f64, confidence: f64) -> Result<RankInterval, StatisticsError> {
    check(n, p)?;
    require_open("the confidence", confidence)?;
    let tail = 0.5 * (1.0 - confidence);
    // The quantile lies below the value of rank l exactly if fewer than l values lie below it.
    let low = last_true(n, |l| Ok(binomial::cdf(l - 1, n, p)? <= tail))?;
    // It lies above the value of rank h exactly if at least h values lie below it.
    let beyond = last_true(n, |h| Ok(binomial::at_least(h, n, p)? > tail))?;
    let high = (beyond < n).then_some(beyond + 1);
    let missed_low = if low == 0 {
        0.0
    } else {
        binomial::cdf(low - 1, n, p)?
    };
    let missed_high = high.map_or(Ok(0.0), |h| binomial::at_least(h, n, p))?;
    Ok(RankInterval {
        low: (low > 0).then_some(low),
        high,
        confidence: 1.0 - missed_low - missed_high,
    })
}

/// How many values are needed so that the largest of them lies above the quantile at `p` with the confidence:
/// the smallest n with 1 − pⁿ ≥ confidence. S. S. Wilks, Ann. Math. Stat. 12 (1941) 91–96.
///
/// # Errors
///
/// `p` or `confidence` not strictly between 0 and 1, or more values than 10¹⁵.
pub fn values_for_bound(p: f64, confidence: f64) -> Result<u64, StatisticsError> {
    require_open("the probability", p)?;
    require_open("the confidence", confidence)?;
    let n = (libm::log1p(-confidence) / libm::log(p)).ceil();
    require(n <= 1e15, "the number of values", n, "at most 1e15")?;
    Ok((n as u64).max(1))
}

/// The largest rank from 1 to `n` for which a condition holds that holds up to some rank only; 0 if for none.
fn last_true(
    n: u64,
    holds: impl Fn(u64) -> Result<bool, StatisticsError>,
) -> Result<u64, StatisticsError> {
    let (mut yes, mut no) = (0, n + 1);
    while no - yes > 1 {
        let middle = yes + (no - yes) / 2;
        if holds(middle)? {
            yes = middle;
        } else {
            no = middle;
        }
    }
    Ok(yes)
}

fn check(n: u64, p: f64) -> Result<(), StatisticsError> {
    require_open("the probability", p)?;
    if n == 0 {
        return Err(StatisticsError::TooFew {
            what: "values",
            needed: 1,
            given: 0,
        });
    }
    let limit = 1_000_000_000_000_000;
    if n > limit {
        return Err(StatisticsError::TooMany {
            what: "values",
            limit,
            given: n,
        });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::stream::{Purpose, Stream};

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

    /// Coverage by simulation, 4000 samples each: the share that encloses the true quantile is the confidence
    /// stated, within four standard deviations (seed fixed).
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
}
