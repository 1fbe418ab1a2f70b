//! What every answer is made of: a number with its doubt, a wait, a caution. Types alone; the words for them
//! live in `present`.

mod caution;
mod estimate;
mod wait;

pub use caution::{Caution, Place};
pub use estimate::Estimate;
pub use wait::Wait;
