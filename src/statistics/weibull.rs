//! The Weibull distribution of lives: survival exp(−(t/η)^β).
//!
//! W. Weibull, "A Statistical Distribution Function of Wide Applicability", J. Appl. Mech. 18
//! (1951) 293–297.

use super::error::{StatisticsError, require, require_open};

/// Two-parameter Weibull distribution of a positive quantity, in whatever unit the scale has.
///
/// ```
/// use relatch::internals::statistics::weibull::Weibull;
/// let life = Weibull::new(2.0, 10.0)?;
/// // A tenth has failed by the life called B10.
/// let b10 = life.quantile(0.1)?;
/// assert!((-libm::expm1(-libm::exp(life.log_cumulative_hazard(b10))) - 0.1).abs() < 1e-15);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Weibull {
    shape: f64,
    scale: f64,
}

impl Weibull {
    /// Of shape β (below 1: early failures; 1: by chance; above: wear) and scale η (63.2 % have
    /// failed by it).
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

    /// Its logarithm, which stays finite where the hazard does not; −∞ for t not above 0.
    #[must_use]
    pub fn log_cumulative_hazard(&self, t: f64) -> f64 {
        if t > 0.0 {
            self.shape * (libm::log(t) - libm::log(self.scale))
        } else {
            f64::NEG_INFINITY
        }
    }

    /// Time by which the share `p` has failed, η (−ln(1 − p))^(1/β); 0 or infinite where no double
    /// holds it.
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
}
