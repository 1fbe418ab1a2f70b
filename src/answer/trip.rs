//! When a protector trips, and what it holds: the numbers, or why there are none.

use super::Estimate;
use serde::{Deserialize, Serialize};

/// When it trips under a load, counted from the start of the load.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "trip", rename_all = "snake_case")]
#[non_exhaustive]
pub enum TripTime {
    /// As soon as the load begins.
    AtOnce,
    /// After this time, s.
    After(Estimate),
    /// Never: this is proved.
    HoldsForEver,
    /// Not in the time that was looked at; whether it ever does is not proved.
    NotWithin {
        /// Time that was looked at, s.
        horizon_s: f64,
        /// Why nothing is proved.
        why: NoProof,
    },
    /// The state it starts from has tripped it already.
    AlreadyOpen,
    /// It cannot be loaded: the reset does not catch yet.
    NotReset,
    /// The computation failed.
    Failed {
        /// Why.
        why: Failed,
    },
}

/// Why it is not proved that it holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum NoProof {
    /// The load or the air still changes.
    StillChanges,
    /// The state is not near enough to a steady state short of release.
    NotSettled,
}

/// Why a number could not be computed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "reason", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Failed {
    /// A property is needed outside the range of its source.
    OutOfRange {
        /// Alloy.
        material: String,
        /// Property.
        property: PropertyName,
        /// Temperature needed, degC.
        needed_c: f64,
        /// What the source covers, degC.
        range_c: [f64; 2],
    },
    /// The strip would melt.
    Melts {
        /// Hottest point, degC.
        peak_c: f64,
    },
    /// The integration in time did not go on.
    Integration {
        /// Time reached, s.
        at_s: f64,
    },
    /// A steady state was not found.
    NoSteadyState,
    /// A disc colder than it was made may bend in ways that are not round.
    MoreDomed {
        /// Its coldest, degC.
        coldest_c: f64,
    },
}

/// A property of an alloy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum PropertyName {
    /// Density.
    Density,
    /// Young's modulus.
    YoungsModulus,
    /// Resistivity.
    Resistivity,
    /// Thermal conductivity.
    ThermalConductivity,
    /// Specific heat.
    SpecificHeat,
    /// Thermal expansion.
    ThermalExpansion,
    /// Poisson ratio.
    PoissonRatio,
    /// Hardness of a contact surface.
    Hardness,
}

/// The largest current that is held for ever.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "held", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Held {
    /// Up to this current, A.
    UpTo(Estimate),
    /// None: the ambient alone holds it released.
    StaysOpen,
    /// Any: no current releases it before the strip melts.
    NeverReleases,
    /// Not known: the metals' data do not reach so far.
    OutOfRange,
}

impl PropertyName {
    /// Its name in the trade.
    pub fn name(self) -> &'static str {
        match self {
            Self::Density => "density",
            Self::YoungsModulus => "Young's modulus",
            Self::Resistivity => "resistivity",
            Self::ThermalConductivity => "thermal conductivity",
            Self::SpecificHeat => "specific heat",
            Self::ThermalExpansion => "thermal expansion",
            Self::PoissonRatio => "Poisson ratio",
            Self::Hardness => "hardness",
        }
    }
}

impl TripTime {
    /// The time to trip, s, where it trips; zero at once.
    pub fn time_s(&self) -> Option<f64> {
        match self {
            Self::AtOnce => Some(0.0),
            Self::After(time) => Some(time.value),
            _ => None,
        }
    }

    /// Relative numerical error of the time.
    pub fn error_relative(&self) -> Option<f64> {
        match self {
            Self::After(time) => time.error_relative,
            _ => None,
        }
    }
}

impl Held {
    /// The current, A.
    pub fn current_a(&self) -> Option<f64> {
        match self {
            Self::UpTo(current) => Some(current.value),
            _ => None,
        }
    }
}
