//! Problems of a file, all of them in one report that points at the place.
//!
//! Each [`Problem`] says what was found, what is allowed and what to write instead. A [`Report`]
//! holds every problem of one file and renders them in the order of the file, as plain text.

mod near;
mod problem;
mod render;
mod report;

pub use near::nearest;
pub use problem::Problem;
pub use report::Report;
