//! What a part is beside one strip with a latch, and what that makes of its predictions: an
//! instantaneous element, poles on one bar, a disc on a motor.
//!
//! A nameplate says the kind; here alone it turns into numbers. Waits and the diagnosis ask for a
//! chance ([`Element::chance`]), a state of one pole ([`Loaded::wear`]), a load ([`log_over_held`]) or
//! a wait ([`disc_waits`]).

mod cycling;
mod element;
mod motor;
mod poles;

pub use cycling::{CYCLING, log_over_held};
pub use element::{AT_ONCE_S, Element, Instantaneous};
pub(super) use motor::disc_waits;
pub use poles::Loaded;
