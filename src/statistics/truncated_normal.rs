//! A normal distribution of which only an interval is left: parts outside tolerance were sorted
//! out.

use super::error::{StatisticsError, require, require_open};
use super::normal;

/// Normal with a lower and an upper end; either may be infinite.
///
/// ```
/// use relatch::internals::statistics::truncated_normal::TruncatedNormal;
/// // A gap of 0.20 ± 0.02 mm; parts more than two deviations away are sorted out.
/// let gap_m = TruncatedNormal::new(0.20e-3, 0.02e-3, 0.16e-3, 0.24e-3)?;
/// assert!((gap_m.quantile(0.5)? - 0.20e-3).abs() < 1e-18);
/// assert!(gap_m.quantile(0.001)? > 0.16e-3 && gap_m.quantile(0.999)? < 0.24e-3);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TruncatedNormal {
    mean: f64,
    deviation: f64,
    low: f64,
    high: f64,
    /// Probability of the untruncated normal below the lower end, above the upper end, and between
    /// them.
    below: f64,
    above: f64,
    within: f64,
}

impl TruncatedNormal {
    /// Mean and standard deviation of the normal before truncation, and the ends.
    ///
    /// # Errors
    ///
    /// A number that is not finite (the ends may be infinite), a deviation not above zero, ends
    /// that are not in order, or an interval with less than 1e-290 of the probability, where
    /// nothing is left to sample.
    pub fn new(mean: f64, deviation: f64, low: f64, high: f64) -> Result<Self, StatisticsError> {
        require(mean.is_finite(), "the mean", mean, "finite")?;
        let ok = deviation > 0.0 && deviation.is_finite();
        require(
            ok,
            "the standard deviation",
            deviation,
            "positive and finite",
        )?;
        require(low < high, "the lower end", low, "below the upper end")?;
        let (a, b) = ((low - mean) / deviation, (high - mean) / deviation);
        let (below, above) = (normal::cdf(a), normal::upper_tail(b));
        // The difference of the two small tails, whichever side they are on.
        let within = if a > 0.0 {
            normal::upper_tail(a) - above
        } else if b < 0.0 {
            normal::cdf(b) - below
        } else {
            1.0 - below - above
        };
        require(
            within > 1e-290,
            "the probability within the ends",
            within,
            "above 1e-290",
        )?;
        Ok(Self {
            mean,
            deviation,
            low,
            high,
            below,
            above,
            within,
        })
    }

    /// The value below which lies the probability `p` of what is left; always within the ends.
    ///
    /// The tail that is nearer is counted, so that no digits are lost far from the mean.
    ///
    /// # Errors
    ///
    /// `p` not strictly between 0 and 1.
    pub fn quantile(&self, p: f64) -> Result<f64, StatisticsError> {
        require_open("the probability", p)?;
        let from_below = self.below + p * self.within;
        let z = if from_below <= 0.5 {
            normal::quantile(from_below)
        } else {
            -normal::quantile(self.above + (1.0 - p) * self.within)
        };
        Ok((self.mean + self.deviation * z).clamp(self.low, self.high))
    }

    /// Deviations from the mean of the value below which lies `p`; `None` where twice as many are
    /// cut off.
    pub(crate) fn stretched(&self, p: f64) -> Option<f64> {
        let y = (self.quantile(p).ok()? - self.mean) / self.deviation;
        let far = self.mean + 2.0 * self.deviation * y;
        (self.low..=self.high).contains(&far).then_some(y)
    }
}
