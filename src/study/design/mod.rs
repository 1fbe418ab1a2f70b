//! From targets to a part: numbers and words of a scenario are free within bounds, answers are
//! wanted within windows, and the part that meets them is looked for.
//!
//! A file of [`Targets`] is read; what a scenario does to each want stands in `want`; `search`
//! descends by least squares from the places of `starts`, `stock` rounds to sizes and looks at their
//! neighbours, `aim` goes on to the least cost; a [`DesignOutcome`] says what is met, and which wants
//! fight.

mod aim;
mod cost;
mod error;
mod exact;
mod lot;
mod map;
mod outcome;
mod pull;
mod read;
mod read_wants;
mod schema;
mod search;
mod solve;
mod starts;
mod stock;
mod targets;
mod trade;
mod want;

pub use cost::Cost;
pub use error::DesignError;
pub use outcome::{
    DesignOutcome, End, Fight, FoundDocument, FoundFree, FoundWant, InLot, Map, MapCell, Slope,
    Trade, TradePoint,
};
#[cfg(feature = "files")]
pub use read::read;
pub use read::{read_text, starter};
pub use schema::targets_schema;
pub use solve::{Asked, design};
pub use targets::{Choice, Document, Free, Targets};
pub use want::{LimitRow, Want, Wanted};
