//! What has to be said beside the numbers.

use serde::{Deserialize, Serialize};

/// Where an ageing study should not be trusted blindly.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum AgeWarning {
    /// The new part already trips in a state of the duty; its wear there is counted without
    /// current.
    NewPartTrips {
        /// The state.
        state: String,
        /// Current that it would carry, A.
        current_a: f64,
    },
    /// The preload is all but gone before the horizon.
    PreloadGone {
        /// Years.
        years: f64,
    },
    /// With so bad a contact there is no steady state: the part runs away and trips before the
    /// horizon.
    RunsAway {
        /// From this contact resistance on, ohm.
        contact_ohm: f64,
    },
    /// A tolerance is not drawn: lives are for the stated value.
    NotDrawn {
        /// Path of the number.
        path: String,
    },
    /// The rows are less accurate than was asked.
    AccuracyNotReached {
        /// Relative accuracy asked for.
        asked: f64,
        /// Relative error that is left.
        reached: f64,
    },
}

/// What an ageing study leaves out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum AgeNotModelled {
    /// How the loss depends on the stress in the spring.
    Stress,
    /// Seasons one after the other.
    SeasonsInOrder,
    /// Corrosion, dust, vibration, short circuits.
    Environment,
    /// Permanent set of the strip, calibration.
    StripChange,
    /// Friction follows no published law.
    FrictionLaw,
    /// Heat across the layers.
    AcrossLayers,
    /// The instantaneous element, its spring and its latch.
    InstantaneousElement,
}
