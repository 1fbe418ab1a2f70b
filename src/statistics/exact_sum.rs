//! Sums of doubles without any rounding, so that order and grouping cannot matter.
//!
//! A superaccumulator: the sum is kept as one long fixed-point number in which every double has its
//! place. R. M. Neal, "Fast Exact Summation Using Small and Large Superaccumulators",
//! arXiv:1505.05571 (2015), after U. Kulisch. Because the sum is exact, shards merge to the same
//! bytes as an unsharded run, in whatever order.

use super::error::{StatisticsError, require};
use super::limbs::{self, LIMBS, LOWEST_EXPONENT};
use serde::{Deserialize, Serialize};

/// Additions that cannot overflow a digit: each adds less than 2³² to one that has room for 2⁶³.
const ADDITIONS_BETWEEN_CARRIES: u32 = 1 << 30;

/// An exact sum of doubles, of their squares, or of both.
///
/// ```
/// use relatch::internals::statistics::exact_sum::ExactSum;
/// let mut sum = ExactSum::new();
/// for x in [1e16, 1.0, -1e16] {
///     sum.add(x)?;
/// }
/// assert_eq!(sum.value(), 1.0); // in doubles 1e16 + 1 − 1e16 is 0
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, Serialize, Deserialize)]
#[serde(into = "Stored", try_from = "Stored")]
pub struct ExactSum {
    /// Digits to the base 2³², the lowest first; signed, and carried only now and then.
    digits: Vec<i64>,
    since_carry: u32,
}

/// Largest magnitude that is taken, so that no result derived from the sums overflows.
pub const LARGEST: f64 = 1e100;

impl Default for ExactSum {
    fn default() -> Self {
        Self::new()
    }
}

/// Equal if the sums are, however they came about.
impl PartialEq for ExactSum {
    fn eq(&self, other: &Self) -> bool {
        self.magnitude() == other.magnitude()
    }
}

impl ExactSum {
    /// Zero.
    #[must_use]
    pub fn new() -> Self {
        Self {
            digits: vec![0; LIMBS],
            since_carry: 0,
        }
    }

    /// Adds a number.
    ///
    /// # Errors
    ///
    /// NaN, or a magnitude above 1e100; the sum is then unchanged.
    pub fn add(&mut self, x: f64) -> Result<(), StatisticsError> {
        let (negative, mantissa, exponent) = parts(x)?;
        self.add_shifted(negative, u128::from(mantissa), exponent);
        Ok(())
    }

    /// Adds the square of a number, exactly.
    ///
    /// # Errors
    ///
    /// As [`Self::add`].
    pub fn add_square(&mut self, x: f64) -> Result<(), StatisticsError> {
        let (_, mantissa, exponent) = parts(x)?;
        self.add_shifted(false, u128::from(mantissa).pow(2), 2 * exponent);
        Ok(())
    }

    /// Adds all that another sum has; the order of merging does not matter.
    pub fn merge(&mut self, other: &Self) {
        self.carry();
        let mut other = other.clone();
        other.carry();
        for (mine, theirs) in self.digits.iter_mut().zip(&other.digits) {
            *mine += theirs;
        }
        self.since_carry = 1;
        self.carry();
    }

    /// The sum, rounded once to the nearest double (ties to even).
    #[must_use]
    pub fn value(&self) -> f64 {
        let (negative, magnitude) = self.magnitude();
        let value = limbs::to_f64(&magnitude, LOWEST_EXPONENT);
        if negative { -value } else { value }
    }

    /// n Σx² − (Σx)², exact but for one rounding: the sums of numbers and of their squares must
    /// belong to the same n numbers.
    pub fn spread(squares: &Self, numbers: &Self, n: u64) -> f64 {
        let (_, sum) = numbers.magnitude();
        // Below half of the lowest place a plain sum has nothing: what is left out is zero.
        let sum = &sum[LIMBS_BELOW_A_DOUBLE..];
        let scaled = limbs::times_u64(&squares.magnitude().1, n);
        // By Cauchy and Schwarz never negative.
        let spread = limbs::minus(&scaled, &limbs::times(sum, sum));
        limbs::to_f64(&spread, LOWEST_EXPONENT)
    }

    fn add_shifted(&mut self, negative: bool, mantissa: u128, exponent: i32) {
        let place = (exponent - LOWEST_EXPONENT) as usize;
        let (first, shift) = (place / 32, place % 32);
        // At most 106 bits and a shift of 31: five digits.
        let low = (mantissa & u128::from(u64::MAX)) << shift;
        let high = ((mantissa >> 64) << shift) + (low >> 64);
        let words = [
            low as u32,
            (low >> 32) as u32,
            high as u32,
            (high >> 32) as u32,
            (high >> 64) as u32,
        ];
        for (digit, word) in self.digits[first..].iter_mut().zip(words) {
            let word = i64::from(word);
            *digit += if negative { -word } else { word };
        }
        self.since_carry += 1;
        if self.since_carry >= ADDITIONS_BETWEEN_CARRIES {
            self.carry();
        }
    }

    /// Brings every digit but the highest to 0 … 2³² − 1.
    fn carry(&mut self) {
        let mut carry = 0;
        let last = self.digits.len() - 1;
        for digit in &mut self.digits[..last] {
            let total = *digit + carry;
            carry = total >> 32;
            *digit = total & 0xffff_ffff;
        }
        self.digits[last] += carry;
        self.since_carry = 0;
    }

    /// Sign and magnitude, unique for the sum's value; zero is not negative.
    fn magnitude(&self) -> (bool, Vec<u32>) {
        let mut carried = self.clone();
        carried.carry();
        let negative = carried.digits[LIMBS - 1] < 0;
        if negative {
            for digit in &mut carried.digits {
                *digit = -*digit;
            }
            carried.carry();
        }
        let words = carried.digits.iter().map(|&d| d as u32).collect();
        (negative, words)
    }
}

/// Digits below the lowest place of a double that is not squared.
const LIMBS_BELOW_A_DOUBLE: usize = (-LOWEST_EXPONENT / 64) as usize;

/// Sign, mantissa and exponent: |x| = mantissa · 2^exponent.
fn parts(x: f64) -> Result<(bool, u64, i32), StatisticsError> {
    require(x.abs() <= LARGEST, "a number to sum", x, "at most 1e100")?;
    let bits = x.to_bits();
    let field = (bits >> 52 & 0x7ff) as i32;
    let fraction = bits & ((1 << 52) - 1);
    Ok(if field == 0 {
        (x < 0.0, fraction, -1074)
    } else {
        (x < 0.0, fraction | 1 << 52, field - 1075)
    })
}

/// What is written to a file: the digits that are not zero, with their places.
#[derive(Serialize, Deserialize)]
struct Stored {
    negative: bool,
    digits: Vec<(u16, u32)>,
}

impl From<ExactSum> for Stored {
    fn from(sum: ExactSum) -> Self {
        let (negative, words) = sum.magnitude();
        let placed = words.into_iter().enumerate().filter(|(_, word)| *word != 0);
        Self {
            negative,
            digits: placed.map(|(place, word)| (place as u16, word)).collect(),
        }
    }
}

impl TryFrom<Stored> for ExactSum {
    type Error = StatisticsError;

    fn try_from(stored: Stored) -> Result<Self, StatisticsError> {
        let mut sum = Self::new();
        for (place, word) in stored.digits {
            match sum.digits.get_mut(usize::from(place)) {
                Some(digit) if *digit == 0 => *digit = i64::from(word),
                _ => return Err(StatisticsError::Degenerate("a stored sum is damaged")),
            }
        }
        if stored.negative {
            for digit in &mut sum.digits {
                *digit = -*digit;
            }
        }
        sum.carry();
        Ok(sum)
    }
}
