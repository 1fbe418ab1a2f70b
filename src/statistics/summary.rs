//! Number, mean, spread and ends of a run of values, merged from parts to the same bytes in any
//! order.

use super::error::StatisticsError;
use super::exact_sum::ExactSum;
use serde::{Deserialize, Serialize};

/// Summary of any number of values in constant memory (about 1.5 kB).
///
/// The sums of values and squares are exact ([`ExactSum`]); the updating formula of means and
/// squared deviations (T. F. Chan, G. H. Golub, R. J. LeVeque, 1979), which is usual for this,
/// rounds differently for every way of cutting the run into shards.
///
/// ```
/// use relatch::internals::statistics::summary::Summary;
/// let mut part = Summary::new();
/// for x in [1e9 + 1.0, 1e9 + 2.0, 1e9 + 3.0] {
///     part.add(x)?;
/// }
/// assert_eq!((part.mean(), part.variance()), (Some(1e9 + 2.0), Some(1.0)));
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Summary {
    count: u64,
    #[serde(with = "as_text")]
    least: Option<f64>,
    #[serde(with = "as_text")]
    greatest: Option<f64>,
    sum: ExactSum,
    squares: ExactSum,
}

impl Summary {
    /// Of no values.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Takes a value in.
    ///
    /// # Errors
    ///
    /// NaN, or a magnitude above 1e100 (a time that never comes is to be counted apart); the
    /// summary is then unchanged.
    pub fn add(&mut self, x: f64) -> Result<(), StatisticsError> {
        self.sum.add(x)?;
        self.squares.add_square(x)?;
        self.count = self.count.saturating_add(1);
        // −0 and 0 are one value; which came first must not show.
        let x = x + 0.0;
        self.least = Some(self.least.map_or(x, |least| least.min(x)));
        self.greatest = Some(self.greatest.map_or(x, |greatest| greatest.max(x)));
        Ok(())
    }

    /// Takes in all values of another summary; the order of merging does not matter.
    pub fn merge(&mut self, other: &Self) {
        // Only a damaged file could come near the end of 64 bits.
        self.count = self.count.saturating_add(other.count);
        self.sum.merge(&other.sum);
        self.squares.merge(&other.squares);
        self.least = either(self.least, other.least, f64::min);
        self.greatest = either(self.greatest, other.greatest, f64::max);
    }

    /// Number of values.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.count
    }

    /// Smallest value; none of none.
    #[must_use]
    pub fn least(&self) -> Option<f64> {
        self.least
    }

    /// Largest value; none of none.
    #[must_use]
    pub fn greatest(&self) -> Option<f64> {
        self.greatest
    }

    /// Mean, to a unit in the last place; none of none.
    #[must_use]
    pub fn mean(&self) -> Option<f64> {
        (self.count > 0).then(|| self.sum.value() / self.count as f64)
    }

    /// Variance with n − 1; none of fewer than two values.
    #[must_use]
    pub fn variance(&self) -> Option<f64> {
        if self.count < 2 {
            return None;
        }
        let squares = ExactSum::spread(&self.squares, &self.sum, self.count);
        Some(squares / self.count as f64 / (self.count - 1) as f64)
    }

    /// Standard deviation with n − 1; none of fewer than two values.
    #[must_use]
    pub fn deviation(&self) -> Option<f64> {
        self.variance().map(libm::sqrt)
    }
}

/// Doubles as texts, which every reader of JSON gives back to the last bit.
mod as_text {
    use serde::{Deserialize, Deserializer, Serialize, Serializer, de::Error};

    pub(super) fn serialize<S: Serializer>(x: &Option<f64>, s: S) -> Result<S::Ok, S::Error> {
        x.map(|x| x.to_string()).serialize(s)
    }

    pub(super) fn deserialize<'a, D: Deserializer<'a>>(d: D) -> Result<Option<f64>, D::Error> {
        let text = Option::<String>::deserialize(d)?;
        text.map(|t| t.parse().map_err(D::Error::custom))
            .transpose()
    }
}

fn either(a: Option<f64>, b: Option<f64>, choose: fn(f64, f64) -> f64) -> Option<f64> {
    match (a, b) {
        (Some(a), Some(b)) => Some(choose(a, b)),
        (a, b) => a.or(b),
    }
}
