//! Predicts when a resettable thermal protector trips.
pub mod load;
pub mod material;
pub mod predict;
pub mod present;
pub mod scenario;
