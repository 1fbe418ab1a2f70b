//! Predictions: trip, trip point, waits, characteristic, preload shift. One [`Outcome`] record.
//!
//! ```
//! use relatch::internals::predict::{Options, predict};
//!
//! let scenario = relatch::load("scenarios/08-worked-strip.toml".as_ref())?;
//! let mut options = Options::default();
//! (options.without_tables, options.without_course) = (true, true);
//! let outcome = predict(&scenario, &options, &mut |_, _| {})?;
//! let stated = outcome.error_estimate.trip_time_relative.expect("it trips");
//! assert!(stated < 1e-4);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod aftermath;
mod ambient;
mod assemble;
mod bordered;
mod case;
mod cautions;
mod course;
mod cross_check;
mod curve;
mod cycle;
mod cycling;
mod dial;
mod error;
mod examine;
mod fidelity;
mod film;
mod halt;
mod history;
mod known;
mod lane_steady;
mod leg;
pub mod magnet;
mod main_run;
mod metals;
mod nearby;
mod not_modelled;
mod options;
pub mod outcome;
pub(crate) mod parallel;
mod part;
mod poles;
mod proof;
mod record;
mod recorded;
mod records;
mod run;
mod session;
mod snap_picture;
mod stress;
mod tables;
mod thin;
mod together;
mod trip_point;
mod waits;
mod warnings;

pub use assemble::predict;
pub use case::Case;
pub(crate) use cautions::cautions;
pub use course::{Course, CourseRun, course};
pub use curve::{Sketch, TYPICAL_MULTIPLES, characteristic, check_all, check_rows, currents};
pub use dial::turned;
pub use error::{PredictError, Steady};
pub use examine::{
    ACCURACY, Air, Amperes, BESIDE_ACCURACY, Carry, Examiner, Finding, LEAST_CLEARANCE_M, Member,
    Once, Questions, Setting, examine_alone,
};
pub use fidelity::{Converged, Fidelity, Ladder, converge};
pub use halt::Halt;
pub use main_run::main_run;
pub(crate) use main_run::{case_of, under};
pub(crate) use nearby::Nearby;
pub use options::{AskMetals, Options};
pub use outcome::*;
pub use record::{Recorder, Snapshot, shape_of, state_of};
pub(crate) use records::held;
pub use run::{RunAnswer, run, run_on};
pub use session::{Carried, Cooled, Session, Unwatched, Watch};
pub(crate) use tables::trip_and_wait;
pub use trip_point::{
    TripPointAnswer, closed_steady, relatch_temperature_k, trip_point, trip_point_on,
    trip_temperature_k,
};
pub use waits::{ReadyAnswer, premature, ready_wait};
pub use warnings::one_term_late;

/// Told what is being computed and how far it is (0..=1).
pub type Progress<'a> = dyn FnMut(&str, f64) + Send + 'a;
