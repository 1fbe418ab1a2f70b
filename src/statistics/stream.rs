//! One independent random stream per unit number and per purpose.
//!
//! A draw is a pure function of (seed, purpose, unit, draw number): unit 731 204 has the same
//! numbers whether it is computed alone, in a shard or after all others, on one thread or sixteen.
//! The generator is
//! [`philox4x32_10`]: the seed is its key, the rest its counter.

use super::normal;
use super::philox::philox4x32_10;

/// What a stream is for. Streams of different purposes have nothing in common, so that one more use
/// of chance never changes the numbers of another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Purpose(pub u32);

impl Purpose {
    /// Inputs of one unit, one draw an input.
    pub const UNIT_INPUTS: Self = Self(1);
    /// What the units of one batch share; the unit number is that of the batch.
    pub const BATCH_FACTORS: Self = Self(2);
    /// Scrambling of a Sobol sequence; the unit number is the dimension.
    pub const SOBOL_SCRAMBLE: Self = Self(3);
    /// Order of the strata of a Latin hypercube.
    pub const LATIN_ORDER: Self = Self(4);
    /// Place within a stratum of a Latin hypercube.
    pub const LATIN_PLACE: Self = Self(5);
    /// Resampling; the unit number is that of the resample.
    pub const BOOTSTRAP: Self = Self(6);
    /// Draws of rare events.
    pub const RARE_EVENTS: Self = Self(7);
    /// Numbers of a pupil's sheet; the unit number is that of the candidate.
    pub const LESSONS: Self = Self(8);
    /// Units that polynomials are fitted to.
    pub const SURROGATE_FIT: Self = Self(9);
    /// Units on which their bound is measured.
    pub const SURROGATE_CHECK: Self = Self(10);

    /// A purpose that is not in the list above, by a number of one's own.
    #[must_use]
    pub const fn other(number: u16) -> Self {
        Self(0x0001_0000 | number as u32)
    }
}

/// The draws of one unit for one purpose.
///
/// ```
/// use relatch::internals::statistics::stream::{Purpose, Stream};
/// let unit = Stream::new(2024, Purpose::UNIT_INPUTS, 731_204);
/// let thickness = unit.uniform(0);
/// let width = unit.uniform(1);
/// assert!(thickness != width);
/// // The second input again, without asking for the first.
/// assert_eq!(Stream::new(2024, Purpose::UNIT_INPUTS, 731_204).uniform(1), width);
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Stream {
    seed: u64,
    purpose: Purpose,
    unit: u64,
}

impl Stream {
    /// The stream of a unit. Any numbers are allowed.
    #[must_use]
    pub const fn new(seed: u64, purpose: Purpose, unit: u64) -> Self {
        Self {
            seed,
            purpose,
            unit,
        }
    }

    /// 64 random bits: draw number `draw`, 0 to 2³² − 1.
    #[must_use]
    pub fn bits(&self, draw: u32) -> u64 {
        let counter = [
            self.unit as u32,
            (self.unit >> 32) as u32,
            draw,
            self.purpose.0,
        ];
        let block = philox4x32_10(counter, [self.seed as u32, (self.seed >> 32) as u32]);
        u64::from(block[1]) << 32 | u64::from(block[0])
    }

    /// Uniform on the open interval (0, 1): the 2⁵² midpoints (n + ½)/2⁵², each exact. Never 0,
    /// never 1.
    #[must_use]
    pub fn uniform(&self, draw: u32) -> f64 {
        open_unit(self.bits(draw) >> 12)
    }

    /// Standard normal, by the quantile of [`Stream::uniform`].
    #[must_use]
    pub fn normal(&self, draw: u32) -> f64 {
        normal::quantile(self.uniform(draw))
    }

    /// A whole number from 0 to `n` − 1, n at least 1 (0 gives 0): the high half of 64 × 64 bits. A
    /// number is favoured by at most n/2⁶⁴, beyond what any resample could see.
    #[must_use]
    pub fn below(&self, draw: u32, n: u64) -> u64 {
        ((u128::from(self.bits(draw)) * u128::from(n)) >> 64) as u64
    }
}

/// (n + ½)/2⁵² for n below 2⁵²: the open interval, symmetric about ½, every value exact.
pub fn open_unit(n: u64) -> f64 {
    debug_assert!(n < 1 << 52);
    (n as f64 + 0.5) * (1.0 / (1_u64 << 52) as f64)
}
