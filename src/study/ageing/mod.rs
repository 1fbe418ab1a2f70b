//! Years of wear: a spring that relaxes, a latch that sticks, contacts that gain resistance, and
//! the dates at which the part trips its own load (early) or no longer trips as its limits demand
//! (late).
//!
//! Two time scales are kept apart. Fast: every state of the duty is quasi-steady, and the engine is
//! asked once for the temperature of the spring and the distance from release in each, over the
//! range of what wear can do to the contact ([`Map`]). Slow: the law of relaxation is followed over
//! the years in the logarithm of time ([`Drift`]), with the spring at the temperatures of the wear
//! so far. Only time under stress relaxes a spring.
//!
//! Constants are the scenario's own; there are no defaults, because no public figure exists for the
//! springs of small protectors. Late and early are two probabilities and are never added up.

mod age;
mod bookkeeping;
mod cautions;
mod constants;
mod dates;
mod draw;
mod drift;
mod duty;
mod error;
mod lives;
mod map;
mod nodes;
pub mod outcome;
mod question;
mod rows;
mod sensitivity;
mod study;
mod trip_surface;
mod view;

pub use age::{Options, age};
pub(super) use bookkeeping::not_modelled;
pub use constants::{Constants, MOST_LOSS, YEAR_S};
pub(super) use draw::Draws;
pub use drift::{Drift, Worn};
pub use duty::{DutyState, duty_states};
pub use error::AgeError;
pub use lives::summary;
pub use map::{LimitField, Map, Side, StateField};
pub use nodes::Nodes;
pub use outcome::*;
pub use question::Question;
pub use rows::report_years;
pub(super) use study::Study;
pub use view::View;
