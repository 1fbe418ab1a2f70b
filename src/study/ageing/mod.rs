//! Years of duty: preload lost, the trip point's drift, life.
