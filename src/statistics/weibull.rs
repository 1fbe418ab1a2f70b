//! The Weibull distribution of lives: survival exp(−(t/η)^β).
//!
//! W. Weibull, "A Statistical Distribution Function of Wide Applicability", J. Appl. Mech. 18 (1951) 293–297.

use super::error::{StatisticsError, require, require_open};

/// Two-parameter Weibull distribution of a positive quantity, in whatever unit the scale has.
///
/// ```
/// use relatch::statistics::weibull::Weibull;
/// let life = Weibull::new(2.0, 10.0)?;
/// assert!((life.failed_by(10.0) - (1.0 - 1.0_f64.exp().recip())).abs() < 1e-15);
/// // A tenth has failed by the life called B10.
/// assert!((life.failed_by(life.quantile(0.1)?) - 0.1).abs() < 1e-15);
/// # Ok::<(), relatch::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weibull {
    shape: f64,
    scale: f64,
}

impl Weibull {
    /// Of shape β (below 1: early failures; 1: by chance; above: wear) and scale η (63.2 % have failed by it).
    ///
    /// # Errors
    ///
    /// Either not positive and finite.
    pub fn new(shape: f64, scale: f64) -> Result<Self, StatisticsError> {
        for (what, x) in [("the shape", shape), ("the scale", scale)] {
            require(x > 0.0 && x.is_finite(), what, x, "positive and finite")?;
        }
        Ok(Self { shape, scale })
    }

    /// β.
    #[must_use]
    pub fn shape(&self) -> f64 {
        self.shape
    }

    /// η.
    #[must_use]
    pub fn scale(&self) -> f64 {
        self.scale
    }

    /// Cumulative hazard (t/η)^β: minus the logarithm of the surviving share. 0 for t not above 0.
    #[must_use]
    pub fn cumulative_hazard(&self, t: f64) -> f64 {
        libm::exp(self.log_cumulative_hazard(t))
    }

    /// Its logarithm, which stays finite where the hazard does not; −∞ for t not above 0.
    #[must_use]
    pub fn log_cumulative_hazard(&self, t: f64) -> f64 {
        if t > 0.0 {
            self.shape * (libm::log(t) - libm::log(self.scale))
        } else {
            f64::NEG_INFINITY
        }
    }

    /// Share that has failed by t.
    #[must_use]
    pub fn failed_by(&self, t: f64) -> f64 {
        -libm::expm1(-self.cumulative_hazard(t))
    }

    /// Share that survives t.
    #[must_use]
    pub fn survival(&self, t: f64) -> f64 {
        libm::exp(-self.cumulative_hazard(t))
    }

    /// Time by which the share `p` has failed, η (−ln(1 − p))^(1/β); 0 or infinite where no double holds it.
    ///
    /// # Errors
    ///
    /// `p` not strictly between 0 and 1.
    pub fn quantile(&self, p: f64) -> Result<f64, StatisticsError> {
        require_open("the share failed", p)?;
        let hazard = -libm::log1p(-p);
        Ok(libm::exp(
            libm::log(self.scale) + libm::log(hazard) / self.shape,
        ))
    }

    /// Mean, η Γ(1 + 1/β); infinite where it is above the largest double.
    #[must_use]
    pub fn mean(&self) -> f64 {
        self.scale * libm::tgamma(1.0 + 1.0 / self.shape)
    }
}

/// Lives of a known distribution (shape 1.7, scale 20), those beyond `end` not yet over, for tests.
#[cfg(test)]
pub(super) fn made_lives(
    stream: &crate::statistics::stream::Stream,
    n: u32,
    end: f64,
) -> Vec<crate::statistics::kaplan_meier::Life> {
    use crate::statistics::kaplan_meier::Life;
    let truth = Weibull::new(1.7, 20.0).unwrap();
    (0..n)
        .map(|i| truth.quantile(stream.uniform(i)).unwrap())
        .map(|t| {
            if t < end {
                Life::failed(t)
            } else {
                Life::survived(end)
            }
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_and_nonsense() {
        let w = Weibull::new(1.5, 3.0).unwrap();
        assert_eq!((w.failed_by(0.0), w.survival(-1.0)), (0.0, 1.0));
        assert_eq!(w.failed_by(f64::INFINITY), 1.0);
        assert!(w.quantile(0.0).is_err() && w.quantile(f64::NAN).is_err());
        assert!(Weibull::new(0.0, 1.0).is_err() && Weibull::new(1.0, f64::INFINITY).is_err());
    }

    #[test]
    fn shape_one_is_the_exponential() {
        let w = Weibull::new(1.0, 4.0).unwrap();
        assert!((w.mean() - 4.0).abs() < 1e-14);
        assert!((w.survival(2.0) - (-0.5_f64).exp()).abs() < 1e-15);
        assert!((w.quantile(0.5).unwrap() - 4.0 * 2f64.ln()).abs() < 1e-14);
    }
}
