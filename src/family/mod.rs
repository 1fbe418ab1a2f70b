//! Parts that a nameplate may stand for: a family of physical devices whose predictions lie within the
//! published limits.

mod nameplate;

pub use nameplate::{AirRow, Nameplate, Point, Window};
