//! Populations: units side by side against units alone, factory setting, lots, shards,
//! interruption.

mod lanes;
mod lots;
mod once;
mod runs;
mod settings;
mod surrogate;
