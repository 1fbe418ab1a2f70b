//! Predictions: trip, trip point, waits, characteristic, preload shift. One [`Outcome`] record.

mod outcome;

pub use outcome::*;
