//! Current programmes: what the protector carries against time.

mod programme;

pub use programme::{Current, Programme, Repeat, Segment};
