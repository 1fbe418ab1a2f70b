//! Confidence intervals for a proportion: so many of so many.

use super::beta;
use super::error::{StatisticsError, require_open};
use super::interval::Interval;
use super::normal;

/// Wilson's score interval: its coverage is the confidence on average over the true proportion, a
/// little more or less for any one. For a band in a report.
///
/// E. B. Wilson, "Probable Inference, the Law of Succession, and Statistical Inference", J. Am.
/// Stat. Assoc. 22 (1927) 209–212.
///
/// # Errors
///
/// No trials, more hits than trials, or a confidence not strictly between 0 and 1.
///
/// ```
/// use relatch::internals::statistics::proportion::wilson;
/// let share = wilson(81, 263, 0.95)?;
/// assert!((share.low - 0.2553).abs() < 5e-5 && (share.high - 0.3662).abs() < 5e-5);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
pub fn wilson(hits: u64, trials: u64, confidence: f64) -> Result<Interval, StatisticsError> {
    check(hits, trials, confidence)?;
    let (n, share) = (trials as f64, hits as f64 / trials as f64);
    let other = (trials - hits) as f64 / n;
    let z = -normal::quantile(0.5 * (1.0 - confidence));
    let z2 = z * z;
    let centre = share + z2 / (2.0 * n);
    let half = z * libm::sqrt(share * other / n + z2 / (4.0 * n * n));
    let scale = 1.0 + z2 / n;
    Ok(Interval {
        low: if hits == 0 {
            0.0
        } else {
            ((centre - half) / scale).max(0.0)
        },
        high: if hits == trials {
            1.0
        } else {
            ((centre + half) / scale).min(1.0)
        },
    })
}

/// Clopper and Pearson's interval: covers with *at least* the confidence, whatever the true
/// proportion. For a guarantee.
///
/// C. J. Clopper & E. S. Pearson, "The Use of Confidence or Fiducial Limits Illustrated in the Case
/// of the Binomial", Biometrika 26 (1934) 404–413.
///
/// # Errors
///
/// As [`wilson`].
pub fn clopper_pearson(
    hits: u64,
    trials: u64,
    confidence: f64,
) -> Result<Interval, StatisticsError> {
    check(hits, trials, confidence)?;
    let tail = 0.5 * (1.0 - confidence);
    let (k, n) = (hits as f64, trials as f64);
    let low = if hits == 0 {
        0.0
    } else {
        beta::quantile(k, n - k + 1.0, tail)?
    };
    let high = if hits == trials {
        1.0
    } else {
        beta::quantile(k + 1.0, n - k, 1.0 - tail)?
    };
    Ok(Interval { low, high })
}

fn check(hits: u64, trials: u64, confidence: f64) -> Result<(), StatisticsError> {
    require_open("the confidence", confidence)?;
    if trials == 0 {
        return Err(StatisticsError::TooFew {
            what: "trials",
            needed: 1,
            given: 0,
        });
    }
    if hits > trials {
        return Err(StatisticsError::TooMany {
            what: "hits",
            limit: trials,
            given: hits,
        });
    }
    Ok(())
}
