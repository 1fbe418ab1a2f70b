//! JSON Schema (draft 2020-12) of files without rows: the keys that their readers ask for, with the
//! words of the starters beside them.

use super::json_schema::{DRAFT, list, object, quantity, whole};
use crate::document::{Asked, AskedKeys, Document, TableReader};
use serde_json::{Map, Value, json};
use std::collections::BTreeMap;

/// What `read` asks of a starter, of its examples, and of keys that stand instead of those of the
/// starter.
pub(crate) fn asked_schema(
    title: &str,
    starter: &str,
    instead: &str,
    read: impl Fn(&TableReader<'_>),
) -> Value {
    let mut keys = AskedKeys::new();
    for text in [starter, &uncommented(starter), instead] {
        for (path, forms) in Document::asked_by(text, &read) {
            let known = keys.entry(path).or_default();
            for form in forms {
                if !known.contains(&form) {
                    known.push(form);
                }
            }
        }
    }
    let mut schema = table(title, "", &keys, &said_in(starter));
    schema["$schema"] = json!(DRAFT);
    schema["title"] = json!(title);
    schema
}

/// The starter with its examples turned into lines.
fn uncommented(starter: &str) -> String {
    let line = |line: &str| match line.strip_prefix("# ") {
        Some(example) if key_of(example).is_some() || example.starts_with('[') => {
            format!("{example}\n")
        }
        _ => format!("{line}\n"),
    };
    starter.lines().map(line).collect()
}

/// The key of a line `key = value`.
fn key_of(line: &str) -> Option<&str> {
    let (key, _) = line.split_once(" = ")?;
    let plain = |c: char| c.is_ascii_lowercase() || c == '_';
    (!key.is_empty() && key.chars().all(plain)).then_some(key)
}

/// What the comments of a starter say of its keys and tables, by their paths.
fn said_in(starter: &str) -> BTreeMap<String, String> {
    let mut said = BTreeMap::new();
    let mut table = String::new();
    for line in starter.lines().map(|l| l.strip_prefix("# ").unwrap_or(l)) {
        let path = match (line.strip_prefix('['), key_of(line)) {
            (Some(head), _) => {
                let end = head.find(']').unwrap_or(head.len());
                table = head[..end].trim_start_matches('[').to_owned();
                table.clone()
            }
            (None, Some(key)) if table.is_empty() => key.to_owned(),
            (None, Some(key)) => format!("{table}.{key}"),
            (None, None) => continue,
        };
        if let Some((_, comment)) = line.split_once("  # ") {
            said.entry(path)
                .or_insert_with(|| comment.trim().to_owned());
        }
    }
    said
}

/// The table at a path, empty for the file.
fn table(about: &str, path: &str, keys: &AskedKeys, said: &BTreeMap<String, String>) -> Value {
    let mut inside = Map::new();
    for (inner, forms) in keys {
        let (outer, key) = inner.rsplit_once('.').unwrap_or(("", inner));
        if outer != path {
            continue;
        }
        let about = said.get(inner).map(String::as_str);
        let form = |form: &Asked| match form {
            Asked::Quantity(dimension, bounds) => quantity(*dimension, *bounds),
            Asked::Text(example) => {
                json!({ "type": "string", "examples": [example.trim_matches('"')] })
            }
            Asked::Word(words) => json!({ "enum": words }),
            Asked::Flag => json!({ "type": "boolean" }),
            Asked::Whole(most) => whole(*most),
            Asked::List => json!({ "type": "array" }),
            Asked::Table => table(key, inner, keys, said),
            Asked::Tables => list(table(key, inner, keys, said), key),
        };
        let mut forms: Vec<Value> = forms.iter().map(form).collect();
        let is_plain =
            |form: &Value| form["pattern"] == forms[0]["pattern"] && form["type"] == "string";
        if forms.len() > 1 && forms.iter().all(is_plain) && forms[0].get("pattern").is_some() {
            // Its unit goes by another key.
            forms = vec![json!({ "type": "string", "pattern": forms[0]["pattern"] })];
        }
        let mut value = match forms.len() {
            0 => json!({}),
            1 => forms.remove(0),
            _ => json!({ "anyOf": forms }),
        };
        let more = value.get("description").and_then(Value::as_str);
        let about = match (about, more) {
            (Some(about), Some(more)) if more != key => format!("{about}; {more}"),
            (Some(about), _) => about.to_owned(),
            (None, Some(more)) => more.to_owned(),
            (None, None) => key.replace('_', " "),
        };
        value["description"] = json!(about);
        inside.insert(key.to_owned(), value);
    }
    object(about, inside, &[])
}
