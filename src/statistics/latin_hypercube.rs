//! Latin hypercube: each input takes every one of n equally likely slices exactly once.
//!
//! M. D. McKay, R. J. Beckman, W. J. Conover, "A Comparison of Three Methods for Selecting Values
//! of Input Variables in the Analysis of Output from a Computer Code", Technometrics 21 (1979)
//! 239–245. The orders come from [`Permutation`], so a sample point is found by its number in any
//! shard, in constant memory.

use super::error::StatisticsError;
use super::permutation::Permutation;
use super::stream::{Purpose, Stream};

/// A Latin hypercube of a fixed number of points and dimensions.
///
/// The number of points is part of the design: a part of them, or more of them, is none.
///
/// ```
/// use relatch::internals::statistics::latin_hypercube::LatinHypercube;
/// let design = LatinHypercube::new(10, 3, 2024)?;
/// let mut slices: Vec<u64> = (0..10).map(|i| (design.coordinate(i, 0) * 10.0) as u64).collect();
/// slices.sort_unstable();
/// assert_eq!(slices, (0..10).collect::<Vec<_>>());
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LatinHypercube {
    points: u64,
    seed: u64,
    orders: Vec<Permutation>,
}

impl LatinHypercube {
    /// A design of so many points in so many dimensions. A dimension's numbers do not depend on how
    /// many there are.
    ///
    /// # Errors
    ///
    /// No point, or more than 2⁵².
    pub fn new(points: u64, dimensions: u32, seed: u64) -> Result<Self, StatisticsError> {
        let orders = (0..dimensions)
            .map(|dimension| Permutation::new(points, seed, Purpose::LATIN_ORDER, dimension))
            .collect::<Result<_, _>>()?;
        if points == 0 {
            return Err(StatisticsError::TooFew {
                what: "points",
                needed: 1,
                given: 0,
            });
        }
        Ok(Self {
            points,
            seed,
            orders,
        })
    }

    /// Number of points.
    #[must_use]
    pub fn points(&self) -> u64 {
        self.points
    }

    /// Coordinate of a point, strictly between 0 and 1. Points are counted modulo their number; a
    /// dimension that does not exist gives NaN.
    #[must_use]
    pub fn coordinate(&self, point: u64, dimension: u32) -> f64 {
        let Some(order) = self.orders.get(dimension as usize) else {
            return f64::NAN;
        };
        let point = point % self.points;
        let slice = order.of(point);
        let place = Stream::new(self.seed, Purpose::LATIN_PLACE, point).uniform(dimension);
        let x = (slice as f64 + place) / self.points as f64;
        // The last slice of very many may round to 1.
        x.min(1.0 - f64::EPSILON / 2.0)
    }
}
