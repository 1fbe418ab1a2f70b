//! JSON Schema of cases and datasheets.

use super::read::{datasheet, draft};
use super::{datasheet_starter, starter};
use crate::document::TableReader;
use crate::scenario::asked_schema;
use serde_json::Value;

/// Keys that stand instead of those of the starters, so that their readers ask for them too.
const INSTEAD: &str = r#"
format = 1
[protector]
poles = 3
[[protector.window]]
current = "26 A"
at_least = "4 s"
[[protector.window]]
multiple = 1.05
carried = true
[[protector.point]]
current = "26 A"
[[reading]]
display = "33.9 A"
turns = 3
[[trip]]
between = ["1 min", "8 h"]
on = "bench"
current = "26 A"
[[held]]
on = "bench"
current = "26 A"
[[held]]
start = true
times = 3
[[held]]
duty = [["40 s", "13.8 A"], ["25 s", "0.2 A"]]
[[drop]]
voltage = "88 mV"
current = "13.6 A"
accuracy = "0.5 % + 2 digits"
[history]
trips = 40
[[log]]
trips = ["8.3 min"]
within = "3 min"
air = "41 degC"
time_column = 1
air_column = 3
current_column = 2
"#;

/// JSON Schema of case files.
///
/// ```
/// let schema = relatch::internals::evidence::case_schema();
/// assert_eq!(schema["properties"]["protector"]["properties"]["rating"]["type"], "string");
/// ```
pub fn case_schema() -> Value {
    let read = |t: &TableReader<'_>| drop(draft(t));
    let title = "Case of a tripping protector";
    asked_schema(title, starter(), &format!("kind = \"case\"{INSTEAD}"), read)
}

/// JSON Schema of datasheets.
pub fn datasheet_schema() -> Value {
    let read = |t: &TableReader<'_>| drop(datasheet(t));
    let title = "Published characteristic of a protector";
    let instead = format!("kind = \"datasheet\"{INSTEAD}");
    asked_schema(title, datasheet_starter(), &instead, read)
}
