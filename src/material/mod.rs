//! Alloys and contact metals with property, range, source and uncertainty.

mod alloy;
mod law;
mod pchip;
mod property;

pub use alloy::{Alloy, ContactMetal, Expansion, ExpansionKind};
pub use law::Law;
pub use pchip::{Pchip, PchipError};
pub use property::{CONTINUATION_FLOOR, Property};
