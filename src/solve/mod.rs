//! Time steps, events and steady states of `dy/dt = f(t, y)`. Knows no physics: the right-hand side,
//! its Jacobian and the event come from the caller.

mod dense;
mod explicit;
mod integrate;
mod matrix;
mod rodas5p;
mod steady;
mod system;

pub use dense::DenseStep;
pub use explicit::{ExplicitFailure, explicit_event_time};
pub use integrate::{Controls, Event, Failure, Report, Stop, integrate};
pub use matrix::{ProfileMatrix, Shape};
pub use rodas5p::Rodas5p;
pub use steady::{SteadyFailure, steady_state};
pub use system::System;
