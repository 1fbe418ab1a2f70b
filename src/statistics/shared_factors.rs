//! Inputs that are alike because their parts come from the same coil, spring lot or furnace load.
//!
//! A nested model of random effects (S. R. Searle, G. Casella, C. E. McCulloch, Variance Components
//! (1992), chapter 3; from memory): the standard normal score of an input is λ₁f₁ + λ₂f₂ + … + √(1
//! − Σλ²) e, with f the factors that units share and e the unit's own. λ² is the share of the
//! variance that a factor carries, and the correlation of two units in the same batch. Any
//! distribution is put on top by its quantile (a Gaussian copula); shares and correlations then are
//! those of the scores.

use super::error::{StatisticsError, require};
use super::stream::{Purpose, Stream};

/// What one input takes from the factors its unit shares with others.
///
/// ```
/// use relatch::internals::statistics::marginal::Marginal;
/// use relatch::internals::statistics::shared_factors::{SharedFactors, batch_of, batch_score};
/// use relatch::internals::statistics::stream::{Purpose, Stream};
///
/// // 60 % of the variance of the strip's thickness is between coils, a coil makes 5000 units.
/// let thickness = SharedFactors::of_shares(&[0.6])?;
/// let distribution = Marginal::normal(0.80e-3, 0.01e-3)?;
/// let draw = |unit: u64| {
///     let coil = batch_score(2024, batch_of(unit, 5000), 0);
///     let own = Stream::new(2024, Purpose::UNIT_INPUTS, unit).normal(0);
///     distribution.from_score(thickness.score(&[coil], own)?)
/// };
/// assert!(draw(17)? != draw(18)?);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct SharedFactors {
    loadings: Vec<f64>,
    own: f64,
}

impl SharedFactors {
    /// By the share of the variance that each factor carries; the rest is the unit's own.
    ///
    /// # Errors
    ///
    /// A share outside [0, 1], or shares of more than 1 together.
    pub fn of_shares(shares: &[f64]) -> Result<Self, StatisticsError> {
        for &share in shares {
            let ok = (0.0..=1.0).contains(&share);
            require(ok, "a share of variance", share, "from 0 to 1")?;
        }
        let total: f64 = shares.iter().sum();
        // Shares like 0.7, 0.2, 0.1 may add up to a rounding more than 1.
        let what = "the sum of the shares";
        require(total <= 1.0 + 1e-12, what, total, "at most 1")?;
        Ok(Self {
            loadings: shares.iter().map(|&s| libm::sqrt(s)).collect(),
            own: libm::sqrt((1.0 - total).max(0.0)),
        })
    }

    /// Standard normal score of the input, from those of the factors and of the unit itself.
    ///
    /// # Errors
    ///
    /// Not as many factor scores as there are factors.
    pub fn score(&self, factors: &[f64], own: f64) -> Result<f64, StatisticsError> {
        if factors.len() != self.loadings.len() {
            return Err(StatisticsError::Lengths {
                what: "loadings and factors",
                first: self.loadings.len(),
                second: factors.len(),
            });
        }
        let shared: f64 = self.loadings.iter().zip(factors).map(|(l, f)| l * f).sum();
        Ok(shared + self.own * own)
    }
}

/// The batch of a unit if every batch has `units_per_batch` of them (0 counts as 1).
#[must_use]
pub fn batch_of(unit: u64, units_per_batch: u64) -> u64 {
    unit / units_per_batch.max(1)
}

/// Standard normal score of a factor in a batch: `factor` says which (coil thickness, spring rate,
/// …).
#[must_use]
pub fn batch_score(seed: u64, batch: u64, factor: u32) -> f64 {
    Stream::new(seed, Purpose::BATCH_FACTORS, batch).normal(factor)
}
