//! What a person at the machine can be asked, one thing at a time.

use serde::{Deserialize, Serialize};

/// A question whose answer becomes a line or two of a case file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Question {
    /// Rated current of the protector.
    Rating,
    /// Signs of a fault.
    Signs,
    /// How soon it trips, and from what state.
    Trip,
    /// Running current.
    Current,
    /// With which meter that was read.
    Meter,
    /// How long it has held.
    Held,
    /// Air at the protector, or in the room.
    Air,
    /// Current on the machine's plate.
    Plate,
    /// The marking beside the drawing.
    Marking,
    /// What a look at both joints, dead, has shown.
    Joints,
    /// Both terminals under load.
    Terminals,
    /// Drop across the closed part.
    Drop,
    /// A start.
    Start,
    /// Voltage of the supply.
    Supply,
    /// A trip on a bench.
    BenchTrip,
    /// A hold test on a bench.
    BenchHold,
    /// A swap with an identical part.
    Swap,
    /// What was mended since, and what came of it.
    Mended,
    /// Age of the part.
    Age,
    /// The machine in words.
    Machine,
}
