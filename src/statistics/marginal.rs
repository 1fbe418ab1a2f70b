//! Distributions an input may have, each by its quantile: a uniform number in, a value out.

use super::error::{StatisticsError, require, require_open};
use super::normal;
use super::truncated_normal::TruncatedNormal;

/// The distribution of one input, whatever it shares with others.
///
/// ```
/// use relatch::internals::statistics::marginal::Marginal;
/// let width_m = Marginal::uniform(4.9e-3, 5.1e-3)?;
/// assert!((width_m.quantile(0.25)? - 4.95e-3).abs() < 1e-18);
/// let film_ohm = Marginal::lognormal(1e-3, 0.5)?;
/// assert!((film_ohm.quantile(0.5)? - 1e-3).abs() < 1e-18);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Marginal {
    /// Equally likely between two ends.
    Uniform {
        /// Lower end.
        low: f64,
        /// Upper end.
        high: f64,
    },
    /// Normal.
    Normal {
        /// Mean.
        mean: f64,
        /// Standard deviation.
        deviation: f64,
    },
    /// Normal of which an interval is left.
    Truncated(TruncatedNormal),
    /// The logarithm is normal.
    Lognormal {
        /// Median: the exponential of the logarithm's mean.
        median: f64,
        /// Standard deviation of the natural logarithm.
        log_deviation: f64,
    },
}

impl Marginal {
    /// Uniform between two ends.
    ///
    /// # Errors
    ///
    /// Ends that are not finite or not in order, or so far apart that their difference is not
    /// finite.
    pub fn uniform(low: f64, high: f64) -> Result<Self, StatisticsError> {
        require(low < high, "the lower end", low, "below the upper end")?;
        let width = high - low;
        require(width.is_finite(), "the width", width, "finite")?;
        Ok(Self::Uniform { low, high })
    }

    /// Normal of a mean and a standard deviation.
    ///
    /// # Errors
    ///
    /// Numbers that are not finite, or a deviation not above zero.
    pub fn normal(mean: f64, deviation: f64) -> Result<Self, StatisticsError> {
        require(mean.is_finite(), "the mean", mean, "finite")?;
        positive("the standard deviation", deviation)?;
        Ok(Self::Normal { mean, deviation })
    }

    /// Normal cut to an interval; see [`TruncatedNormal::new`].
    ///
    /// # Errors
    ///
    /// As [`TruncatedNormal::new`].
    pub fn truncated(
        mean: f64,
        deviation: f64,
        low: f64,
        high: f64,
    ) -> Result<Self, StatisticsError> {
        TruncatedNormal::new(mean, deviation, low, high).map(Self::Truncated)
    }

    /// Lognormal of a median and the standard deviation of the natural logarithm.
    ///
    /// # Errors
    ///
    /// Either not positive and finite.
    pub fn lognormal(median: f64, log_deviation: f64) -> Result<Self, StatisticsError> {
        positive("the median", median)?;
        positive("the deviation of the logarithm", log_deviation)?;
        Ok(Self::Lognormal {
            median,
            log_deviation,
        })
    }

    /// Lognormal of its own mean m and standard deviation s: ln(1 + s²/m²) is the variance of the
    /// logarithm, and the median is m/√(1 + s²/m²).
    ///
    /// # Errors
    ///
    /// Either not positive and finite, or a ratio whose square is not finite or vanishes.
    pub fn lognormal_of_mean(mean: f64, deviation: f64) -> Result<Self, StatisticsError> {
        positive("the mean", mean)?;
        positive("the standard deviation", deviation)?;
        let ratio = deviation / mean;
        let log_variance = libm::log1p(ratio * ratio);
        Self::lognormal(
            mean / libm::sqrt(1.0 + ratio * ratio),
            libm::sqrt(log_variance),
        )
    }

    /// The value below which lies the probability `p`.
    ///
    /// # Errors
    ///
    /// `p` not strictly between 0 and 1.
    pub fn quantile(&self, p: f64) -> Result<f64, StatisticsError> {
        require_open("the probability", p)?;
        Ok(match *self {
            // From the nearer end, so that both ends are met alike.
            Self::Uniform { low, high } if p <= 0.5 => low + p * (high - low),
            Self::Uniform { low, high } => high - (1.0 - p) * (high - low),
            Self::Normal { mean, deviation } => mean + deviation * normal::quantile(p),
            Self::Truncated(truncated) => truncated.quantile(p)?,
            Self::Lognormal {
                median,
                log_deviation,
            } => median * libm::exp(log_deviation * normal::quantile(p)),
        })
    }

    /// Density at the value of a standard normal score, were the spread halved about its middle (of
    /// a lognormal, that of the logarithm), over the density as it is.
    #[must_use]
    pub fn halved(&self, z: f64) -> f64 {
        let of_normal = |y: f64| 2.0 * libm::exp(-1.5 * y * y);
        match self {
            Self::Uniform { .. } if (normal::cdf(z) - 0.5).abs() < 0.25 => 2.0,
            Self::Uniform { .. } => 0.0,
            Self::Normal { .. } | Self::Lognormal { .. } => of_normal(z),
            Self::Truncated(truncated) => match truncated.stretched(normal::cdf(z)) {
                Some(y) => of_normal(y),
                None => 0.0,
            },
        }
    }

    /// The value that belongs to a standard normal score `z`, by way of Φ(z): what a correlated
    /// input takes from [`SharedFactors`](super::shared_factors::SharedFactors). Scores beyond ±8
    /// count as ±8.
    ///
    /// # Errors
    ///
    /// `z` is NaN.
    pub fn from_score(&self, z: f64) -> Result<f64, StatisticsError> {
        require(!z.is_nan(), "the score", z, "a number")?;
        let z = z.clamp(-8.0, 8.0);
        match *self {
            Self::Normal { mean, deviation } => Ok(mean + deviation * z),
            Self::Lognormal {
                median,
                log_deviation,
            } => Ok(median * libm::exp(log_deviation * z)),
            _ => self.quantile(normal::cdf(z)),
        }
    }
}

fn positive(what: &'static str, value: f64) -> Result<(), StatisticsError> {
    let ok = value > 0.0 && value.is_finite();
    require(ok, what, value, "positive and finite")
}
