//! Time steps, events and steady states of `dy/dt = f(t, y)`. Knows no physics: the right-hand
//! side, its Jacobian and the event come from the caller.
//!
//! ```
//! use relatch::internals::solve::{ProfileMatrix, Shape, System, steady_state};
//!
//! /// A body heated by 3 W and cooled in proportion to its rise.
//! struct Body;
//!
//! impl System for Body {
//!     fn shape(&self) -> Shape { Shape::full(1) }
//!     fn rhs(&self, _t: f64, y: &[f64], dy: &mut [f64]) { dy[0] = 3.0 - 0.1 * y[0]; }
//!     fn jacobian(&self, _t: f64, _y: &[f64], j: &mut ProfileMatrix) { j.add(0, 0, -0.1); }
//!     fn time_slope(&self, _t: f64, _y: &[f64], _dfdt: &mut [f64]) {}
//!     fn scale(&self, _y: &[f64], _i: usize) -> f64 { 1.0 }
//! }
//!
//! let mut rise_k = [0.0];
//! steady_state(&Body, 0.0, &mut rise_k, 1.0, 1e4).expect("it settles");
//! assert!((rise_k[0] - 30.0).abs() < 1e-6);
//! ```

mod aim;
mod dense;
mod explicit;
mod explicit853;
mod flow;
mod implicit5p;
mod integrate;
mod lane_matrix;
mod lane_step;
mod lanes;
mod march;
mod matrix;
pub mod pair54;
mod rodas5p;
mod root;
mod settle;
mod sight;
mod stages;
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
pub use lanes::{LaneEnd, LaneReport, Lanes};
pub use march::{Accepted, March, Marched};
pub use matrix::{ProfileMatrix, Shape};
pub use rodas5p::Rodas5p;
pub use root::root;
pub use settle::settle;
pub use sight::{Sight, newton};
pub use steady::{SteadyFailure, steady_state};
pub use system::System;
pub use wide::Wide;
