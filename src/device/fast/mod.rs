//! The fast way: the heat equation and its events in registers, with the laws as polynomials. One
//! strip with its nodes side by side ([`Along`]), or many units with one in each lane ([`Beside`]).

mod along;
mod beside;
mod crossing;
pub(in crate::device) mod fit;
mod gauge;
mod sheet;
mod slopes;
mod station;
mod unit;

pub use along::{Along, AlongParts};
pub use beside::{Beside, LaneLoad};
pub use crossing::CrossingFits;
pub(in crate::device) use crossing::{Crossing, CrossingParts, Layers};
pub use fit::{Fitted, StripFit};
pub(in crate::device) use gauge::by_difference;
pub use gauge::{EventDistance, GaugeParts, PushDistance};
pub use sheet::Sheet;
pub use unit::{LayerUnit, MOST_LAYERS, Unit, WindingUnit};
