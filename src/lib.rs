//! Predicts when a resettable thermal protector trips.
pub mod cli;
pub mod device;
pub mod diagnostic;
pub mod document;
pub mod load;
pub mod material;
pub mod physics;
pub mod predict;
pub mod present;
pub mod quantity;
pub mod scenario;
pub mod solve;
pub mod standards;
