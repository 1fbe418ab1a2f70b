//! Predicts when a resettable thermal protector trips.
pub mod load;
pub mod material;
pub mod physics;
pub mod predict;
pub mod scenario;
