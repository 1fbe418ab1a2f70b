//! What a population holds, part by part.

use super::remark::{DemandFrom, InputShape, Quantity};
use crate::answer::LimitDemand;
use crate::quantity::Dimension;
use crate::statistics::rates::{Quantile, Rate};
use crate::study::population::SurrogateRecord;
use serde::{Deserialize, Serialize};

/// One input.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[non_exhaustive]
pub struct InputRecord {
    /// Path in the file.
    pub path: String,
    /// Middle, SI.
    pub nominal: f64,
    /// Relative standard deviation; `None` where the middle is zero or a temperature.
    pub relative: Option<f64>,
    /// Standard deviation, SI.
    pub deviation: f64,
    /// What it measures.
    pub dimension: Dimension,
    /// Shape of the distribution.
    pub shape: InputShape,
    /// Batch that shares it.
    pub batch: Option<String>,
    /// Share of the variance between batches.
    pub shared: Option<f64>,
}

/// The load and its demand.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[non_exhaustive]
pub struct LoadRecord {
    /// Current, A (root mean square of a programme).
    pub current_a: f64,
    /// Multiple of the rating.
    pub multiple: f64,
    /// Whether a unit that never trips fails to protect.
    pub must_trip: bool,
    /// Whether any trip is a nuisance.
    pub must_hold: bool,
    /// Later than this, or never, fails to protect, s.
    pub trips_within_s: Option<f64>,
    /// Sooner than this is a nuisance, s; `None` also where any trip is.
    pub holds_for_s: Option<f64>,
    /// Where the two come from.
    pub demand: DemandFrom,
    /// Units that fail to protect; `None`: there is nothing to protect from.
    pub fails_to_protect: Option<Rate>,
    /// Units that trip without need; `None`: nothing was said that it must hold.
    pub nuisance: Option<Rate>,
    /// Units that hold this load for ever.
    pub never_trips: Option<Rate>,
}

/// How a quantity is spread.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[non_exhaustive]
pub struct SpreadRecord {
    /// Nominal unit; `None` where it never comes to it, or was not asked.
    pub nominal: Option<f64>,
    /// Whether the nominal unit never comes to it.
    pub nominal_never: bool,
    /// Units with a finite value.
    pub finite: u64,
    /// Units that never come to it.
    pub never: u64,
    /// Mean of the finite values.
    pub mean: Option<f64>,
    /// Standard deviation of the finite values.
    pub deviation: Option<f64>,
    /// Least finite value.
    pub least: Option<f64>,
    /// Greatest finite value.
    pub greatest: Option<f64>,
    /// 5, 50 and 95 %, infinite values included.
    pub quantiles: Vec<Quantile>,
}

/// One current of the bands.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[non_exhaustive]
pub struct BandRecord {
    /// A.
    pub current_a: f64,
    /// Multiple of the rating.
    pub multiple: f64,
    /// Trip time at 5, 50 and 95 %, s.
    pub quantiles: Vec<Quantile>,
    /// Nominal unit, s.
    pub nominal_s: Option<f64>,
    /// Units that hold it for ever.
    pub never: u64,
}

/// Rates on both sides, never added up.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct SidesRecord {
    /// Too late, or never.
    pub late: Rate,
    /// Too early.
    pub early: Rate,
}

/// One row of published limits.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[non_exhaustive]
pub struct LimitRecord {
    /// What it asks.
    #[serde(flatten)]
    pub demand: LimitDemand,
    /// Air of the test, degC.
    pub ambient_c: f64,
    /// Whether the nominal unit misses it; then it counts for none of the limits together.
    pub missed_by_nominal: bool,
    /// Rates.
    pub sides: SidesRecord,
}

/// Indices of one input.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[non_exhaustive]
pub struct IndexRecord {
    /// Path.
    pub path: String,
    /// Share of the variance that goes if this input were known.
    pub first: f64,
    /// Its interval.
    pub first_interval: (f64, f64),
    /// Share that stays if all others were known.
    pub total: f64,
    /// Its interval.
    pub total_interval: (f64, f64),
}

/// Which input matters for one quantity, the largest total first.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[non_exhaustive]
pub struct SensitivityRecord {
    /// Of which quantity.
    pub of: Quantity,
    /// Rows that counted.
    pub rows: u64,
    /// Rows without a finite value.
    pub left_out: u64,
    /// Indices.
    pub indices: Vec<IndexRecord>,
}

/// One input at the ends of its range, the widest first.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[non_exhaustive]
pub struct TornadoRecord {
    /// Path.
    pub path: String,
    /// Its ends, SI.
    pub ends: [f64; 2],
    /// What it measures.
    pub dimension: Dimension,
    /// Trip point at both ends, A.
    pub trip_points_a: [Option<f64>; 2],
    /// Trip time at both ends, s.
    pub times_s: [Option<f64>; 2],
}

/// How exact the units are.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[non_exhaustive]
pub struct AccuracyRecord {
    /// Whether units were computed side by side.
    pub side_by_side: bool,
    /// Relative accuracy of their march.
    pub relative: f64,
    /// Largest relative correction by which they were trimmed to the nominal unit alone.
    pub largest_trim: f64,
    /// The polynomials in the engine's place (absent where they were not asked for).
    #[serde(skip_serializing_if = "Option::is_none")]
    pub surrogate: Option<SurrogateRecord>,
}
