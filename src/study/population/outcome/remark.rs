//! What is said of a population beside its numbers: data, put in words by who shows them.

use serde::{Deserialize, Serialize};

/// A quantity that every unit has.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Quantity {
    /// The largest current that it holds for ever.
    TripPoint,
    /// Under the load.
    TripTime,
    /// After that trip.
    RelatchWait,
}

impl Quantity {
    /// In the order of the tally.
    pub const ALL: [Self; 3] = [Self::TripPoint, Self::TripTime, Self::RelatchWait];
}

/// How an input is distributed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum InputShape {
    /// Normal.
    Normal,
    /// Normal, and what lies in the tails is sorted out.
    Sorted,
    /// All values of a range alike.
    Uniform,
    /// Its logarithm is normal.
    Lognormal,
}

/// Where the demand on a unit comes from.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "from", rename_all = "snake_case")]
pub enum DemandFrom {
    /// The population's own table.
    Population,
    /// In the end the load does not exceed the rating.
    WithinRating,
    /// A row of the published limits.
    Limits {
        /// Multiple of the rating.
        multiple: f64,
    },
    /// The load exceeds the rating, and no time is demanded.
    AboveRating,
}

/// How every unit's clearance is set.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct SetAt {
    /// So that it trips at this current, A.
    pub current_a: f64,
    /// After this time, s.
    pub time_s: f64,
    /// In this air, degC.
    pub ambient_c: f64,
    /// Relative standard uncertainty of the time.
    pub time_error: f64,
}

/// Where a population should not be trusted blindly.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum VaryWarning {
    /// A spread reaches into impossible parts and is cut there.
    Cut {
        /// Path of the number.
        path: String,
        /// Standard uncertainties from its middle.
        sigmas: f64,
    },
    /// Tolerances that do not differ from unit to unit.
    NotVaried {
        /// Their paths.
        paths: Vec<String>,
    },
    /// Units cannot be computed side by side.
    AskedAlone,
    /// The instantaneous element is asked of no unit.
    StripsAlone,
    /// Units without answers: rates and bands are those of the others.
    Failed {
        /// So many.
        failed: u64,
        /// Of so many.
        units: u64,
    },
    /// Rows of the sensitivity with a unit without a finite value.
    RowsLeftOut {
        /// Of which quantity.
        of: Quantity,
        /// So many.
        left_out: u64,
        /// Of so many.
        rows: u64,
    },
}
