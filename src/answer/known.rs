//! What the data of the metals leave open of an answer, beside its numerical error.

use super::PropertyName;
use serde::{Deserialize, Serialize};

/// What is known of the metals, carried to the answers of a run. Every property is drawn within its
/// standard uncertainty, the same for all of a lot; nothing else is.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct MetalData {
    /// Properties that were drawn.
    pub properties: usize,
    /// Share of draws with which the load is held for ever, 0..1; `None` where the load is not one
    /// constant current.
    pub holds_share: Option<f64>,
    /// Trip time, s.
    pub trip_time_s: Known,
    /// Largest current held for ever, A.
    pub trip_point_a: Known,
    /// From open contacts until it can be reset, s.
    pub relatch_wait_s: Known,
    /// From open contacts until the equipment can be started, s.
    pub ready_wait_s: Known,
}

/// How well the metals' data determine one answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "known", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Known {
    /// It has no number to begin with.
    NotAsked,
    /// Nine of ten draws lie within.
    Within(DataBand),
    /// One property at the end of what is known of it takes the answer away.
    Undecided {
        /// That property.
        by: DataSource,
    },
}

/// The middle nine tenths of an answer's draws.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct DataBand {
    /// 5 % of draws lie below.
    pub low: f64,
    /// 5 % of draws lie above; `None` where it never comes in as many.
    pub high: Option<f64>,
    /// What the spread is from, the largest first.
    pub shares: Vec<DataShare>,
}

/// Share of one property in the spread of an answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct DataShare {
    /// Whose.
    #[serde(flatten)]
    pub source: DataSource,
    /// Share of the variance of the answer's logarithm, 0..1.
    pub share: f64,
}

/// A property of a metal.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct DataSource {
    /// Name of the metal.
    pub metal: String,
    /// The property.
    pub property: PropertyName,
    /// It was written down from memory.
    pub from_memory: bool,
}

impl Known {
    /// The band, where there is one.
    pub fn band(&self) -> Option<&DataBand> {
        match self {
            Self::Within(band) => Some(band),
            _ => None,
        }
    }
}
