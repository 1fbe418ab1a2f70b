//! Bounds that several tables share.

use crate::document::Bounds;

/// An ambient that people and protectors live in, with room.
pub(super) const AMBIENT: Bounds = Bounds::between(
    173.15,
    473.15,
    "an ambient lies between -100 degC and 200 degC",
);
