//! What a person at a tripping machine has seen and measured, in SI units with uncertainties.
//!
//! Temperatures are kelvin. Uncertainties are standard uncertainties. Every item knows which line of the
//! case it came from, so that contradictions can be shown and not averaged away.

mod event;
mod measured;
mod record;

pub use event::{Before, Event, Outcome, Setting, Unit};
pub use measured::Measured;
pub use record::{
    Air, AirPlace, Case, Drop, Meter, Reading, Sign, StartSeen, Taken, Terminals, Waveform,
};
