//! Material files, and the alloys that a scenario defines itself in the same form.

use super::read_property::{TEMPERATURE, expansion_kind_of, property, rules, source};
use super::reference::Reference;
use super::sheet::{MaterialKind, Note, Relaxation, Sheet, Sourced, WireStrength};
use super::{Alloy, ContactMetal, Property, PropertyKind};
use crate::diagnostic::{Problem, Report};
use crate::document::{Bounds, Document, TableReader};
use crate::quantity::Dimension;

/// Read one file of the library.
pub(super) fn read_sheet(file_name: &str, text: &str) -> Result<Sheet, Report> {
    let document = Document::parse(file_name, text);
    let sheet = sheet(&document.root(), None);
    document.finish()?;
    // A sheet that could not be made left a problem behind.
    sheet.ok_or_else(|| {
        Report::new(
            file_name,
            text,
            vec![Problem::new(0..0, "this is not a material file")],
        )
    })
}

/// Read the sources.
pub(super) fn read_references(file_name: &str, text: &str) -> Result<Vec<Reference>, Report> {
    let document = Document::parse(file_name, text);
    let root = document.root();
    let list = root
        .tables("reference")
        .iter()
        .filter_map(|t| {
            let key = t.required_text("key", "\"smith-1999\"");
            let citation = t.required_text("citation", "\"A. Smith, Title, 1999\"");
            t.finish();
            Some(Reference {
                key: key?.value,
                citation: citation?.value,
            })
        })
        .collect();
    root.finish();
    document.finish()?;
    Ok(list)
}

/// Read an alloy that a scenario defines itself; `None` after a problem.
///
/// The table holds `name` and the properties in the form of the files in `materials/`. A property
/// may leave out `range` (then it holds from 150 to 1300 K), `source` (the scenario) and
/// `uncertainty` (the tolerance beside its value, or 0).
pub fn read_alloy(table: &TableReader<'_>) -> Option<Alloy> {
    sheet(table, Some(MaterialKind::Strip))?.alloy()
}

/// Read a contact metal that a scenario defines itself; `None` after a problem.
pub fn read_contact_metal(table: &TableReader<'_>) -> Option<ContactMetal> {
    sheet(table, Some(MaterialKind::Contact))?.contact_metal()
}

/// Everything a material table says. `inline`: the kind a scenario's own table has; it then needs
/// no `kind`, and a missing source is "this scenario".
fn sheet(t: &TableReader<'_>, inline: Option<MaterialKind>) -> Option<Sheet> {
    let name = t.required_text("name", "\"my alloy\"");
    let kind = match inline {
        Some(kind) => Some(kind),
        None => {
            if !t.has("kind") {
                t.missing("kind", "\"strip alloy\"");
            }
            let kinds = [
                MaterialKind::Strip,
                MaterialKind::Spring,
                MaterialKind::StripAndSpring,
                MaterialKind::Contact,
            ];
            t.choice("kind", &kinds.map(|k| (k.label(), k)))
                .map(|r| r.value)
        }
    };
    let summary = t
        .text("summary", "\"what it is\"")
        .map(|r| r.value)
        .unwrap_or_default();
    let aliases = aliases(t);
    let mut notes = Vec::new();
    let mut properties = Vec::new();
    let mut expansion_kind = None;
    let mut whole = true;
    for kind in PropertyKind::ALL {
        let Some(p) = t.table(kind.key()) else {
            continue;
        };
        if kind == PropertyKind::Expansion {
            expansion_kind = expansion_kind_of(&p);
            whole &= expansion_kind.is_some();
        }
        note(&p, kind.key(), &mut notes);
        match property(&p, kind, inline.is_some()) {
            Some(property) => properties.push((kind, property)),
            None => whole = false,
        }
        p.finish();
    }
    let mut single = |key: &'static str, dimension, bounds| {
        let p = t.table(key)?;
        note(&p, key, &mut notes);
        let value = p.required("value", dimension, bounds);
        let (source, from_memory) = source(&p, inline.is_some());
        p.finish();
        Some(Sourced {
            value_si: value?.value,
            source: source?,
            from_memory,
        })
    };
    let highest_recommended = single("highest_recommended", Dimension::Temperature, TEMPERATURE);
    let volts = Bounds::between(
        0.01,
        3.0,
        "contact metals soften at about 0.1 V and melt below 1.5 V",
    );
    let softening_voltage = single("softening_voltage", Dimension::Voltage, volts);
    let melting_voltage = single("melting_voltage", Dimension::Voltage, volts);
    let wire_strength = wire_strength(t, &mut notes);
    let relaxation = relaxation(t, &mut notes);
    t.finish();
    let (name, kind) = (name?, kind?);
    if whole {
        whole = complete(t, kind, &properties);
    }
    if kind == MaterialKind::Contact && softening_voltage.is_none() && !t.has("softening_voltage") {
        t.missing("softening_voltage", "{ value = \"0.09 V\" }");
        whole = false;
    }
    whole.then_some(Sheet {
        name: name.value,
        aliases,
        kind,
        summary,
        properties,
        expansion_kind,
        highest_recommended,
        softening_voltage,
        melting_voltage,
        wire_strength,
        relaxation,
        notes,
    })
}

fn aliases(t: &TableReader<'_>) -> Vec<String> {
    let Some(items) = t.items("aliases", "[\"another name\"]") else {
        return Vec::new();
    };
    let mut names = Vec::new();
    for item in items {
        match item.get_ref().as_str() {
            Some(name) => names.push(name.to_owned()),
            None => t.report(Problem::new(item.span(), "an alias is a text")),
        }
    }
    names
}

fn complete(
    t: &TableReader<'_>,
    kind: MaterialKind,
    properties: &[(PropertyKind, Property)],
) -> bool {
    let mut whole = true;
    for needed in kind.needs() {
        if !properties.iter().any(|(k, _)| k == needed) {
            let (dimension, _) = rules(*needed);
            t.missing(
                needed.key(),
                &format!("{{ value = \"{}\" }}", dimension.example()),
            );
            whole = false;
        }
    }
    whole
}

fn note(p: &TableReader<'_>, key: &'static str, notes: &mut Vec<Note>) {
    if let Some(text) = p.text("note", "\"a remark\"") {
        notes.push(Note {
            key,
            text: text.value,
        });
    }
}

fn wire_strength(t: &TableReader<'_>, notes: &mut Vec<Note>) -> Option<WireStrength> {
    let p = t.table("wire_strength")?;
    note(&p, "wire_strength", notes);
    let at = p.required(
        "at_1_mm",
        Dimension::Pressure,
        Bounds::between(1e8, 1e10, ""),
    );
    if !p.has("exponent") {
        p.missing("exponent", "0.145");
    }
    let exponent = p.fraction("exponent", Bounds::between(0.0, 1.0, ""));
    let (source, from_memory) = source(&p, false);
    p.finish();
    Some(WireStrength {
        at_1_mm_pa: at?.value,
        exponent: exponent?.value,
        source: source?,
        from_memory,
    })
}

fn relaxation(t: &TableReader<'_>, notes: &mut Vec<Note>) -> Option<Relaxation> {
    let p = t.table("relaxation")?;
    note(&p, "relaxation", notes);
    let first = p.fraction("first_loading_loss", Bounds::between(0.0, 0.5, ""));
    let (source, _) = source(&p, false);
    p.finish();
    Some(Relaxation {
        first_loading_loss: first.map(|f| f.value),
        source: source?,
    })
}
