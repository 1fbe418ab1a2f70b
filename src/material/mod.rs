//! Alloys and contact metals with property, range, source and uncertainty.
//!
//! [`library`] holds the materials that come with the program; [`read_alloy`] and
//! [`read_contact_metal`] read the ones that a scenario defines itself, in the same form.

mod alloy;
mod law;
pub mod library;
mod pchip;
mod property;
mod property_kind;
mod read;
mod read_property;
mod reference;
mod sheet;
mod strip_sheet;

pub use alloy::{Alloy, ContactMetal, Expansion, ExpansionKind};
pub use law::Law;
pub use pchip::{Pchip, PchipError};
pub use property::{CONTINUATION_FLOOR, Property};
pub use property_kind::PropertyKind;
pub use read::{read_alloy, read_contact_metal};
pub(crate) use read_property::rules as property_rules;
pub use sheet::{MaterialKind, Note, Relaxation, Sheet, Sourced, WireStrength, source_keys};
pub use strip_sheet::{StripLayer, StripSheet, strip_sheet};
