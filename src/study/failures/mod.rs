//! Failures per year: units that differ as made, wear by constants of their own and carry a duty of
//! their own.
//!
//! A unit is a point of independent standard normal scores, one for every tolerance of the part,
//! every constant of wear and every current of the duty (`part`). What the engine says of a part,
//! whatever its wear, is the table of an ageing study; its numbers are smooth in the tolerances, so
//! that a polynomial through some hundred parts answers for all (`response`), and parts close to
//! failing are asked of the engine again to see how wrong it is. Draws go where parts fail
//! ([`crate::statistics::importance`]), so that one in a million a year is met by thousands of
//! them.
//!
//! Parts of one batch are alike, which spreads the number of failures from lot to lot and leaves
//! their mean as it is: rates here are means over many lots.

mod check;
mod error;
mod margins;
mod outcome;
mod part;
mod rates;
mod response;
mod returned;
mod shelf;
mod study;

pub use crate::statistics::importance::RareShare;
pub use error::FailuresError;
pub use outcome::*;
pub use returned::{ReturnedPart, State, read_returned};
#[cfg(feature = "files")]
pub use shelf::FolderShelf;
pub use shelf::{NoShelf, Shelf};
pub use study::{Options, failures, failures_kept};
