//! Whether lives are Weibull at all: the Anderson-Darling statistic with parameters estimated from
//! the same lives.
//!
//! T. W. Anderson & D. A. Darling, "A Test of Goodness of Fit", J. Am. Stat. Assoc. 49 (1954)
//! 765–769; points for estimated parameters: M. A. Stephens, "Goodness of Fit for the Extreme Value
//! Distribution", Biometrika 64 (1977) 583–588. For censored lives the statistic is taken against
//! the Kaplan-Meier estimate up to the last time seen, and its probability by a parametric
//! bootstrap.

use super::error::StatisticsError;
use super::kaplan_meier::{Life, Step, sorted, steps};
use super::stream::{Purpose, Stream};
use super::weibull::Weibull;
use super::weibull_fit::fit;

/// The Anderson-Darling statistic of a distribution: n ∫ (F̂ − F)²/(F (1 − F)) dF, F̂ the
/// Kaplan-Meier estimate, up to the greatest time (to infinity if that is a failure). For complete
/// lives it is the classical A².
///
/// # Errors
///
/// No lives, or a time not positive and finite.
pub fn anderson_darling(lives: &[Life], distribution: &Weibull) -> Result<f64, StatisticsError> {
    Ok(statistic(&sorted(lives)?, distribution))
}

/// A verdict on a fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Goodness {
    /// A² of the lives under the fitted distribution.
    pub statistic: f64,
    /// Probability of so large a value or a larger one if the lives were Weibull: small speaks
    /// against it. No smaller than one over one more than the resamples.
    pub probability: f64,
    /// Resamples that could be fitted, of those asked for; the others (all censored, say) are left
    /// out.
    pub resamples: u32,
}

/// Fits, and judges the fit by lives drawn from it: each resample is censored as the lives were,
/// fitted anew and measured (W. Stute, W. González Manteiga, M. Presedo Quindimil, Metrika 40
/// (1993) 243–256). Times of censoring are drawn from their own Kaplan-Meier estimate; for one end
/// common to all units that is this end itself.
///
/// # Errors
///
/// As [`fit`], or no resample that could be fitted.
///
/// ```
/// use relatch::internals::statistics::{kaplan_meier::Life, weibull_goodness::goodness};
/// // Two kinds of unit, one that fails at once and one that wears: no Weibull distribution.
/// let mut lives: Vec<Life> = (1..=20).map(|i| Life::failed(f64::from(i))).collect();
/// lives.extend((1..=20).map(|i| Life::failed(1e4 + f64::from(i))));
/// assert!(goodness(&lives, 199, 2024)?.probability < 0.01);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
pub fn goodness(lives: &[Life], resamples: u32, seed: u64) -> Result<Goodness, StatisticsError> {
    let lives = sorted(lives)?;
    let distribution = fit(&lives)?.distribution;
    let found = statistic(&lives, &distribution);
    let censoring = censoring_steps(&lives);
    let (mut done, mut beyond) = (0, 0);
    for resample in 0..resamples {
        let stream = Stream::new(seed, Purpose::BOOTSTRAP, u64::from(resample));
        let drawn = draw(&distribution, &censoring, lives.len(), &stream)?;
        // One that cannot be fitted says nothing.
        if let Ok(fitted) = fit(&drawn) {
            done += 1;
            beyond += u32::from(anderson_darling(&drawn, &fitted.distribution)? >= found);
        }
    }
    if done == 0 {
        return Err(StatisticsError::TooFew {
            what: "resamples that can be fitted",
            needed: 1,
            given: 0,
        });
    }
    Ok(Goodness {
        statistic: found,
        probability: f64::from(beyond + 1) / f64::from(done + 1),
        resamples: done,
    })
}

/// Piece by piece: F̂ is constant between failures, and the integral of each piece is elementary.
fn statistic(sorted: &[Life], distribution: &Weibull) -> f64 {
    let end = sorted[sorted.len() - 1];
    let mut sum = 0.0;
    let (mut share, mut from) = (0.0, START);
    for step in steps(sorted) {
        let to = Point::at(distribution, step.time);
        sum += piece(share, from, to);
        (share, from) = (step.failed, to);
    }
    let to = if end.failed {
        END
    } else {
        Point::at(distribution, end.time)
    };
    (sum + piece(share, from, to)) * sorted.len() as f64
}

/// The distribution at a time: F, ln F and ln(1 − F).
#[derive(Clone, Copy)]
struct Point {
    failed: f64,
    log_failed: f64,
    log_survival: f64,
}

const START: Point = Point {
    failed: 0.0,
    log_failed: f64::NEG_INFINITY,
    log_survival: 0.0,
};
const END: Point = Point {
    failed: 1.0,
    log_failed: 0.0,
    log_survival: f64::NEG_INFINITY,
};

impl Point {
    fn at(distribution: &Weibull, time: f64) -> Self {
        let log_hazard = distribution.log_cumulative_hazard(time);
        // Where the hazard leaves the doubles its logarithm does not; the greatest stands for all
        // beyond.
        let hazard = libm::exp(log_hazard).min(f64::MAX);
        let failed = -libm::expm1(-hazard);
        Self {
            failed,
            // F = h − h²/2 + … and h alone once h² is lost beside it.
            log_failed: if log_hazard < -40.0 {
                log_hazard
            } else {
                libm::log(failed)
            },
            log_survival: -hazard,
        }
    }
}

/// ∫ (c − F)²/(F (1 − F)) dF = c² ln F − (1 − c)² ln(1 − F) − F.
fn piece(c: f64, from: Point, to: Point) -> f64 {
    let below = if c > 0.0 {
        c * c * (to.log_failed - from.log_failed)
    } else {
        0.0
    };
    let rest = 1.0 - c;
    let above = if rest > 0.0 {
        rest * rest * (from.log_survival - to.log_survival)
    } else {
        0.0
    };
    below + above - (to.failed - from.failed)
}

/// Kaplan-Meier estimate of the times of censoring, from lives in order: there a failure is what
/// hides them, and what failed at a time of censoring is no longer at risk of it.
pub fn censoring_steps(sorted: &[Life]) -> Vec<Step> {
    let mut steps = Vec::new();
    let (mut free, mut first) = (1.0, 0);
    for group in sorted.chunk_by(|a, b| a.time == b.time) {
        let failures = group.iter().filter(|life| life.failed).count();
        let censored = group.len() - failures;
        let at_risk = sorted.len() - first - failures;
        first += group.len();
        if censored > 0 {
            free *= (at_risk - censored) as f64 / at_risk as f64;
            steps.push(Step {
                time: group[0].time,
                failed: 1.0 - free,
            });
        }
    }
    steps
}

/// Lives of the distribution, ended by times of censoring; a draw beyond the last step is never
/// censored.
fn draw(
    distribution: &Weibull,
    censoring: &[Step],
    n: usize,
    stream: &Stream,
) -> Result<Vec<Life>, StatisticsError> {
    (0..n as u32)
        .map(|i| {
            let time = distribution.quantile(stream.uniform(2 * i))?;
            let u = stream.uniform(2 * i + 1);
            let end = censoring.iter().find(|step| step.failed > u);
            Ok(match end {
                Some(step) if step.time <= time => Life::survived(step.time),
                _ => Life::failed(time),
            })
        })
        .collect()
}
