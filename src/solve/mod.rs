//! Time steps, events and steady states of `dy/dt = f(t, y)`. Knows no physics: the right-hand side,
//! its Jacobian and the event come from the caller.

mod aim;
mod dense;
mod explicit;
mod explicit853;
mod flow;
mod implicit5p;
mod integrate;
mod lane_matrix;
mod lanes;
mod march;
mod matrix;
mod rodas5p;
mod settle;
mod sight;
mod steady;
mod system;
mod tableau5p;
mod tableau853;
pub mod wide;

pub use dense::DenseStep;
pub use explicit::{ExplicitFailure, explicit_event_time};
pub use explicit853::{Explicit853, STABLE};
pub use flow::{Distance, Flow, LaneFlow, StiffFlow};
pub use implicit5p::Implicit5p;
pub use integrate::{Controls, Event, Failure, Report, Stop, integrate};
pub use lane_matrix::LaneMatrix;
pub use lanes::{LaneEnd, LaneReport, Lanes, Patience};
pub use march::{Accepted, March, Marched};
pub use matrix::{ProfileMatrix, Shape};
pub use rodas5p::Rodas5p;
pub use settle::settle;
pub use steady::{SteadyFailure, steady_state};
pub use system::System;
pub use wide::Wide;
