//! Lives of which some are not yet over, and the share failed by a time without any distribution.

use super::error::{StatisticsError, require};

/// Life of one unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Life {
    /// Time of failure, or the time up to which the unit was seen to work.
    pub time: f64,
    /// Whether it failed then; else it is censored (on the right).
    pub failed: bool,
}

impl Life {
    /// A unit that failed at a time.
    #[must_use]
    pub fn failed(time: f64) -> Self {
        Self { time, failed: true }
    }

    /// A unit that still worked at a time, after which nothing is known.
    #[must_use]
    pub fn survived(time: f64) -> Self {
        Self {
            time,
            failed: false,
        }
    }
}

/// One step of the estimate: from this time on this share has failed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Step {
    /// Time of one or more failures.
    pub time: f64,
    /// Share failed, this time's failures included.
    pub failed: f64,
}

/// The product-limit estimate of the share failed. E. L. Kaplan & P. Meier, "Nonparametric
/// Estimation from Incomplete Observations", J. Am. Stat. Assoc. 53 (1958) 457–481. Units censored
/// at the time of a failure count as having been at risk in it.
///
/// # Errors
///
/// No lives, or a time that is not positive and finite.
///
/// ```
/// use relatch::internals::statistics::kaplan_meier::{Life, kaplan_meier};
/// let lives = [Life::failed(1.0), Life::survived(2.0), Life::failed(3.0), Life::survived(4.0)];
/// let steps = kaplan_meier(&lives)?;
/// assert_eq!(steps.len(), 2);
/// assert!((steps[1].failed - (1.0 - 3.0 / 4.0 * 1.0 / 2.0)).abs() < 1e-15);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
pub fn kaplan_meier(lives: &[Life]) -> Result<Vec<Step>, StatisticsError> {
    Ok(steps(&sorted(lives)?))
}

/// Checked, and in the order of time.
pub fn sorted(lives: &[Life]) -> Result<Vec<Life>, StatisticsError> {
    if lives.is_empty() {
        return Err(StatisticsError::TooFew {
            what: "lives",
            needed: 1,
            given: 0,
        });
    }
    for life in lives {
        let ok = life.time > 0.0 && life.time.is_finite();
        require(ok, "a life", life.time, "positive and finite")?;
    }
    let mut sorted = lives.to_vec();
    // Failures before what is censored at the same time, which was still at risk.
    sorted.sort_by(|a, b| a.time.total_cmp(&b.time).then(b.failed.cmp(&a.failed)));
    Ok(sorted)
}

/// The estimate from lives in order.
pub(super) fn steps(sorted: &[Life]) -> Vec<Step> {
    let mut steps: Vec<Step> = Vec::new();
    let mut surviving = 1.0;
    let mut first = 0;
    for group in sorted.chunk_by(|a, b| a.time == b.time) {
        let at_risk = sorted.len() - first;
        first += group.len();
        let failures = group.iter().filter(|life| life.failed).count();
        if failures > 0 {
            surviving *= (at_risk - failures) as f64 / at_risk as f64;
            steps.push(Step {
                time: group[0].time,
                failed: 1.0 - surviving,
            });
        }
    }
    steps
}
