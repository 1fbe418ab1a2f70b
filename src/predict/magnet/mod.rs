//! The instantaneous element in time: a flight of the armature under a closing current, the
//! pick-up, the chance over the closing angle.

mod angles;
mod answer;
mod flight;
mod pick_up;
mod strike;

pub use angles::{Angles, Poles, angles};
pub(super) use answer::magnetic;
pub use answer::{PickUp, pick_up};
pub use flight::{Flight, Moved, flight};
pub use pick_up::rms_pick_up_a;
pub(super) use strike::strike;

/// Time within which an instantaneous element is judged, s (IEC 60898-1).
pub const HORIZON_S: f64 = 0.1;
