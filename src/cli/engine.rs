//! The library functions the commands call. Their modules are not connected yet: until they are,
//! every call fails and says so.

use relatch::predict::Outcome;
use relatch::scenario::Scenario;
use std::path::Path;

const NOT_CONNECTED: &str = "error: the engine is not connected yet";

/// What to compute.
#[derive(Debug)]
#[allow(dead_code)]
pub struct Options {
    pub characteristic: bool,
    pub currents: Option<Vec<f64>>,
    pub hot_fraction: f64,
}

pub const STARTER_KINDS: &[&str] = &["latch", "heater-wound", "snap-blade", "bench-strip"];

pub fn read(_path: &Path) -> Result<Scenario, String> {
    Err(NOT_CONNECTED.to_owned())
}

pub fn read_text(_name: &str, _text: &str) -> Result<Scenario, String> {
    Err(NOT_CONNECTED.to_owned())
}

pub fn predict(
    _scenario: &Scenario,
    _options: &Options,
    _progress: &mut dyn FnMut(&str, f64),
) -> Result<Outcome, String> {
    Err(NOT_CONNECTED.to_owned())
}

pub fn table_text() -> String {
    NOT_CONNECTED.to_owned()
}

pub fn describe(_name: &str) -> Option<String> {
    None
}

/// The known material whose name is nearest to `name`.
pub fn nearest_material(_name: &str) -> Option<String> {
    None
}

pub fn starter(_kind: &str) -> Option<&'static str> {
    None
}
