//! Confidence for a quantile from ordered values alone, whatever their distribution.
//!
//! How many of n values lie below the true quantile is binomial, so two of the ordered values
//! enclose it with a probability that can be counted: H. A. David & H. N. Nagaraja, Order
//! Statistics, 3rd ed. (2003), section 7.1; G. J. Hahn & W. Q. Meeker, Statistical Intervals
//! (1991), section 5.2 (both from memory, the counting re-derived and simulated in the tests).

use super::binomial;
use super::error::{StatisticsError, require_open};

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

/// Rank of the value that estimates the quantile at `p`: the smallest with at least the share `p`
/// of all values at or below it, ⌈np⌉ (type 1 of R. J. Hyndman & Y. Fan, American Statistician 50
/// (1996) 361–365). It is always one of the values, so merging and ties do no harm.
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

/// Ranks that enclose the true quantile at `p` with at least `confidence`, at most half of the rest
/// on either side; the narrowest such pair.
///
/// # Errors
///
/// No values, or `p` or `confidence` not strictly between 0 and 1.
///
/// ```
/// use relatch::internals::statistics::order_statistics::quantile_interval;
/// // The median of 100 values lies between the 40th and the 61st.
/// let median = quantile_interval(100, 0.5, 0.95)?;
/// assert_eq!((median.low, median.high), (Some(40), Some(61)));
/// assert!((median.confidence - 0.9648).abs() < 5e-5);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
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

/// The largest rank from 1 to `n` for which a condition holds that holds up to some rank only; 0 if
/// for none.
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
