//! Populations: units side by side against units alone, factory setting, shards, interruption.

#[path = "../support/mod.rs"]
mod support;

mod lanes;
