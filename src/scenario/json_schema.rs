//! The rows as a JSON Schema (draft 2020-12), for editors that complete and check while one writes.

use super::mechanism::TABLES as MECHANISMS;
use super::rows::{Need, Number, Row, Slot, TABLES, Table, Value as Form};
use super::unread;
use crate::document::{Bounds, example_within, name_within};
use crate::material::{PropertyKind, property_rules};
use crate::quantity::{Dimension, format_si};
use serde_json::{Map, Value, json};

/// How a number with a unit begins; what follows is checked by the program, which says more.
const NUMBER: &str = "^ *[-+]?\\.?[0-9]";

/// The draft that is written.
pub(crate) const DRAFT: &str = "https://json-schema.org/draft/2020-12/schema";

/// JSON Schema of scenario files.
///
/// ```
/// let schema = relatch::internals::scenario::json_schema();
/// assert_eq!(schema["properties"]["strip"]["properties"]["length"]["type"], "string");
/// ```
pub fn json_schema() -> Value {
    let mut schema = table(&TABLES[0]);
    schema["$schema"] = json!(DRAFT);
    schema["title"] = json!("Scenario of a resettable thermal protector");
    schema["oneOf"] = json!(MECHANISMS.map(|t| json!({ "required": [t.path] })));
    // A disc has a rim in place of a clamped terminal, and its size in a table of its own.
    let strip = super::rows::table("strip");
    let needed = strip.rows().filter(|row| row.need == Need::Needed);
    let of_strips: Vec<&str> = needed.map(|row| row.key).collect();
    schema["if"] = json!({ "required": ["disc"] });
    schema["then"] = json!({ "required": ["rim"] });
    schema["else"] = json!({
        "required": ["clamped_terminal"], "properties": { "strip": { "required": of_strips } },
    });
    let kinds = [PropertyKind::Resistivity, PropertyKind::Hardness];
    let voltages = ["softening_voltage", "melting_voltage"];
    let own = "an alloy of this file's own";
    let inside = &mut schema["properties"];
    inside["alloy"] = list(metal(own, &PropertyKind::ALL, &[]), own);
    let own = "a contact metal of this file's own";
    inside["contact_metal"] = list(metal(own, &kinds, &voltages), own);
    schema
}

/// A table with its keys and the tables inside it.
fn table(of: &Table) -> Value {
    let mut keys = Map::new();
    let mut needed = Vec::new();
    for row in of.rows() {
        keys.insert(row.key.to_owned(), key(row));
        let is_needed = matches!(row.need, Need::Needed | Need::Like(_));
        if is_needed && !depends(of, row) && of.path != "strip" {
            needed.push(row.key);
        }
    }
    for inner in TABLES.iter().filter(|t| !t.path.is_empty()) {
        let (outer, name) = inner.path.rsplit_once('.').unwrap_or(("", inner.path));
        if outer != of.path {
            continue;
        }
        let one = table(inner);
        let one = if inner.list {
            list(one, inner.about)
        } else {
            one
        };
        keys.insert(name.to_owned(), one);
        if inner.needed {
            needed.push(name);
        }
    }
    object(of.about, keys, &needed)
}

/// Whether a word of its table decides if a number belongs there.
fn depends(table: &Table, row: &Row) -> bool {
    let Form::Number(Number {
        slot: Slot::Here(at),
        ..
    }) = row.value
    else {
        return false;
    };
    let mut s = unread::scenario();
    s.ageing = Some(unread::ageing());
    let words = table.rows().filter_map(|row| match row.value {
        Form::Words(words) => Some(words),
        _ => None,
    });
    let mut there = words.flatten().map(|(_, set)| {
        set(&mut s, 0);
        at(&mut s, 0).is_some()
    });
    there
        .next()
        .is_some_and(|first| there.any(|other| other != first))
}

pub(crate) fn object(about: &str, keys: Map<String, Value>, needed: &[&str]) -> Value {
    json!({
        "type": "object", "description": about, "properties": keys, "required": needed,
        "additionalProperties": false,
    })
}

pub(crate) fn list(of: Value, about: &str) -> Value {
    json!({ "type": "array", "description": about, "items": of })
}

/// What may stand behind a key, with what it says.
fn key(row: &Row) -> Value {
    let mut form = match row.value {
        Form::Number(n) => number(n, row.need),
        Form::Words(words) => json!({ "enum": words.iter().map(|(w, _)| w).collect::<Vec<_>>() }),
        Form::Text(example) => json!({ "type": "string", "examples": [example.trim_matches('"')] }),
        Form::Texts(_) => list(json!({ "type": "string" }), row.about),
        Form::Flag(_, default) => json!({ "type": "boolean", "default": default }),
        Form::Whole(most) => whole(most),
        Form::WholeOr(most, word) => json!({ "anyOf": [whole(most), { "const": word }] }),
        Form::List(dimension, bounds, _) => list(quantity(dimension, bounds), row.about),
        Form::Pairs(of) => list(
            json!({
                "type": "array", "minItems": 2, "maxItems": 2,
                "prefixItems": of.map(|(dimension, bounds)| quantity(dimension, bounds)),
            }),
            row.about,
        ),
    };
    let said = match form.get("description").and_then(Value::as_str) {
        Some(more) if more != row.about => format!("{}: {more}", row.about),
        _ => row.about.to_owned(),
    };
    let said = match row.need {
        Need::As(path) => format!("{said}; as {path} unless given"),
        Need::UpTo(path) => format!("{said}; {path} unless given, and at most that"),
        Need::Unless(other) => format!("{said}; `{other}` may stand instead"),
        _ => said,
    };
    form["description"] = json!(said);
    form
}

pub(crate) fn whole(most: u32) -> Value {
    json!({ "type": "integer", "minimum": 1, "maximum": most })
}

fn number(n: Number, need: Need) -> Value {
    let mut form = quantity(n.dimension, n.bounds);
    match need {
        Need::Or(default) if !default.is_finite() => {}
        Need::Or(default) if n.dimension == Dimension::Fraction => form["default"] = json!(default),
        Need::Or(default) => form["default"] = json!(format_si(default, n.dimension)),
        Need::Like(example) => form["examples"] = json!([example.trim_matches('"')]),
        _ => {}
    }
    match n.word {
        Some((word, _)) => json!({
            "description": form["description"].take(), "anyOf": [form, { "const": word }],
        }),
        None => form,
    }
}

/// A number with its unit; a fraction may be bare.
pub(crate) fn quantity(dimension: Dimension, bounds: Bounds) -> Value {
    let mut said = match name_within(dimension, bounds) {
        name if name == dimension.name() => format!("{name}, in {}", dimension.units().join(", ")),
        number => number.to_owned(),
    };
    if !bounds.hint().is_empty() {
        said = format!("{said}; {}", bounds.hint());
    }
    let example = example_within(dimension, bounds);
    let mut form = json!({
        "type": "string", "pattern": NUMBER, "description": said,
        "examples": [example.trim_matches('"')],
    });
    if dimension == Dimension::Fraction {
        let (least, most) = bounds.ends();
        form["type"] = json!(["number", "string"]);
        let (low, high) = (bounds.zero_allowed() || least != 0.0, bounds.most_allowed());
        form[if low { "minimum" } else { "exclusiveMinimum" }] = json!(least);
        form[if high { "maximum" } else { "exclusiveMaximum" }] = json!(most);
    }
    form
}

/// A metal that a file defines itself, in the form of the library's.
fn metal(about: &str, kinds: &[PropertyKind], voltages: &[&str]) -> Value {
    let text = |about: &str| json!({ "type": "string", "description": about });
    let any = Bounds::ANY;
    let sourced = |value: Value| {
        let flag = json!({ "type": "boolean", "description": "whether it is from memory" });
        Map::from_iter([
            ("value".to_owned(), value),
            ("source".to_owned(), text("where it comes from")),
            ("from_memory".to_owned(), flag),
            ("note".to_owned(), text("a remark")),
        ])
    };
    let single = |about: &str, dimension| object(about, sourced(quantity(dimension, any)), &[]);
    let mut keys = Map::from_iter([
        ("name".to_owned(), text("its name in this file")),
        ("summary".to_owned(), text("what it is")),
        (
            "aliases".to_owned(),
            list(text("another name"), "other names"),
        ),
        (
            "highest_recommended".to_owned(),
            single("highest recommended temperature", Dimension::Temperature),
        ),
    ]);
    for name in voltages {
        keys.insert(
            (*name).to_owned(),
            single(&name.replace('_', " "), Dimension::Voltage),
        );
    }
    for kind in kinds {
        let (dimension, bounds) = property_rules(*kind);
        let one = quantity(dimension, bounds);
        let temperature = quantity(Dimension::Temperature, any);
        let mut property = sourced(one.clone());
        let pair = json!({ "type": "array", "prefixItems": [temperature, one] });
        let ends = json!({
            "type": "array", "items": temperature, "minItems": 2, "maxItems": 2,
            "description": "lowest and highest temperature at which it holds",
        });
        let coefficients = json!({ "type": ["string", "number"] });
        for (key, form) in [
            (
                "temperature_coefficient",
                quantity(Dimension::PerKelvin, any),
            ),
            ("reference", temperature.clone()),
            (
                "polynomial",
                list(coefficients, "coefficients about the reference"),
            ),
            ("table", list(pair, "pairs of temperature and value")),
            ("range", ends),
            (
                "uncertainty",
                quantity(Dimension::Fraction, Bounds::between(0.0, 1.0, "")),
            ),
        ] {
            property.insert(key.to_owned(), form);
        }
        if *kind == PropertyKind::Expansion {
            let means = json!({
                "enum": ["mean", "instantaneous"], "description": "what the coefficient is",
            });
            property.insert("kind".to_owned(), means);
            property.insert("from".to_owned(), temperature);
        }
        keys.insert(kind.key().to_owned(), object(kind.label(), property, &[]));
    }
    object(about, keys, &["name"])
}
