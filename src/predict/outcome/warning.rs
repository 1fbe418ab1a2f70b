//! Where an answer should not be trusted blindly, and what is left out.

use crate::answer::PropertyName;
use serde::{Deserialize, Serialize};

/// A warning, with its numbers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "kebab-case")]
#[non_exhaustive]
pub enum Warning {
    /// A property was continued from the end of its range, as the scenario allows.
    Extrapolated {
        /// Alloy.
        material: String,
        /// Property.
        property: PropertyName,
        /// Temperature needed, degC.
        needed_c: f64,
        /// What the source covers, degC.
        range_c: [f64; 2],
    },
    /// The strip turns (a blade: stands) too steeply for the formulas of small rotations.
    TipRotation {
        /// Largest rotation, rad.
        rotation_rad: f64,
        /// Rotation up to which they are good, rad.
        limit_rad: f64,
        /// By how much they are wrong at least, relative.
        error_relative: f64,
        /// Whether it is the slope of a blade at its hinges.
        blade: bool,
    },
    /// Heat crosses the layers.
    ThroughThickness {
        /// What it would add to the curvature at release if steady, relative.
        part: f64,
        /// Temperature difference across the strip, K.
        spread_k: f64,
        /// Whether it was resolved.
        resolved: bool,
    },
    /// A layer is stressed beyond its yield strength.
    Yield {
        /// Alloy.
        material: String,
        /// Largest stress, MPa.
        stress_mpa: f64,
        /// Temperature there, degC.
        temperature_c: f64,
        /// Yield strength there, MPa.
        yield_mpa: f64,
    },
    /// An alloy is hotter than it is recommended for.
    TooHot {
        /// Alloy.
        material: String,
        /// Hottest point at release, degC.
        peak_c: f64,
        /// Highest temperature recommended, degC.
        limit_c: f64,
    },
    /// The heater winding is hotter than its insulation stands.
    WindingLimit {
        /// Hottest, degC.
        peak_c: f64,
        /// What the insulation stands, degC.
        limit_c: f64,
    },
    /// The constriction of the contact softens.
    ContactSoftening {
        /// Metal of the contact.
        metal: String,
        /// Voltage over the constriction, V.
        voltage_v: f64,
        /// Voltage at which it softens, V.
        softening_v: f64,
    },
    /// The snap was computed with one sine term.
    OneTerm {
        /// What it warms up more than the exact blade before it snaps through, evenly warmed, as a
        /// part of that warming; `None` where one of the two does not snap.
        late_relative: Option<f64>,
    },
    /// The blade has no snap.
    Creeps,
    /// The disc has no snap: its dome is too low.
    DiscCreeps,
    /// Convection from so small a flat strip is not well known.
    FlatConvection,
    /// The accuracy asked for was not reached on the finest grid.
    Accuracy {
        /// Relative error asked for.
        asked: f64,
        /// Largest relative error reached.
        reached: f64,
    },
}

impl Warning {
    /// Its stable short name, as in the JSON.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Extrapolated { .. } => "extrapolated",
            Self::TipRotation { .. } => "tip-rotation",
            Self::ThroughThickness { .. } => "through-thickness",
            Self::Yield { .. } => "yield",
            Self::TooHot { .. } => "too-hot",
            Self::WindingLimit { .. } => "winding-limit",
            Self::ContactSoftening { .. } => "contact-softening",
            Self::OneTerm { .. } => "one-term",
            Self::Creeps => "creeps",
            Self::DiscCreeps => "disc-creeps",
            Self::FlatConvection => "flat-convection",
            Self::Accuracy { .. } => "accuracy",
        }
    }
}

/// What the model leaves out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum NotModelled {
    /// The arc at opening.
    Arc,
    /// Magnetic tripping and blow-off forces.
    MagneticForces,
    /// Blow-off forces, beside an instantaneous element that is modelled.
    BlowOff,
    /// Eddy currents in the iron, remanence, and the back-voltage of coil and motion.
    EddyCurrents,
    /// Heat from neighbouring poles.
    NeighbouringPoles,
    /// The time in which a compensating strip follows the air.
    SlowCompensation,
    /// The spread between units.
    UnitSpread,
    /// Contact force fading near the snap of a blade.
    FadingContactForce,
    /// The heat made in a shunt.
    ShuntHeat,
    /// Stresses in a disc, shapes that are not round, and friction at its rim.
    UnevenDisc,
    /// The winding of a motor, hotter than the case that is one node.
    WindingOfMotor,
}
