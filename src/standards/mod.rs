//! Published limits of time-current characteristics, in our own words. Limits are pass or fail;
//! they carry no tolerance. Check the edition of a standard before a limit becomes a release gate.

mod bands;
mod motor;
mod tables;

pub use bands::Band;
pub use tables::{LIMITS, Limit, PublishedLimits, Unequal, covered, find, find_compensated};
