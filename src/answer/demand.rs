//! What a row of published limits asks of a part.

use serde::{Deserialize, Serialize};

/// What a row of published limits asks.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct LimitDemand {
    /// Multiple of the rating.
    pub multiple: f64,
    /// Multiple from which it starts warm; zero: cold.
    pub after_multiple: f64,
    /// Whether it must carry this for ever.
    pub must_hold: bool,
    /// Shortest allowed time, s.
    pub at_least_s: Option<f64>,
    /// Longest allowed time, s.
    pub at_most_s: Option<f64>,
    /// Whether the row is known from memory alone, and was not read.
    #[serde(default)]
    pub from_memory: bool,
    /// Air of the row where it is not that of the document's other rows, degC.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub air_c: Option<f64>,
    /// Currents of three poles in parts of the multiple, where they differ; whichever of them
    /// carries the odd one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub poles: Option<[f64; 3]>,
}
