//! Sobol's sequence: points that fill a cube more evenly than chance would.
//!
//! I. M. Sobol', USSR Comput. Math. Math. Phys. 7(4) (1967) 86–112; direction numbers of Joe & Kuo (2008); order
//! of the Gray code after I. A. Antonov & V. M. Saleev (1979). Scrambled by a random lower triangular matrix and a
//! digital shift a dimension: J. Matoušek, "On the L2-Discrepancy for Anchored Boxes", J. Complexity 14 (1998)
//! 527–556. Scrambling leaves the evenness as it is and makes every single point uniform, so that means are
//! unbiased and independent scrambles measure the error. Points are found by number, in any order, on any shard.

use super::error::StatisticsError;
use super::sobol_directions::DIRECTIONS;
use super::stream::{Purpose, Stream, open_unit};

/// Bits of a coordinate.
const BITS: usize = 52;

/// A Sobol sequence in up to 128 dimensions and 2⁵² points.
///
/// Take 2ᵏ points from number 0 on: only then the evenness is that of the theory. Do not skip point 0.
///
/// ```
/// use relatch::statistics::sobol::SobolSequence;
/// let plain = SobolSequence::plain(3)?;
/// let bits = |i, d| plain.coordinate(i, d) - 0.5_f64.powi(53); // see `coordinate`
/// assert_eq!([bits(2, 0), bits(2, 1), bits(2, 2)], [0.75, 0.25, 0.25]);
///
/// let scrambled = SobolSequence::scrambled(3, 2024)?;
/// let mean = (0..64).map(|i| scrambled.coordinate(i, 1)).sum::<f64>() / 64.0;
/// assert!((mean - 0.5).abs() < 1.0 / 64.0);
/// # Ok::<(), relatch::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct SobolSequence {
    /// One column a bit of the Gray code, per dimension; the first digit is bit 51.
    columns: Vec<[u64; BITS]>,
    shifts: Vec<u64>,
}

impl SobolSequence {
    /// The largest number of dimensions.
    pub const DIMENSIONS: usize = DIRECTIONS.len();

    /// The sequence as published, without chance: for checks; its first point is the corner.
    ///
    /// # Errors
    ///
    /// No dimension, or more than [`Self::DIMENSIONS`].
    pub fn plain(dimensions: usize) -> Result<Self, StatisticsError> {
        if dimensions == 0 {
            return Err(StatisticsError::TooFew {
                what: "dimensions",
                needed: 1,
                given: 0,
            });
        }
        if dimensions > Self::DIMENSIONS {
            return Err(StatisticsError::TooMany {
                what: "dimensions",
                limit: Self::DIMENSIONS as u64,
                given: dimensions as u64,
            });
        }
        Ok(Self {
            columns: (0..dimensions).map(direction_numbers).collect(),
            shifts: vec![0; dimensions],
        })
    }

    /// The sequence scrambled by a seed: the same seed and dimension give the same numbers, whatever the number
    /// of dimensions.
    ///
    /// # Errors
    ///
    /// As [`Self::plain`].
    pub fn scrambled(dimensions: usize, seed: u64) -> Result<Self, StatisticsError> {
        let mut sequence = Self::plain(dimensions)?;
        for (dimension, columns) in sequence.columns.iter_mut().enumerate() {
            let stream = Stream::new(seed, Purpose::SOBOL_SCRAMBLE, dimension as u64);
            *columns = scramble(columns, &stream);
            sequence.shifts[dimension] = stream.bits(BITS as u32) >> (64 - BITS);
        }
        Ok(sequence)
    }

    /// Number of dimensions.
    #[must_use]
    pub fn dimensions(&self) -> usize {
        self.columns.len()
    }

    /// Coordinate of a point, strictly between 0 and 1: half of the last of 52 binary digits is added. Points are
    /// counted modulo 2⁵². A dimension that does not exist gives NaN.
    #[must_use]
    pub fn coordinate(&self, point: u64, dimension: usize) -> f64 {
        match (self.columns.get(dimension), self.shifts.get(dimension)) {
            (Some(columns), Some(shift)) => open_unit(digits(columns, point) ^ shift),
            _ => f64::NAN,
        }
    }

    /// All coordinates of a point.
    #[must_use]
    pub fn point(&self, point: u64) -> Vec<f64> {
        (0..self.dimensions())
            .map(|dimension| self.coordinate(point, dimension))
            .collect()
    }
}

/// Sum, digit by digit, of the columns that the Gray code of the point's number selects.
fn digits(columns: &[u64; BITS], point: u64) -> u64 {
    let mut gray = (point ^ (point >> 1)) & ((1 << BITS) - 1);
    let mut sum = 0;
    while gray != 0 {
        sum ^= columns[gray.trailing_zeros() as usize];
        gray &= gray - 1;
    }
    sum
}

/// Direction numbers by the recurrence of the dimension's primitive polynomial.
fn direction_numbers(dimension: usize) -> [u64; BITS] {
    let (polynomial, initial) = DIRECTIONS[dimension];
    let degree = polynomial.ilog2() as usize;
    let mut v = [0_u64; BITS];
    for k in 0..BITS {
        v[k] = if dimension == 0 {
            1 << (BITS - 1 - k)
        } else if k < degree {
            u64::from(initial[k]) << (BITS - 1 - k)
        } else {
            let mut next = v[k - degree] ^ (v[k - degree] >> degree);
            for j in 1..degree {
                if polynomial >> (degree - j) & 1 == 1 {
                    next ^= v[k - j];
                }
            }
            next
        };
    }
    v
}

/// Every digit becomes itself plus a random sum of the digits before it.
fn scramble(columns: &[u64; BITS], stream: &Stream) -> [u64; BITS] {
    let rows: Vec<u64> = (0..BITS)
        .map(|row| {
            let own = 1 << (BITS - 1 - row);
            let before = ((1 << BITS) - 1) & !(2 * own - 1);
            own | (stream.bits(row as u32) & before)
        })
        .collect();
    columns.map(|column| {
        rows.iter().enumerate().fold(0, |sum, (row, mask)| {
            let parity = u64::from((column & mask).count_ones() & 1);
            sum | parity << (BITS - 1 - row)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Every dimension puts exactly one of 2ᵏ points in each of 2ᵏ equal intervals, scrambled or not.
    #[test]
    fn every_dimension_is_stratified() {
        for sequence in [
            SobolSequence::plain(128).unwrap(),
            SobolSequence::scrambled(128, 5).unwrap(),
        ] {
            for dimension in 0..128 {
                let mut seen = [false; 256];
                for point in 0..256 {
                    let cell = (sequence.coordinate(point, dimension) * 256.0) as usize;
                    assert!(!seen[cell], "{dimension}");
                    seen[cell] = true;
                }
            }
        }
    }

    /// The first two dimensions are a (0, 2)-sequence: one of 256 points in each of 16 × 16, 4 × 64, … boxes; the
    /// scrambled ones too.
    #[test]
    fn two_dimensions_are_stratified_in_every_shape() {
        let sequence = SobolSequence::scrambled(2, 11).unwrap();
        for split in 0..=8 {
            let (wide, high) = (1 << split, 256 >> split);
            let mut seen = vec![false; 256];
            for point in 0..256 {
                let p = sequence.point(point);
                let cell = (p[0] * f64::from(wide)) as usize * high as usize
                    + (p[1] * f64::from(high)) as usize;
                assert!(!seen[cell]);
                seen[cell] = true;
            }
        }
    }

    /// A single point of a scrambled sequence is uniform over the seeds, and two of its coordinates independent.
    #[test]
    fn one_point_is_uniform_over_seeds() {
        let (mut cells, seeds) = ([0_u32; 16], 4800);
        for seed in 0..seeds {
            let p = SobolSequence::scrambled(2, seed).unwrap().point(3);
            cells[(p[0] * 4.0) as usize * 4 + (p[1] * 4.0) as usize] += 1;
        }
        let expected = seeds as f64 / 16.0;
        let chi2: f64 = cells
            .iter()
            .map(|&c| (f64::from(c) - expected).powi(2) / expected)
            .sum();
        // Fifteen degrees of freedom: 37.7 is passed one time in a thousand.
        assert!(chi2 < 37.7, "{chi2}");
    }

    /// A mere shift would keep the sum of two points' digits; the matrix changes all but the first digit of it.
    #[test]
    fn differences_are_scrambled_too() {
        let mut halves = 0;
        for seed in 0..400 {
            let s = SobolSequence::scrambled(1, seed).unwrap();
            // Points 0 and 1 differ in the first digit; whether in the second is left to chance.
            let quarters = [0, 1].map(|i| (s.coordinate(i, 0) * 4.0) as u32);
            assert_ne!(quarters[0] / 2, quarters[1] / 2);
            halves += i32::from(quarters[0] % 2 == quarters[1] % 2);
        }
        // Four standard deviations of 400 throws of a coin.
        assert!((halves - 200).abs() <= 40, "{halves}");
    }

    /// The error of a smooth mean over four scrambles falls much faster than that of chance.
    #[test]
    fn means_are_far_better_than_by_chance() {
        let n = 1024;
        for seed in 0..4 {
            let s = SobolSequence::scrambled(5, seed).unwrap();
            let mean: f64 = (0..n)
                .map(|i| {
                    s.point(i)
                        .iter()
                        .map(|x| 1.0 + 0.5 * (x - 0.5))
                        .product::<f64>()
                })
                .sum::<f64>()
                / n as f64;
            // By chance one standard deviation would be 0.33/√1024 = 1e-2.
            assert!((mean - 1.0).abs() < 1e-3, "{mean}");
        }
    }

    #[test]
    fn a_dimension_does_not_depend_on_how_many_there_are() {
        let (few, many) = (
            SobolSequence::scrambled(3, 8).unwrap(),
            SobolSequence::scrambled(20, 8).unwrap(),
        );
        assert_eq!(few.coordinate(77, 2), many.coordinate(77, 2));
    }

    #[test]
    fn too_many_dimensions_are_refused() {
        assert!(SobolSequence::plain(0).is_err());
        assert!(SobolSequence::scrambled(129, 0).is_err());
        assert!(SobolSequence::plain(2).unwrap().coordinate(0, 2).is_nan());
    }
}
