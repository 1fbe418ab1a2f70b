//! Quantiles of any number of values in little memory: counts on a fixed scale of relative width.
//!
//! The bins are cut from the binary form of a double: every power of two is split into 2^s equal
//! parts, so the relative width is 2^−s or less (the scale of HDR histograms; the idea of a fixed
//! relative error as in C. Masson, J. E. Rim, H. K. Lee, "DDSketch", PVLDB 12 (2019) 2195–2205).
//! Bins do not depend on the data and counts are whole numbers, so histograms merge to the same
//! bytes in any order, and a quantile is *enclosed*, not estimated.

use super::error::{StatisticsError, require};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// A histogram with bins of a relative width of 2^−s.
///
/// ```
/// use relatch::internals::statistics::histogram::Histogram;
/// let mut times_s = Histogram::new(10)?;
/// for i in 1..=1000 {
///     times_s.add(f64::from(i))?;
/// }
/// times_s.add(f64::INFINITY)?; // one that never comes
/// let median = times_s.value_of_rank(501)?;
/// assert!(median.low <= 501.0 && 501.0 <= median.high && median.high - median.low < 0.5);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(try_from = "Stored")]
pub struct Histogram {
    split_bits: u32,
    #[serde(skip)]
    total: u64,
    counts: BTreeMap<i64, u64>,
}

/// What is read from a file, before it is believed.
#[derive(Deserialize)]
struct Stored {
    split_bits: u32,
    counts: BTreeMap<i64, u64>,
}

impl TryFrom<Stored> for Histogram {
    type Error = StatisticsError;

    fn try_from(stored: Stored) -> Result<Self, StatisticsError> {
        let damaged = StatisticsError::Degenerate("a stored histogram is damaged");
        let mut histogram = Self::new(stored.split_bits)?;
        let mut total = 0_u64;
        for &count in stored.counts.values() {
            total = total.checked_add(count).ok_or(damaged.clone())?;
        }
        histogram.total = total;
        histogram.counts = stored.counts;
        Ok(histogram)
    }
}

/// Ends between which a value certainly lies.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Enclosure {
    /// Lower end; may be −∞.
    pub low: f64,
    /// Upper end; may be +∞.
    pub high: f64,
}

impl Histogram {
    /// An empty one, every power of two split into 2^`split_bits` bins: 10 gives 0.1 %.
    ///
    /// # Errors
    ///
    /// More than 20 bits, where memory is no longer little.
    pub fn new(split_bits: u32) -> Result<Self, StatisticsError> {
        let value = f64::from(split_bits);
        require(split_bits <= 20, "the bits of a bin", value, "at most 20")?;
        Ok(Self {
            split_bits,
            total: 0,
            counts: BTreeMap::new(),
        })
    }

    /// Counts a value; infinite ones too.
    ///
    /// # Errors
    ///
    /// NaN, or more than 2⁶⁴ − 1 values.
    pub fn add(&mut self, x: f64) -> Result<(), StatisticsError> {
        require(!x.is_nan(), "a value to count", x, "a number")?;
        let full = StatisticsError::TooMany {
            what: "values",
            limit: u64::MAX,
            given: self.total,
        };
        self.total = self.total.checked_add(1).ok_or(full)?;
        *self.counts.entry(self.bin(x)).or_insert(0) += 1;
        Ok(())
    }

    /// Takes in all counts of another; the order of merging does not matter.
    ///
    /// # Errors
    ///
    /// Bins of another width, or more than 2⁶⁴ − 1 values together; nothing is changed then.
    pub fn merge(&mut self, other: &Self) -> Result<(), StatisticsError> {
        if self.split_bits != other.split_bits {
            return Err(StatisticsError::Unlike("the bins of the histograms"));
        }
        let Some(total) = self.total.checked_add(other.total) else {
            return Err(StatisticsError::TooMany {
                what: "values",
                limit: u64::MAX,
                given: other.total,
            });
        };
        for (&bin, &count) in &other.counts {
            *self.counts.entry(bin).or_insert(0) += count;
        }
        self.total = total;
        Ok(())
    }

    /// Number of values.
    #[must_use]
    pub fn count(&self) -> u64 {
        self.total
    }

    /// Bins that hold something, in order: ends and count.
    pub fn bins(&self) -> impl Iterator<Item = (Enclosure, u64)> {
        self.counts
            .iter()
            .map(|(&bin, &count)| (self.ends(bin), count))
    }

    /// Encloses the value of a rank, 1 being the smallest.
    ///
    /// # Errors
    ///
    /// No such rank.
    pub fn value_of_rank(&self, rank: u64) -> Result<Enclosure, StatisticsError> {
        let mut passed = 0;
        for (&bin, &count) in &self.counts {
            passed += count;
            if rank >= 1 && passed >= rank {
                return Ok(self.ends(bin));
            }
        }
        let range = "from 1 to the number of values";
        Err(StatisticsError::OutOfRange {
            what: "the rank",
            value: rank as f64,
            range,
        })
    }

    /// Bits of the magnitude without the last ones; negative numbers counted from −1 down. Monotone
    /// in x.
    fn bin(&self, x: f64) -> i64 {
        let magnitude = (x.abs().to_bits() >> (52 - self.split_bits)) as i64;
        if x < 0.0 { -1 - magnitude } else { magnitude }
    }

    fn ends(&self, bin: i64) -> Enclosure {
        let edge = |n: i64| {
            // Past the largest double the bins end at infinity.
            let last = f64::INFINITY.to_bits() >> (52 - self.split_bits);
            f64::from_bits((n.max(0) as u64).min(last) << (52 - self.split_bits))
        };
        if bin >= 0 {
            Enclosure {
                low: edge(bin),
                high: edge(bin.saturating_add(1)),
            }
        } else {
            Enclosure {
                low: -edge(bin.saturating_neg()),
                high: -edge(-1 - bin),
            }
        }
    }
}
