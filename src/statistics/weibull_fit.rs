//! Weibull distribution fitted to lives by maximum likelihood, some of them censored on the right.
//!
//! J. F. Lawless, Statistical Models and Methods for Lifetime Data (1982), chapter 4; W. Q. Meeker
//! & L. A. Escobar, Statistical Methods for Reliability Data (1998), chapter 8 (both from memory,
//! the equations re-derived).

use super::error::{StatisticsError, require_open};
use super::interval::Interval;
use super::kaplan_meier::{Life, sorted};
use super::normal;
use super::weibull::Weibull;

/// A fitted distribution with the covariance of ln η and ln β.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WeibullFit {
    /// The distribution of the greatest likelihood.
    pub distribution: Weibull,
    /// Units that failed.
    pub failures: usize,
    /// Natural logarithm of the likelihood.
    pub log_likelihood: f64,
    /// Variance of the logarithm of the scale.
    pub var_log_scale: f64,
    /// Variance of the logarithm of the shape.
    pub var_log_shape: f64,
    /// Covariance of the two logarithms.
    pub covariance: f64,
}

/// Fits shape and scale.
///
/// The shape is the root of one monotone equation, Σ t^β ln t / Σ t^β − 1/β = mean of ln t over the
/// failures (the sums over all units), found by Newton's method within a bracket; the scale
/// follows. Below some ten failures the shape is estimated markedly too high.
///
/// # Errors
///
/// No failure, a time not positive and finite, or all failures at the greatest time of all, where
/// the likelihood has no maximum.
///
/// ```
/// use relatch::internals::statistics::{kaplan_meier::Life, weibull_fit::fit};
/// let mut lives = [2.1, 3.9, 5.0, 6.2, 7.3, 8.8].map(Life::failed).to_vec();
/// lives.extend([Life::survived(9.0); 4]);
/// let fit = fit(&lives)?;
/// assert!(fit.distribution.shape() > 1.0);
/// let b10 = fit.quantile_interval(0.1, 0.9)?;
/// assert!(b10.low < fit.distribution.quantile(0.1)? && b10.high < 9.0);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
pub fn fit(lives: &[Life]) -> Result<WeibullFit, StatisticsError> {
    let lives = sorted(lives)?;
    let failures = lives.iter().filter(|life| life.failed).count();
    if failures == 0 {
        return Err(StatisticsError::TooFew {
            what: "failures",
            needed: 1,
            given: 0,
        });
    }
    // Logarithms taken off the greatest: no power can overflow.
    let greatest = libm::log(lives[lives.len() - 1].time);
    let logs: Vec<(f64, bool)> = lives
        .iter()
        .map(|life| (libm::log(life.time) - greatest, life.failed))
        .collect();
    let failed_logs = logs.iter().filter(|(_, failed)| *failed).map(|(y, _)| y);
    let mean = failed_logs.sum::<f64>() / failures as f64;
    // A spread below 1e-10 is no more than the rounding of the times.
    if !(mean < -1e-10) {
        return Err(StatisticsError::Degenerate(
            "all failures are at the greatest time, the shape has no bound",
        ));
    }
    let shape = find_shape(&logs, mean)?;
    let r = failures as f64;
    let powers: f64 = logs.iter().map(|(y, _)| libm::exp(shape * y)).sum();
    let log_scale = libm::log(powers / r) / shape;
    // Observed information in (ln η, ln β), with z = β (y − ln η) and weights e^z that sum to the
    // failures.
    let (mut first, mut second) = (0.0, 0.0);
    for (y, _) in &logs {
        let z = shape * (y - log_scale);
        first += z * libm::exp(z);
        second += z * z * libm::exp(z);
    }
    let (uu, ub, bb) = (shape * shape * r, -shape * first, r + second);
    let determinant = uu * bb - ub * ub;
    let scale = libm::exp(log_scale + greatest);
    // Σ over failures of ln β − ln t + z, less Σ e^z = r.
    let log_likelihood = r * (libm::log(shape) - mean - greatest + shape * (mean - log_scale)) - r;
    Ok(WeibullFit {
        distribution: Weibull::new(shape, scale)?,
        failures,
        log_likelihood,
        var_log_scale: bb / determinant,
        var_log_shape: uu / determinant,
        covariance: -ub / determinant,
    })
}

/// Root of h(β) = Σ t^β ln t/Σ t^β − 1/β − mean, which rises from −∞ to −mean above 0.
fn find_shape(logs: &[(f64, bool)], mean: f64) -> Result<f64, StatisticsError> {
    let (mut low, mut high) = (0.0, f64::INFINITY);
    // What complete exponential-like lives would give; any start will do.
    let mut shape = -1.0 / mean;
    for _ in 0..500 {
        let (mut s0, mut s1, mut s2) = (0.0, 0.0, 0.0);
        for (y, _) in logs {
            let power = libm::exp(shape * y);
            s0 += power;
            s1 += power * y;
            s2 += power * y * y;
        }
        let average = s1 / s0;
        let miss = average - 1.0 / shape - mean;
        let slope = s2 / s0 - average * average + 1.0 / (shape * shape);
        if miss > 0.0 {
            high = shape;
        } else {
            low = shape;
        }
        let newton = shape - miss / slope;
        let next = if newton > low && newton < high {
            newton
        } else if high.is_infinite() {
            2.0 * shape
        } else {
            0.5 * (low + high)
        };
        if (next - shape).abs() <= 4.0 * f64::EPSILON * shape {
            return Ok(next);
        }
        shape = next;
        if !(shape < 1e12) {
            break;
        }
    }
    Err(StatisticsError::NoConvergence("the Weibull shape"))
}

impl WeibullFit {
    /// Interval for the shape, from the observed information; normal in the logarithm. Asymptotic:
    /// with ten failures it covers some percent less than it says.
    ///
    /// # Errors
    ///
    /// `confidence` not strictly between 0 and 1.
    pub fn shape_interval(&self, confidence: f64) -> Result<Interval, StatisticsError> {
        around(self.distribution.shape(), self.var_log_shape, confidence)
    }

    /// Interval for the scale, likewise.
    ///
    /// # Errors
    ///
    /// As [`Self::shape_interval`].
    pub fn scale_interval(&self, confidence: f64) -> Result<Interval, StatisticsError> {
        around(self.distribution.scale(), self.var_log_scale, confidence)
    }

    /// Interval for the time by which the share `p` has failed, likewise; ln t_p = ln η + w/β with
    /// w = ln(−ln(1 − p)).
    ///
    /// # Errors
    ///
    /// `p` or `confidence` not strictly between 0 and 1.
    pub fn quantile_interval(&self, p: f64, confidence: f64) -> Result<Interval, StatisticsError> {
        let time = self.distribution.quantile(p)?;
        let slope = -libm::log(-libm::log1p(-p)) / self.distribution.shape();
        let variance =
            self.var_log_scale + 2.0 * slope * self.covariance + slope * slope * self.var_log_shape;
        around(time, variance, confidence)
    }
}

fn around(value: f64, log_variance: f64, confidence: f64) -> Result<Interval, StatisticsError> {
    require_open("the confidence", confidence)?;
    let z = -normal::quantile(0.5 * (1.0 - confidence));
    let factor = libm::exp(z * libm::sqrt(log_variance));
    Ok(Interval {
        low: value / factor,
        high: value * factor,
    })
}
