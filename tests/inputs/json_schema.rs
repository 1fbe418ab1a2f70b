//! The JSON Schema for editors knows every key of every scenario, and no other.

use relatch::internals::evidence::{
    case_schema, datasheet_schema, datasheet_starter, starter as case_starter,
};
use relatch::internals::scenario::{STARTER_KINDS, json_schema, starter};
use relatch::internals::study::design::{starter as targets_starter, targets_schema};
use serde_json::{Value, json};
use std::path::Path;

/// What a schema has against a value, by the path of the place. Understands the words of the draft
/// that ours uses.
fn problems(value: &Value, schema: &Value, path: &str, found: &mut Vec<String>) {
    let bad = |why: &str| format!("{path}: {value} {why}");
    if let Some(forms) = schema.get("anyOf").and_then(Value::as_array) {
        let fits = |form: &Value| {
            let mut against = Vec::new();
            problems(value, form, path, &mut against);
            against.is_empty()
        };
        if !forms.iter().any(fits) {
            found.push(bad("fits no form"));
        }
        return;
    }
    if let Some(words) = schema.get("enum").and_then(Value::as_array)
        && !words.contains(value)
    {
        found.push(bad("is none of the words"));
    }
    if schema.get("const").is_some_and(|only| only != value) {
        found.push(bad("is another word"));
    }
    let kind = match value {
        Value::Object(_) => "object",
        Value::Array(_) => "array",
        Value::String(_) => "string",
        Value::Bool(_) => "boolean",
        Value::Number(n) if n.is_f64() => "number",
        _ => "integer",
    };
    let is = |known: &str| known == kind || (known == "number" && kind == "integer");
    match &schema["type"] {
        Value::String(known) if !is(known) => found.push(bad("is of another kind")),
        Value::Array(known) if !known.iter().filter_map(Value::as_str).any(is) => {
            found.push(bad("is of another kind"));
        }
        _ => {}
    }
    if let (Some(number), Some(most)) = (value.as_f64(), schema["maximum"].as_f64())
        && number > most
    {
        found.push(bad("is too large"));
    }
    if let (Some(text), Some(_)) = (value.as_str(), schema.get("pattern"))
        && !text
            .trim_start_matches([' ', '+', '-', '.'])
            .starts_with(|c: char| c.is_ascii_digit())
    {
        found.push(bad("is no number"));
    }
    if let Some(condition) = schema.get("if") {
        let mut against = Vec::new();
        problems(value, condition, path, &mut against);
        let branch = if against.is_empty() { "then" } else { "else" };
        problems(value, &schema[branch], path, found);
    }
    for needed in schema["required"].as_array().into_iter().flatten() {
        if value.get(needed.as_str().unwrap_or_default()).is_none() {
            found.push(bad(&format!("lacks {needed}")));
        }
    }
    for (key, inner) in value.as_object().into_iter().flatten() {
        match schema["properties"].get(key) {
            Some(known) => problems(inner, known, &format!("{path}.{key}"), found),
            None if schema["additionalProperties"] == false => {
                found.push(format!("{path}.{key}: no such key"));
            }
            None => {}
        }
    }
    for (k, inner) in value.as_array().into_iter().flatten().enumerate() {
        let known = schema["prefixItems"].get(k).unwrap_or(&schema["items"]);
        problems(inner, known, &format!("{path}[{k}]"), found);
    }
}

fn against(value: &Value) -> Vec<String> {
    let mut found = Vec::new();
    problems(value, &json_schema(), "", &mut found);
    found
}

/// Every scenario that comes with the program, and the one of the wrong files that is right.
fn scenarios() -> Vec<(String, Value)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let folder = std::fs::read_dir(root.join("scenarios")).expect("a folder");
    let mut files: Vec<_> = folder
        .map(|entry| entry.expect("an entry").path())
        .collect();
    files.push(root.join("tests/support/right.toml"));
    files.retain(|path| path.extension().is_some_and(|e| e == "toml"));
    let shipped = files.iter().map(|path| {
        let text = std::fs::read_to_string(path).expect("a text");
        (path.display().to_string(), text)
    });
    let starters = STARTER_KINDS.iter().map(|kind| {
        let text = starter(kind).expect("a starter").to_owned();
        ((*kind).to_owned(), text)
    });
    let read = |(name, text): (String, String)| (name, toml::from_str(&text).expect("TOML"));
    shipped.chain(starters).map(read).collect()
}

/// Every value with one key of one of its tables misspelt.
fn misspelt(value: &Value) -> Vec<Value> {
    let mut all = Vec::new();
    match value {
        Value::Object(table) => {
            for (key, inner) in table {
                let mut other = table.clone();
                other.remove(key);
                other.insert(format!("{key}x"), inner.clone());
                all.push(Value::Object(other));
                for inner in misspelt(inner) {
                    let mut other = table.clone();
                    other.insert(key.clone(), inner);
                    all.push(Value::Object(other));
                }
            }
        }
        Value::Array(list) => {
            for (k, inner) in list.iter().enumerate() {
                for inner in misspelt(inner) {
                    let mut other = list.clone();
                    other[k] = inner;
                    all.push(Value::Array(other));
                }
            }
        }
        _ => {}
    }
    all
}

#[test]
fn every_scenario_fits() {
    let all = scenarios();
    assert!(all.len() > 12, "{}", all.len());
    for (name, value) in all {
        assert_eq!(against(&value), Vec::<String>::new(), "{name}");
    }
}

#[test]
fn a_misspelt_key_does_not() {
    for (name, value) in scenarios() {
        for wrong in misspelt(&value) {
            assert!(!against(&wrong).is_empty(), "{name}: {wrong}");
        }
    }
}

#[test]
fn a_wrong_value_does_not() {
    let (_, right) = scenarios().pop().expect("a scenario");
    for (table, key, wrong) in [
        ("strip", "length", Value::from(22)),
        ("strip", "length", Value::from("long")),
        ("strip", "section", Value::from("broad")),
        ("cooling", "emissivity", Value::from(1.5)),
        ("strip", "layer", Value::from("steel")),
    ] {
        let mut value = right.clone();
        value[table][key] = wrong;
        let found = against(&value);
        assert!(
            found.iter().any(|f| f.contains(&format!(".{table}.{key}"))),
            "{found:?}"
        );
    }
    let mut value = right;
    value["strip"]
        .as_object_mut()
        .expect("a table")
        .remove("width");
    assert_eq!(against(&value).len(), 1, "{:?}", against(&value));
}

/// Every key says what it is and how it may look.
#[test]
fn every_key_is_described() {
    fn walk(schema: &Value, path: &str) {
        assert!(
            schema["description"]
                .as_str()
                .is_some_and(|d| !d.is_empty()),
            "{path}"
        );
        if schema["pattern"].is_string() {
            assert!(schema["examples"][0].is_string(), "{path}");
        }
        let items = &schema["items"];
        for (key, inner) in schema["properties"].as_object().into_iter().flatten() {
            walk(inner, &format!("{path}.{key}"));
        }
        for (key, inner) in items["properties"].as_object().into_iter().flatten() {
            walk(inner, &format!("{path}[].{key}"));
        }
    }
    walk(&json_schema(), "");
}

/// The cases and datasheets that come with the program, each with the schema of its kind.
fn others() -> Vec<(String, Value, Value)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut all = vec![
        ("case".to_owned(), case_starter().to_owned(), case_schema()),
        (
            "datasheet".to_owned(),
            datasheet_starter().to_owned(),
            datasheet_schema(),
        ),
    ];
    let targets = targets_schema();
    all.push((
        "targets".to_owned(),
        targets_starter().to_owned(),
        targets.clone(),
    ));
    let folders = [
        ("cases", case_schema()),
        ("datasheets", datasheet_schema()),
        ("targets", targets),
    ];
    for (folder, schema) in folders {
        let entries = std::fs::read_dir(root.join("scenarios").join(folder)).expect("a folder");
        for path in entries.map(|entry| entry.expect("an entry").path()) {
            if path.extension().is_some_and(|e| e == "toml") {
                let text = std::fs::read_to_string(&path).expect("a text");
                all.push((path.display().to_string(), text, schema.clone()));
            }
        }
    }
    let read = |(name, text, schema): (String, String, Value)| {
        let value = toml::from_str(&text).expect("TOML");
        (name, value, schema)
    };
    all.into_iter().map(read).collect()
}

#[test]
fn every_case_datasheet_and_target_fits_and_with_a_misspelt_key_none_does() {
    let all = others();
    assert!(all.len() > 10, "{}", all.len());
    for (name, value, schema) in all {
        let against = |value: &Value| {
            let mut found = Vec::new();
            problems(value, &schema, "", &mut found);
            found
        };
        assert_eq!(against(&value), Vec::<String>::new(), "{name}");
        for wrong in misspelt(&value) {
            assert!(!against(&wrong).is_empty(), "{name}: {wrong}");
        }
    }
}

/// Every key that the readers know has a form and words; so have those that no starter shows.
#[test]
fn every_key_of_cases_and_datasheets_has_its_form() {
    fn walk(schema: &Value, path: &str, keys: &mut Vec<String>) {
        let words = schema["description"].as_str();
        assert!(words.is_some_and(|d| !d.is_empty()), "{path}");
        for (key, inner) in schema["properties"].as_object().into_iter().flatten() {
            let path = format!("{path}.{key}");
            let formed = ["type", "enum", "anyOf"]
                .iter()
                .any(|k| inner.get(k).is_some());
            assert!(formed, "{path}: {inner}");
            walk(inner, &path, keys);
            walk(
                &json!({ "description": "inside", "properties": inner["items"]["properties"] }),
                &path,
                keys,
            );
            keys.push(path);
        }
    }
    let mut keys = Vec::new();
    walk(&case_schema(), "", &mut keys);
    for known in [
        ".protector.window.current",
        ".reading.display",
        ".trip.between",
        ".trip.reset.refused_at",
        ".history.trips",
        ".log.amperes_per_unit",
    ] {
        assert!(keys.iter().any(|k| k == known), "{known}: {keys:?}");
    }
    let words = &case_schema()["properties"]["reading"]["items"]["properties"]["meter"]["enum"];
    assert!(
        words
            .as_array()
            .is_some_and(|w| w.contains(&json!("true RMS")))
    );
    let mut keys = Vec::new();
    walk(&datasheet_schema(), "", &mut keys);
    assert!(
        keys.iter().any(|k| k == ".protector.point.hot_from"),
        "{keys:?}"
    );
    let mut keys = Vec::new();
    walk(&targets_schema(), "", &mut keys);
    for known in [
        ".free.stock",
        ".free.among",
        ".want.at_most",
        ".want.current",
    ] {
        assert!(keys.iter().any(|k| k == known), "{known}: {keys:?}");
    }
}
