//! Confidence intervals for a proportion: so many of so many.

use super::beta;
use super::error::{StatisticsError, require_open};
use super::interval::Interval;
use super::normal;

/// Wilson's score interval: its coverage is the confidence on average over the true proportion, a little more
/// or less for any one. For a band in a report.
///
/// E. B. Wilson, "Probable Inference, the Law of Succession, and Statistical Inference", J. Am. Stat. Assoc. 22
/// (1927) 209–212.
///
/// # Errors
///
/// No trials, more hits than trials, or a confidence not strictly between 0 and 1.
///
/// ```
/// use relatch::statistics::proportion::wilson;
/// let share = wilson(81, 263, 0.95)?;
/// assert!((share.low - 0.2553).abs() < 5e-5 && (share.high - 0.3662).abs() < 5e-5);
/// # Ok::<(), relatch::statistics::StatisticsError>(())
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

/// Clopper and Pearson's interval: covers with *at least* the confidence, whatever the true proportion. For a
/// guarantee.
///
/// C. J. Clopper & E. S. Pearson, "The Use of Confidence or Fiducial Limits Illustrated in the Case of the
/// Binomial", Biometrika 26 (1934) 404–413.
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::statistics::binomial;

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
}
