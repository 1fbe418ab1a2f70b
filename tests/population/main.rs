//! Populations: units side by side against units alone, factory setting, lots, shards, interruption.

#[path = "../cli/program.rs"]
#[allow(dead_code)]
mod program;
#[path = "../support/mod.rs"]
mod support;

mod lanes;
mod lots;
mod rates;
mod runs;
mod settings;
