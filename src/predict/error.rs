//! Why a prediction cannot be made.

use crate::answer::{Failed, PropertyName};
use crate::device::DeviceError;
use crate::solve::Failure;
use std::fmt;

/// Why a prediction cannot be made.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum PredictError {
    /// The device cannot be built.
    Device(DeviceError),
    /// The integration failed.
    Integration(Failure),
    /// Whoever asked gave up waiting, see [`Halt`](super::Halt).
    Halted,
    /// No steady state where one is needed.
    NoSteadyState {
        /// For what it was needed.
        needed: Steady,
    },
    /// A property is needed outside its range.
    OutOfRange {
        /// Material.
        material: String,
        /// Property.
        property: PropertyName,
        /// Temperature needed, degC.
        needed_c: f64,
        /// Range, degC.
        range_c: [f64; 2],
    },
    /// The strip would melt.
    Melts {
        /// Hottest point, degC.
        peak_c: f64,
    },
    /// The hot state from which the run starts is already beyond release.
    HotBeyondRelease {
        /// Current of the hot state, A.
        current_a: f64,
        /// Trip point, A.
        trip_point_a: Option<f64>,
    },
    /// A disc colder than it was made is more domed than made, and may bend in ways that are not
    /// round.
    MoreDomed {
        /// Its coldest, degC.
        coldest_c: f64,
        /// As made, degC.
        flat_c: f64,
    },
    /// No travel of the latch belongs to a mark of the dial.
    NoTravel {
        /// The mark, A.
        mark_a: f64,
        /// What it would have to be, m; `None`: the part has no steady state at its trip point.
        travel_m: Option<f64>,
        /// Its hottest there, degC, where that is beyond what is known of its metals.
        too_hot_c: Option<f64>,
    },
    /// A history asks for something that cannot be done.
    History(String),
}

/// What a steady state was needed for.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Steady {
    /// A current.
    Current {
        /// A.
        current_a: f64,
    },
    /// The trip point.
    TripPoint,
    /// A state of the duty of years.
    Duty,
}

impl fmt::Display for Steady {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Current { current_a } => write!(f, "at {current_a:.3} A"),
            Self::TripPoint => f.write_str("that belongs to a trip point"),
            Self::Duty => f.write_str("in a state of the duty"),
        }
    }
}

impl fmt::Display for PredictError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PredictError::Device(e) => write!(f, "{e}"),
            PredictError::Integration(Failure::StepTooSmall { t }) => write!(
                f,
                "the time steps became too small to go on at {t:.6} s; a property of the scenario \
                 changes too abruptly there"
            ),
            PredictError::Integration(Failure::TooManySteps { t }) => {
                write!(f, "gave up after too many time steps, at {t:.6} s")
            }
            PredictError::Halted | PredictError::Integration(Failure::Halted) => {
                f.write_str("given up before it was finished")
            }
            PredictError::NoSteadyState { needed } => write!(f, "found no steady state {needed}"),
            PredictError::OutOfRange {
                material,
                property,
                needed_c,
                range_c,
            } => write!(
                f,
                "the {} of {material} is needed at {needed_c:.0} degC, but its source covers {:.0} degC to {:.0} degC only; \
                 set `allow_extrapolation = true` in [strip] to go on with the value continued from the end of its range (the results then say so)",
                property.name(),
                range_c[0],
                range_c[1]
            ),
            PredictError::Melts { peak_c } => write!(
                f,
                "the strip would reach {peak_c:.0} degC: it melts before, and nothing can be said \
                 of what it does then"
            ),
            PredictError::HotBeyondRelease {
                current_a,
                trip_point_a,
            } => {
                write!(
                    f,
                    "the run is to start hot from {current_a:.3} A, but at that current the \
                     protector has already tripped"
                )?;
                match trip_point_a {
                    Some(a) => write!(f, " (its trip point there is {a:.3} A)"),
                    None => Ok(()),
                }
            }
            PredictError::MoreDomed { coldest_c, flat_c } => write!(
                f,
                "the disc would start at {coldest_c:.0} degC, colder than the {flat_c:.0} degC at which it \
                 has its rise as made: more domed than that it may bend in ways that are not round, which \
                 are not modelled; start it warmer, or give the `flat_temperature` of [strip] at which \
                 that rise was measured"
            ),
            PredictError::NoTravel {
                mark_a,
                too_hot_c: Some(hottest_c),
                ..
            } => write!(
                f,
                "at its mark of {mark_a:.3} A the part would have to stand {hottest_c:.0} degC at the \
                 current that is to be its trip point, beyond what is known of its metals; end the \
                 dial lower"
            ),
            PredictError::NoTravel {
                mark_a,
                travel_m: Some(travel_m),
                ..
            } => write!(
                f,
                "at its mark of {mark_a:.3} A the dial would have to leave a clearance of {:.3} mm: \
                 the push against the preload alone holds the strip beyond that; begin the dial \
                 higher, or make the preload smaller",
                1e3 * travel_m
            ),
            PredictError::NoTravel {
                mark_a,
                travel_m: None,
                ..
            } => write!(
                f,
                "at its mark of {mark_a:.3} A the part has no steady state at the current that is to \
                 be its trip point: no clearance belongs to that mark"
            ),
            PredictError::History(text) => write!(f, "{text}"),
        }
    }
}

impl PredictError {
    /// Why a row of a table has no number; an error of the device or of the history concerns all of
    /// them.
    pub(crate) fn in_a_row(self) -> Result<Failed, PredictError> {
        Ok(match self {
            PredictError::OutOfRange {
                material,
                property,
                needed_c,
                range_c,
            } => Failed::OutOfRange {
                material,
                property,
                needed_c,
                range_c,
            },
            PredictError::Melts { peak_c } => Failed::Melts { peak_c },
            PredictError::MoreDomed { coldest_c, .. } => Failed::MoreDomed { coldest_c },
            PredictError::Integration(
                Failure::StepTooSmall { t } | Failure::TooManySteps { t },
            ) => Failed::Integration { at_s: t },
            PredictError::NoSteadyState { .. } => Failed::NoSteadyState,
            other => return Err(other),
        })
    }
}

impl std::error::Error for PredictError {}

impl From<DeviceError> for PredictError {
    fn from(e: DeviceError) -> Self {
        PredictError::Device(e)
    }
}

impl From<Failure> for PredictError {
    fn from(e: Failure) -> Self {
        match e {
            Failure::Halted => PredictError::Halted,
            e => PredictError::Integration(e),
        }
    }
}
