//! Which input matters: first-order and total Sobol indices of a function, with confidence.
//!
//! Two independent samples A and B of the inputs; AB_i is A with input i taken from B. First order:
//! A. Saltelli, P. Annoni, I. Azzini, F. Campolongo, M. Ratto, S. Tarantola, "Variance based
//! sensitivity analysis of model output", Comput. Phys. Commun. 181 (2010) 259–270, table 2 (b);
//! total: M. J. W. Jansen, "Analysis of variance designs for model output", Comput. Phys. Commun.
//! 117 (1999) 35–43. Both assume independent inputs: inputs that share a batch factor must be
//! varied by their factors and own scores, not by their values.

use super::error::{StatisticsError, require_open};
use super::exact_sum::ExactSum;
use super::interval::Interval;
use super::normal;
use serde::{Deserialize, Serialize};

/// Indices of one input.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SobolIndices {
    /// Share of the variance that knowing this input alone would remove. Estimates may be a little
    /// below 0.
    pub first: f64,
    /// Its confidence interval.
    pub first_interval: Interval,
    /// Share of the variance that would be left if all other inputs were known.
    pub total: f64,
    /// Its confidence interval.
    pub total_interval: Interval,
}

/// Sums over the rows of a sample, from which the indices of all inputs follow; constant memory,
/// and merged from shards to the same bytes in any order.
///
/// Intervals are asymptotic: both indices are ratios of means, and a ratio's error follows from the
/// row's departures (the delta method). They hold for independent rows; for a Sobol sequence, whose
/// rows are better than independent, they are too wide rather than too narrow. Some hundred rows at
/// least.
///
/// ```
/// use relatch::internals::statistics::{sensitivity::SobolSums, sobol::SobolSequence};
/// let f = |x: &[f64]| 3.0 * x[0] + x[1]; // variance 9 : 1
/// let points = SobolSequence::scrambled(4, 2024)?; // two inputs, twice
/// let mut sums = SobolSums::new(2, f(&[0.5, 0.5]));
/// for i in 0..1024 {
///     let p = points.point(i);
///     let (a, b) = (&p[..2], &p[2..]);
///     sums.add(f(a), f(b), &[f(&[b[0], a[1]]), f(&[a[0], b[1]])])?;
/// }
/// let indices = sums.indices(0.95)?;
/// assert!((indices[0].first - 0.9).abs() < 0.01 && (indices[1].total - 0.1).abs() < 0.01);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SobolSums {
    rows: u64,
    /// Bits of the value that is taken off all outputs.
    centre_bits: u64,
    common: Common,
    inputs: Vec<OfInput>,
}

/// Sums of v = ((a − c)² + (b − c)²)/2 and m = (a + b)/2 − c, and of their products.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
struct Common {
    v: ExactSum,
    m: ExactSum,
    vv: ExactSum,
    vm: ExactSum,
    mm: ExactSum,
}

/// Sums for one input of the two numerators and their products.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
struct OfInput {
    first: Numerator,
    total: Numerator,
}

#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
struct Numerator {
    u: ExactSum,
    uu: ExactSum,
    uv: ExactSum,
    um: ExactSum,
}

impl SobolSums {
    /// Of no rows, for so many inputs. `centre` is any number near the mean of the output, say that
    /// of the nominal unit; the estimate is unbiased whatever it is, but the nearer the better. All
    /// shards must use the same.
    #[must_use]
    pub fn new(inputs: usize, centre: f64) -> Self {
        Self {
            rows: 0,
            centre_bits: centre.to_bits(),
            common: Common::default(),
            inputs: vec![OfInput::default(); inputs],
        }
    }

    /// Takes in a row: the outputs at A, at B, and at A with each input in turn taken from B.
    ///
    /// # Errors
    ///
    /// Not one output an input, or an output that is not finite or further than 1e24 from the
    /// centre (a failed row is to be left out, and counted by the caller); nothing is changed then.
    pub fn add(&mut self, a: f64, b: f64, ab: &[f64]) -> Result<(), StatisticsError> {
        if ab.len() != self.inputs.len() {
            return Err(StatisticsError::Lengths {
                what: "inputs and mixed outputs",
                first: self.inputs.len(),
                second: ab.len(),
            });
        }
        let centre = f64::from_bits(self.centre_bits);
        for &output in [a, b].iter().chain(ab) {
            let ok = (output - centre).abs() <= 1e24;
            let range = "finite and within 1e24 of the centre";
            super::error::require(ok, "an output", output, range)?;
        }
        let (a, b) = (a - centre, b - centre);
        let (v, m) = (0.5 * (a * a + b * b), 0.5 * (a + b));
        let common = &mut self.common;
        common.v.add(v)?;
        common.m.add(m)?;
        common.vv.add(v * v)?;
        common.vm.add(v * m)?;
        common.mm.add(m * m)?;
        for (input, &mixed) in self.inputs.iter_mut().zip(ab) {
            let mixed = mixed - centre;
            input.first.add(b * (mixed - a), v, m)?;
            input.total.add(0.5 * (a - mixed) * (a - mixed), v, m)?;
        }
        self.rows = self.rows.saturating_add(1);
        Ok(())
    }

    /// Takes in all rows of another; the order of merging does not matter.
    ///
    /// # Errors
    ///
    /// Another number of inputs or another centre; nothing is changed then.
    pub fn merge(&mut self, other: &Self) -> Result<(), StatisticsError> {
        if self.inputs.len() != other.inputs.len() {
            return Err(StatisticsError::Unlike("the numbers of inputs"));
        }
        if self.centre_bits != other.centre_bits {
            return Err(StatisticsError::Unlike("the centres"));
        }
        // Only a damaged file could come near the end of 64 bits.
        self.rows = self.rows.saturating_add(other.rows);
        let (mine, theirs) = (&mut self.common, &other.common);
        mine.v.merge(&theirs.v);
        mine.m.merge(&theirs.m);
        mine.vv.merge(&theirs.vv);
        mine.vm.merge(&theirs.vm);
        mine.mm.merge(&theirs.mm);
        for (mine, theirs) in self.inputs.iter_mut().zip(&other.inputs) {
            mine.first.merge(&theirs.first);
            mine.total.merge(&theirs.total);
        }
        Ok(())
    }

    /// Number of rows.
    #[must_use]
    pub fn rows(&self) -> u64 {
        self.rows
    }

    /// The indices of every input, each with an interval of the confidence asked for.
    ///
    /// # Errors
    ///
    /// Fewer than two rows, an output that does not vary, or a confidence not strictly between 0
    /// and 1.
    pub fn indices(&self, confidence: f64) -> Result<Vec<SobolIndices>, StatisticsError> {
        require_open("the confidence", confidence)?;
        if self.rows < 2 {
            return Err(StatisticsError::TooFew {
                what: "rows",
                needed: 2,
                given: self.rows as usize,
            });
        }
        let ratio = Ratio::of(&self.common, self.rows);
        if !(ratio.variance > 0.0) {
            return Err(StatisticsError::Degenerate("the output does not vary"));
        }
        let z = -normal::quantile(0.5 * (1.0 - confidence));
        let inputs = self.inputs.iter();
        Ok(inputs
            .map(|input| {
                let (first, first_interval) = ratio.estimate(&input.first, z);
                let (total, total_interval) = ratio.estimate(&input.total, z);
                SobolIndices {
                    first,
                    first_interval,
                    total,
                    total_interval,
                }
            })
            .collect())
    }
}

impl Numerator {
    fn add(&mut self, u: f64, v: f64, m: f64) -> Result<(), StatisticsError> {
        self.u.add(u)?;
        self.uu.add(u * u)?;
        self.uv.add(u * v)?;
        self.um.add(u * m)
    }

    fn merge(&mut self, other: &Self) {
        self.u.merge(&other.u);
        self.uu.merge(&other.uu);
        self.uv.merge(&other.uv);
        self.um.merge(&other.um);
    }
}

/// The denominator, V = mean of v less the square of the mean of m, and what its error is made of.
struct Ratio {
    rows: f64,
    variance: f64,
    v: f64,
    m: f64,
    vv: f64,
    vm: f64,
    mm: f64,
}

impl Ratio {
    fn of(common: &Common, rows: u64) -> Self {
        let rows = rows as f64;
        let mean = |sum: &ExactSum| sum.value() / rows;
        let (v, m) = (mean(&common.v), mean(&common.m));
        Self {
            rows,
            variance: v - m * m,
            v,
            m,
            vv: mean(&common.vv),
            vm: mean(&common.vm),
            mm: mean(&common.mm),
        }
    }

    /// S = ū/V and its interval. A row moves S by [(u − ū) − S ((v − v̄) − 2 m̄ (m − m̄))]/V.
    fn estimate(&self, numerator: &Numerator, z: f64) -> (f64, Interval) {
        let mean = |sum: &ExactSum| sum.value() / self.rows;
        let u = mean(&numerator.u);
        let index = u / self.variance;
        let uu = mean(&numerator.uu) - u * u;
        let uv = mean(&numerator.uv) - u * self.v;
        let um = mean(&numerator.um) - u * self.m;
        let vv = self.vv - self.v * self.v;
        let vm = self.vm - self.v * self.m;
        let mm = self.mm - self.m * self.m;
        let denominator = vv - 4.0 * self.m * vm + 4.0 * self.m * self.m * mm;
        let cross = uv - 2.0 * self.m * um;
        let square = uu - 2.0 * index * cross + index * index * denominator;
        let error = libm::sqrt(square.max(0.0) / self.rows) / self.variance;
        let interval = Interval {
            low: index - z * error,
            high: index + z * error,
        };
        (index, interval)
    }
}
