//! JSON Schema of targets.

use super::read::{asked_for, starter};
use crate::scenario::asked_schema;
use serde_json::Value;

/// Keys that stand instead of those of the starter.
const INSTEAD: &str = r#"
format = 1
[[free]]
path = "strip.width"
stock = ["0.5 mm", "0.6 mm"]
[[free]]
path = "housing.conductance"
from = "0.1 W/K"
to = "0.3 W/K"
step = "0.05 W/K"
[[free]]
path = "strip.layer[1].alloy"
among = ["22Ni-3Cr-Fe", "19Ni-2Cr-Fe"]
[[want]]
what = "trip time"
current = "20 A"
at_least = "15 s"
at_most = "25 s"
"#;

/// JSON Schema of files of targets.
pub fn targets_schema() -> Value {
    let title = "Targets for a design";
    asked_schema(title, starter(), INSTEAD, asked_for)
}
