//! What was assumed because nothing was said.

use serde::{Deserialize, Serialize};
use std::fmt;

/// One assumption. Its sentence stands here, not in `present`: diagnoses still keep sentences.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Assumed {
    /// The air that the rating is stated for.
    ReferenceAir {
        /// degC.
        air_c: f64,
        /// Whether it is that of the published limits.
        of_limits: bool,
    },
    /// Windows that small protectors usually keep.
    UsualWindows,
    /// The protector feels the temperature of the air.
    NotCompensated,
    /// The air at the protector.
    AirAtThePart {
        /// degC.
        air_c: f64,
    },
    /// What the machine draws after its start.
    RunAfterStart {
        /// A.
        current_a: f64,
    },
    /// The protector sits in a box of its own, not on the machine that it protects.
    InABoxOfItsOwn,
    /// A heater winding around the strip.
    HeaterWinding {
        /// In all parts, or in some of them.
        in_all: bool,
    },
    /// Units scatter about a published curve.
    UnitScatter {
        /// At least so much, relative.
        relative: f64,
    },
}

impl fmt::Display for Assumed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::ReferenceAir { air_c, of_limits } => {
                write!(f, "reference air {air_c:.0} °C")?;
                match of_limits {
                    true => write!(f, ", that of the published limits"),
                    false => Ok(()),
                }
            }
            Self::UsualWindows => write!(
                f,
                "usual windows of small protectors: 1.0 times the rating is carried, 1.45 times trips within 1 h, \
                 twice within 2 s to 2 min, six times within 0.1 s to 12 s (from memory)"
            ),
            Self::NotCompensated => write!(f, "not compensated for the temperature of the air"),
            Self::AirAtThePart { air_c } => write!(f, "air at the protector {air_c:.0} °C"),
            Self::RunAfterStart { current_a } => {
                let rounded = (1e3 * current_a).round() / 1e3;
                write!(f, "after the start it runs at {rounded} A")
            }
            Self::InABoxOfItsOwn => write!(
                f,
                "it sits in a box of its own; on or in the motor the motor's heat rules (--on motor)"
            ),
            Self::HeaterWinding { in_all } => {
                let which = if *in_all {
                    "all parts"
                } else {
                    "some of the parts"
                };
                write!(
                    f,
                    "a heater winding around the strip in {which} of so small a rating"
                )
            }
            Self::UnitScatter { relative } => write!(
                f,
                "trip times scatter by at least {:.0} % from unit to unit about a published curve",
                100.0 * relative
            ),
        }
    }
}
