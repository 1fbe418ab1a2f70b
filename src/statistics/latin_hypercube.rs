//! Latin hypercube: each input takes every one of n equally likely slices exactly once.
//!
//! M. D. McKay, R. J. Beckman, W. J. Conover, "A Comparison of Three Methods for Selecting Values of Input
//! Variables in the Analysis of Output from a Computer Code", Technometrics 21 (1979) 239–245. The orders come
//! from [`Permutation`], so a sample point is found by its number in any shard, in constant memory.

use super::error::StatisticsError;
use super::permutation::Permutation;
use super::stream::{Purpose, Stream};

/// A Latin hypercube of a fixed number of points and dimensions.
///
/// The number of points is part of the design: a part of them, or more of them, is none.
///
/// ```
/// use relatch::statistics::latin_hypercube::LatinHypercube;
/// let design = LatinHypercube::new(10, 3, 2024)?;
/// let mut slices: Vec<u64> = (0..10).map(|i| (design.coordinate(i, 0) * 10.0) as u64).collect();
/// slices.sort_unstable();
/// assert_eq!(slices, (0..10).collect::<Vec<_>>());
/// # Ok::<(), relatch::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LatinHypercube {
    points: u64,
    seed: u64,
    orders: Vec<Permutation>,
}

impl LatinHypercube {
    /// A design of so many points in so many dimensions. A dimension's numbers do not depend on how many there
    /// are.
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

    /// Coordinate of a point, strictly between 0 and 1. Points are counted modulo their number; a dimension that
    /// does not exist gives NaN.
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_point_a_slice_in_every_dimension() {
        for n in [1, 2, 7, 100, 1000] {
            let design = LatinHypercube::new(n, 51, 4).unwrap();
            for dimension in [0, 1, 50] {
                let mut seen = vec![false; n as usize];
                for point in 0..n {
                    let x = design.coordinate(point, dimension);
                    assert!(x > 0.0 && x < 1.0);
                    let slice = (x * n as f64) as usize;
                    assert!(!seen[slice], "{n} {dimension}");
                    seen[slice] = true;
                }
            }
        }
    }

    /// Two dimensions are in independent orders: the correlation of 1000 slices stays within four deviations.
    #[test]
    fn dimensions_are_uncorrelated() {
        let n = 1000;
        let design = LatinHypercube::new(n, 5, 31).unwrap();
        for dimension in 1..5 {
            let sum: f64 = (0..n)
                .map(|i| (design.coordinate(i, 0) - 0.5) * (design.coordinate(i, dimension) - 0.5))
                .sum();
            let correlation = sum / n as f64 * 12.0;
            assert!(correlation.abs() < 4.0 / (n as f64).sqrt(), "{correlation}");
        }
    }

    /// So are the places within the slices.
    #[test]
    fn places_are_uncorrelated() {
        let n = 1000;
        let design = LatinHypercube::new(n, 2, 31).unwrap();
        let place = |i, d| (design.coordinate(i, d) * n as f64).fract() - 0.5;
        let sum: f64 = (0..n).map(|i| place(i, 0) * place(i, 1)).sum();
        let square: f64 = (0..n).map(|i| place(i, 0).powi(2)).sum();
        let four = 4.0 / (n as f64).sqrt();
        assert!((sum / n as f64 * 12.0).abs() < four);
        assert!((square / n as f64 * 12.0 - 1.0).abs() < four);
    }

    /// The mean of an additive function has a variance of order n⁻³ instead of n⁻¹.
    #[test]
    fn additive_functions_are_averaged_better_than_by_chance() {
        let n = 100;
        for seed in 0..5 {
            let design = LatinHypercube::new(n, 2, seed).unwrap();
            let mean = (0..n)
                .map(|i| design.coordinate(i, 0) + design.coordinate(i, 1))
                .sum::<f64>()
                / n as f64;
            // By chance 0.41/√100 = 0.041; here 0.41/100^1.5 = 4.1e-4.
            assert!((mean - 1.0).abs() < 4.0 * 4.1e-4);
        }
    }

    #[test]
    fn the_last_slice_of_very_many_is_open() {
        let design = LatinHypercube::new(1 << 52, 1, 1).unwrap();
        for i in 0..1000 {
            let x = design.coordinate(i, 0);
            assert!(x > 0.0 && x < 1.0);
        }
        assert!(design.coordinate(0, 1).is_nan());
        assert!(LatinHypercube::new(0, 1, 1).is_err());
        assert!(LatinHypercube::new(0, 0, 1).is_err());
    }
}
