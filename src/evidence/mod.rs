//! What a person at a tripping machine has seen and measured, in SI units with uncertainties.
//!
//! [`read()`] reads a case file with the logs beside it, [`from_flags`] a few words of a command
//! line. What they hand on is a [`Case`] of plain records. Temperatures are kelvin. Uncertainties
//! are standard uncertainties. Every item knows which line of the case it came from, so that
//! contradictions can be shown and not averaged away.

mod accuracy;
mod age;
mod air;
mod before;
mod datasheet;
mod event;
mod falls;
mod file;
mod findings;
mod flags;
mod from_log;
mod in_time;
mod joints;
mod json_schema;
mod load_kind;
mod log_alike;
mod log_course;
mod log_error;
mod log_event;
mod log_file;
mod log_gather;
mod log_questions;
mod log_targets;
mod log_words;
mod measured;
mod mend;
mod missing;
mod other_kind;
mod plausible;
mod question;
mod read;
pub mod record;
mod shown;
mod sign;
mod stop_watch;

pub use accuracy::{Accuracy, JAW, last_digit};
pub use age::{read_age_years, read_count};
pub use air::{Air, AirPlace};
pub use before::read_before;
pub use datasheet::{Datasheet, datasheet_starter, read_datasheet, read_datasheet_text};
pub use event::{Before, Event, Outcome, Setting, Unit};
pub use file::{read, read_text, read_with_progress, starter};
pub use findings::{LogFindings, LogNote, RunFound, TripFound};
pub use flags::{
    AFTER_THE_MEND, FlagLog, Flags, before_a_log, from_flags, from_flags_with_progress, said_apart,
    since,
};
pub use from_log::{FromLog, TOO_SLOW_S, WINDOW_S, from_log};
pub use joints::Joints;
pub use json_schema::{case_schema, datasheet_schema};
pub use log_course::Course;
pub use log_error::FromLogError;
pub use log_questions::{LogQuestions, Noted, TripsAre};
pub use measured::Measured;
pub use mend::{Mend, Mended};
pub use missing::Missing;
pub use other_kind::{heated, is_other};
pub use question::Question;
pub use record::{
    Case, Cycles, Drop, Meter, PhaseCurrents, Reading, StartSeen, Supply, Taken, Terminals,
    Waveform,
};
pub use sign::Sign;
pub use stop_watch::{ABOUT, REACTION_S, TimeFault, read_time};
