//! One scenario over one to three of its paths: every point answered as `predict` answers it.
//!
//! What the paths are moved over is read in words (`over`), a [`Sweep`] numbers the points, and a
//! ledger keeps finished ones on disk, so that a run that is stopped goes on.

mod error;
#[cfg(feature = "files")]
mod ledger;
mod over;
mod points;

pub use error::SweepError;
#[cfg(feature = "files")]
pub use ledger::Ledger;
pub use over::Axis;
pub use points::{MOST_POINTS, Point, PointAnswer, Sweep, SweepOutcome};
