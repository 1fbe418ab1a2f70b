//! Predicts when a resettable thermal protector trips.
pub mod load;
pub mod material;
pub mod predict;
pub mod quantity;
pub mod scenario;
