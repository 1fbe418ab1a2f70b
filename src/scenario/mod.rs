//! Scenario files: read, checked all at once, and handed on in SI units.

pub mod ageing;
mod ask;
mod bounds;
mod check;
mod file;
mod history;
mod load;
mod mechanism;
mod metals;
mod parts;
mod place;
mod population;
mod read;
mod read_ageing;
mod read_duty;
pub mod schema;
mod starter;
mod strip;

pub use file::{MOST_BYTES, ReadError, file_text, read, read_text};
pub use load::read_current_text;
pub use place::{Place, Range};
pub use population::{Batch, FactorySetting, Population, Shape, Spread, impossible};
pub use schema::*;
pub use starter::{STARTER_KINDS, starter};
