//! Every key of a scenario in the form of a file, each with what it is: the rows as somebody reads
//! them who writes one.

use super::json_schema::json_schema;
use serde_json::Value;
use std::fmt::Write;

/// Every table and key of scenario files, as commented lines of TOML in which each stands as it may
/// look.
///
/// ```
/// let keys = relatch::internals::scenario::key_list();
/// assert!(keys.contains("\n# [strip]") && keys.contains("\n# length = "));
/// ```
pub fn key_list() -> String {
    let mut text = String::from(
        "# Every key of a scenario. No file has them all: some stand instead of others, and a part has one\n\
         # kind of release. `relatch new latch` prints a file that runs.\n\n",
    );
    table(&json_schema(), "", &mut text);
    text
}

/// The keys of a table, then the tables inside it.
fn table(of: &Value, path: &str, text: &mut String) {
    let empty = serde_json::Map::new();
    let keys = of["properties"].as_object().unwrap_or(&empty);
    let inner = |form: &Value| form["properties"].is_object();
    for (key, form) in keys {
        if !inner(form) && !inner(&form["items"]) {
            let about = form["description"].as_str().unwrap_or_default();
            let _ = writeln!(
                text,
                "# {:<36} # {about}",
                format!("{key} = {}", example(form))
            );
        }
    }
    for (key, form) in keys {
        let path = if path.is_empty() {
            key.clone()
        } else {
            format!("{path}.{key}")
        };
        let (head, within) = match (inner(form), inner(&form["items"])) {
            (true, _) => (format!("[{path}]"), form),
            (_, true) => (format!("[[{path}]]"), &form["items"]),
            _ => continue,
        };
        let about = form["description"].as_str().unwrap_or_default();
        let _ = writeln!(text, "\n# {head:<36} # {about}");
        table(within, &path, text);
    }
}

/// How a value may look: what stands there unless something is written, an example, a word.
fn example(form: &Value) -> String {
    let first = |key: &str| form[key].get(0).filter(|v| !v.is_null());
    let known = [form.get("default"), first("examples"), first("enum")];
    if let Some(known) = known.into_iter().flatten().next() {
        return known.to_string();
    }
    if let Some(form) = first("anyOf") {
        return example(form);
    }
    let listed = |forms: &[&Value]| {
        let list: Vec<String> = forms.iter().map(|form| example(form)).collect();
        format!("[{}]", list.join(", "))
    };
    match form["type"].as_str() {
        Some("array") => match form["prefixItems"].as_array() {
            Some(items) => listed(&items.iter().collect::<Vec<_>>()),
            None => listed(&[&form["items"]]),
        },
        Some("integer") => form["minimum"].to_string(),
        Some("boolean") => "false".to_owned(),
        _ => "\"text\"".to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::super::rows::TABLES;
    use super::*;

    /// What a row has is here at once, behind the head of its table.
    #[test]
    fn every_row_is_listed_in_its_table() {
        let list = key_list();
        for table in TABLES.iter() {
            let head = match (table.path, table.list) {
                ("", _) => String::new(),
                (path, true) => format!("\n# [[{path}]]"),
                (path, false) => format!("\n# [{path}]"),
            };
            let at = list
                .find(&head)
                .unwrap_or_else(|| panic!("{head} is not listed"));
            let own = &list[at + head.len()..];
            let own = &own[..own.find("\n# [").unwrap_or(own.len())];
            for row in table.rows() {
                let line = format!("\n# {} = ", row.key);
                assert!(own.contains(&line), "{}: {}", table.path, row.key);
                assert!(own.contains(row.about), "{}: {}", row.key, row.about);
            }
        }
    }

    /// Examples are TOML.
    #[test]
    fn every_line_is_one_of_a_file() {
        for line in key_list().lines().filter(|l| l.contains(" = ")) {
            let line = line.trim_start_matches("# ");
            if let Err(error) = toml::from_str::<toml::Table>(line) {
                panic!("{line}: {error}");
            }
        }
    }
}
