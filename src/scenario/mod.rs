//! Scenario files: read, checked all at once, and handed on in SI units.

pub mod ageing;
mod ageing_reader;
mod asked_schema;
mod check;
mod dial;
mod file;
#[cfg(feature = "figures")]
mod given;
mod history;
pub(crate) mod json_schema;
mod key_list;
mod machine_case;
mod magnetic;
mod mechanism;
mod metals;
mod parts;
mod place;
mod poles;
mod population;
mod programme;
mod read;
mod read_duty;
mod rows;
pub mod schema;
mod set;
mod starter;
mod strip;
mod unread;

pub(crate) use asked_schema::asked_schema;
pub use dial::Dial;
pub use file::{MOST_BYTES, ReadError, file_text, read, read_text};
#[cfg(feature = "figures")]
pub use given::{Given, given};
pub use json_schema::json_schema;
pub use key_list::key_list;
pub use machine_case::MachineCase;
pub use magnetic::{Cable, Closing, Magnetic};
pub(crate) use mechanism::PRELOADS;
pub use mechanism::{
    Bar, Disc, FrameExpansion, Latch, Mechanism, MechanismKind, SnapBlade, SnapModel,
};
pub use place::Place;
pub use poles::{BarKind, MOST_POLES, Pole, Poles};
pub use population::{Batch, FactorySetting, Population, Shape, Spread, impossible};
pub use programme::read_current_text;
pub use schema::*;
pub use set::{kind_at, set, value_at};
pub use starter::{STARTER_KINDS, starter};
