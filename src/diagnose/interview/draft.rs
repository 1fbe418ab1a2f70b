//! A case file that grows by answers.

use super::answer::Lines;
use crate::document::ReadError;
use crate::evidence::{Case, read_text};
use std::fmt::Write;
use toml_edit::Value;

/// Tables in the order in which a case file has them.
const ORDER: [&str; 16] = [
    "[protector]",
    "[machine]",
    "[[reading]]",
    "[start]",
    "[[air]]",
    "[[drop]]",
    "[terminals]",
    "[supply]",
    "[signs]",
    "[history]",
    "[swap]",
    "[[trip]]",
    "[[held]]",
    "[[mended]]",
    TRIPPED_SINCE,
    HELD_SINCE,
];

/// What came of a mend stands below it.
pub const TRIPPED_SINCE: &str = "[[trip]] # since it was mended";
pub const HELD_SINCE: &str = "[[held]] # since it was mended";

/// What has been answered.
#[derive(Debug, Clone, Default)]
pub struct Draft {
    tables: Vec<Lines>,
}

impl Draft {
    /// With the lines of one more answer: in a table of that name that has none of the keys, or in
    /// a new one.
    #[must_use]
    pub fn and(&self, lines: Vec<Lines>) -> Self {
        let mut tables = self.tables.clone();
        for (name, keys) in lines {
            let is_free = |(header, has): &&mut Lines| {
                *header == name
                    && !has
                        .iter()
                        .any(|(k, _)| keys.iter().any(|(key, _)| key == k))
            };
            match tables.iter_mut().find(is_free) {
                Some((_, has)) => has.extend(keys),
                None => tables.push((name, keys)),
            }
        }
        Draft { tables }
    }

    /// The case file.
    pub fn text(&self) -> String {
        let title = self.value("[machine]", "name").cloned();
        let title = title.unwrap_or_else(|| "A protector that keeps tripping".into());
        let mut text = format!("format = 1\nkind = \"case\"\ntitle = {}\n", plain(&title));
        for name in ORDER {
            for (_, keys) in self.tables.iter().filter(|(header, _)| *header == name) {
                let _ = write!(text, "\n{name}\n");
                for (key, value) in keys {
                    let _ = writeln!(text, "{key} = {}", plain(value));
                }
            }
        }
        text
    }

    fn value(&self, table: &str, key: &str) -> Option<&Value> {
        let mut tables = self.tables.iter().filter(|(header, _)| *header == table);
        tables.find_map(|(_, keys)| keys.iter().find(|(k, _)| *k == key).map(|(_, v)| v))
    }

    /// The case, as any other file is read.
    ///
    /// # Errors
    /// What cannot be, and what to answer instead.
    pub fn case(&self) -> Result<Case, String> {
        read_text("the answers", &self.text()).map_err(|error| match error {
            ReadError::Content(report) => {
                let told = report.problems().iter().map(|p| {
                    let found = if p.label.is_empty() {
                        String::new()
                    } else {
                        format!(" ({})", p.label)
                    };
                    format!("{}{found}; {}", p.message, p.help.join("; "))
                });
                told.collect::<Vec<_>>().join("\n")
            }
            other => other.to_string(),
        })
    }

    /// A trip of which nothing is known.
    pub fn of_a_trip() -> Vec<Lines> {
        vec![("[[trip]]", vec![("after", "not known".into())])]
    }

    /// Whether an answer alone can be, whatever else is known.
    ///
    /// # Errors
    /// As [`Draft::case`].
    pub fn holds(&self) -> Result<(), String> {
        match self.case() {
            Ok(_) => Ok(()),
            Err(_) => self.and(Self::of_a_trip()).case().map(drop),
        }
    }
}

/// A value as it stands in a file, without what a terminal might take for a command.
fn plain(value: &Value) -> String {
    match value.as_str() {
        Some(text) => {
            let text: String = text.chars().filter(|c| !c.is_control()).collect();
            Value::from(text).to_string()
        }
        None => value.to_string(),
    }
}
