//! Current programmes: what the protector carries against time.

mod programme;

pub use programme::{Current, Piece, Programme, Repeat, Segment};
