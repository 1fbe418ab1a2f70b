//! Sobol's sequence: points that fill a cube more evenly than chance would.
//!
//! I. M. Sobol', USSR Comput. Math. Math. Phys. 7(4) (1967) 86–112; direction numbers of Joe & Kuo
//! (2008); order of the Gray code after I. A. Antonov & V. M. Saleev (1979). Scrambled by a random
//! lower triangular matrix and a digital shift a dimension: J. Matoušek, "On the L2-Discrepancy for
//! Anchored Boxes", J. Complexity 14 (1998) 527–556. Scrambling leaves the evenness as it is and
//! makes every single point uniform, so that means are unbiased and independent scrambles measure
//! the error. Points are found by number, in any order, on any shard.

use super::error::StatisticsError;
use super::stream::{Purpose, Stream, open_unit};

/// Bits of a coordinate.
const BITS: usize = 52;
/// A row a dimension: its primitive polynomial and initial direction numbers, as the head of the
/// file says.
const DIRECTIONS: &str = include_str!("sobol_directions.txt");

/// A Sobol sequence in up to 128 dimensions and 2⁵² points.
///
/// Take 2ᵏ points from number 0 on: only then the evenness is that of the theory. Do not skip point
/// 0.
///
/// ```
/// use relatch::internals::statistics::sobol::SobolSequence;
/// let plain = SobolSequence::plain(3)?;
/// let bits = |i, d| plain.coordinate(i, d) - 0.5_f64.powi(53); // see `coordinate`
/// assert_eq!([bits(2, 0), bits(2, 1), bits(2, 2)], [0.75, 0.25, 0.25]);
///
/// let scrambled = SobolSequence::scrambled(3, 2024)?;
/// let mean = (0..64).map(|i| scrambled.coordinate(i, 1)).sum::<f64>() / 64.0;
/// assert!((mean - 0.5).abs() < 1.0 / 64.0);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct SobolSequence {
    /// One column a bit of the Gray code, per dimension; the first digit is bit 51.
    columns: Vec<[u64; BITS]>,
    shifts: Vec<u64>,
}

impl SobolSequence {
    /// The largest number of dimensions.
    pub const DIMENSIONS: usize = 128;

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
            columns: DIRECTIONS
                .lines()
                .filter(|line| !line.starts_with('#'))
                .take(dimensions)
                .map(direction_numbers)
                .collect(),
            shifts: vec![0; dimensions],
        })
    }

    /// The sequence scrambled by a seed: the same seed and dimension give the same numbers,
    /// whatever the number of dimensions.
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

    /// Coordinate of a point, strictly between 0 and 1: half of the last of 52 binary digits is
    /// added. Points are counted modulo 2⁵². A dimension that does not exist gives NaN.
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
fn direction_numbers(row: &str) -> [u64; BITS] {
    let numbers: Vec<u64> = row.split(' ').filter_map(|n| n.parse().ok()).collect();
    let (polynomial, initial) = (numbers[0], &numbers[1..]);
    let degree = polynomial.ilog2() as usize;
    let mut v = [0_u64; BITS];
    for k in 0..BITS {
        v[k] = if degree == 0 {
            1 << (BITS - 1 - k)
        } else if k < degree {
            initial[k] << (BITS - 1 - k)
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
