//! Air that was measured.

use super::Measured;
use serde::{Deserialize, Serialize};

/// Where air was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum AirPlace {
    /// 10-20 mm from the protector.
    AtThePart,
    /// In the room.
    InTheRoom,
    /// One of the two: nobody says which.
    NotSaid,
}

/// A temperature of the air.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Air {
    /// The line as the case has it.
    pub label: String,
    /// Where.
    pub place: AirPlace,
    /// K.
    pub temperature_k: Measured,
    /// How many mends of the case had been done by then.
    pub mended: usize,
}

impl Air {
    /// A temperature that was measured there, K.
    pub fn measured(label: &str, place: AirPlace, temperature_k: Measured) -> Air {
        Air {
            label: label.into(),
            place,
            temperature_k,
            mended: 0,
        }
    }
}
