//! Current programmes: what the protector carries against time.
//!
//! ```
//! use relatch::part::{Programme, Repeat};
//!
//! let duty = Programme::steps([(40.0, 13.8), (25.0, 0.2)], Repeat::Forever);
//! assert_eq!(duty.period_s(), Some(65.0));
//! assert!((duty.rms_a() - 10.83).abs() < 0.01);
//! ```

mod programme;

pub use programme::{Current, Piece, Programme, Repeat, Segment};
