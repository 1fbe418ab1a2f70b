//! The library functions the commands call. Reading a scenario is not connected yet: until it is,
//! it fails and says so.

use crate::scenario::Scenario;
use std::path::Path;

pub use crate::material::{describe, table_text};
pub use crate::predict::{Options, predict};

const NOT_CONNECTED: &str = "error: reading a scenario is not connected yet";

pub const STARTER_KINDS: &[&str] = &["latch", "heater-wound", "snap-blade", "bench-strip"];

pub fn read(_path: &Path) -> Result<Scenario, String> {
    Err(NOT_CONNECTED.to_owned())
}

pub fn read_text(_name: &str, _text: &str) -> Result<Scenario, String> {
    Err(NOT_CONNECTED.to_owned())
}

pub fn starter(_kind: &str) -> Option<&'static str> {
    None
}
