//! Material files, and the alloys that a scenario defines itself in the same form.

use super::library::Reference;
use super::sheet::{MaterialKind, Note, Relaxation, Sheet, Sourced};
use super::{Alloy, ContactMetal, ExpansionKind, Law, Pchip, Property, PropertyKind, WireStrength};
use crate::diagnostic::{Problem, Report};
use crate::document::{Bounds, Document, TableReader};
use crate::quantity::Dimension;

/// What a kind of property may be: unit and sane size, in SI.
fn rules(kind: PropertyKind) -> (Dimension, Bounds) {
    use PropertyKind as P;
    match kind {
        P::Density => (
            Dimension::Density,
            Bounds::between(500.0, 25_000.0, "metals weigh 1.7 to 22 g/cm3"),
        ),
        P::YoungsModulus | P::ShearModulus => (
            Dimension::Pressure,
            Bounds::between(1e9, 1e12, "moduli of metals lie between 10 and 450 GPa"),
        ),
        P::Resistivity => (
            Dimension::Resistivity,
            Bounds::between(1e-9, 1e-4, "metals lie between 0.016 and 2 uohm m"),
        ),
        P::Conductivity => (
            Dimension::Conductivity,
            Bounds::between(0.1, 3000.0, "metals lie between 5 and 430 W/(m K)"),
        ),
        P::SpecificHeat => (
            Dimension::SpecificHeat,
            Bounds::between(50.0, 5000.0, "metals lie between 120 and 1000 J/(kg K)"),
        ),
        P::Expansion => (
            Dimension::PerKelvin,
            Bounds::between(-5e-5, 2e-4, "metals lie between -1e-6 and 40e-6 1/K"),
        ),
        P::PoissonRatio => (
            Dimension::Fraction,
            Bounds::between(0.0, 0.5, "metals lie near 0.3"),
        ),
        P::YieldStrength => (
            Dimension::Pressure,
            Bounds::between(1e6, 1e10, "metals lie between 20 and 3000 MPa"),
        ),
        P::Hardness => (
            Dimension::Pressure,
            Bounds::between(1e7, 1e11, "contact metals lie between 0.2 and 5 GPa"),
        ),
    }
}

const TEMPERATURE: Bounds = Bounds::between(
    1.0,
    5000.0,
    "a temperature above absolute zero, in degC, K or degF",
);

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
pub fn read_alloy(table: &TableReader<'_>) -> Option<Alloy> {
    sheet(table, Some(MaterialKind::Strip))?.alloy()
}

/// Read a contact metal that a scenario defines itself; `None` after a problem.
pub fn read_contact_metal(table: &TableReader<'_>) -> Option<ContactMetal> {
    sheet(table, Some(MaterialKind::Contact))?.contact_metal()
}

/// Everything a material table says. `inline`: the kind a scenario's own table has; it then needs no
/// `kind`, and a missing source is "this scenario".
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
    items
        .iter()
        .filter_map(|i| i.get_ref().as_str().map(str::to_owned))
        .collect()
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

fn source(p: &TableReader<'_>, inline: bool) -> (Option<String>, bool) {
    let from_memory = p.boolean("from_memory").is_some_and(|b| b.value);
    let source = match p.text("source", "\"smith-1999\"") {
        Some(s) => Some(s.value),
        None if inline => Some("this scenario".to_owned()),
        None => {
            if !p.has("source") {
                p.missing("source", "\"memory\"");
            }
            None
        }
    };
    (source, from_memory)
}

fn expansion_kind_of(p: &TableReader<'_>) -> Option<ExpansionKind> {
    if !p.has("kind") {
        p.missing(
            "kind",
            "\"mean\" (from a reference temperature) or \"instantaneous\"",
        );
        return None;
    }
    let mean = p.choice("kind", &[("mean", true), ("instantaneous", false)])?;
    if mean.value {
        let from = p.required("from", Dimension::Temperature, TEMPERATURE)?;
        Some(ExpansionKind::Mean {
            reference_k: from.value,
        })
    } else {
        Some(ExpansionKind::Instantaneous)
    }
}

/// One property: `value`, `value` with `temperature_coefficient` and `reference`, `polynomial` with
/// `reference`, or `table`.
fn property(p: &TableReader<'_>, kind: PropertyKind, inline: bool) -> Option<Property> {
    let (dimension, bounds) = rules(kind);
    let law = law(p, dimension, bounds);
    let range = p
        .items("range", "[\"-60 degC\", \"300 degC\"]")
        .and_then(|items| {
            let read: Vec<f64> = items
                .iter()
                .filter_map(|v| p.quantity_in("range", v, Dimension::Temperature, 0, TEMPERATURE))
                .map(|r| r.value)
                .collect();
            match read[..] {
                [low, high] if low < high => Some((low, high)),
                _ => {
                    p.report(
                        Problem::new(p.span_of("range"), "a range is two rising temperatures")
                            .help("for example `range = [\"-60 degC\", \"300 degC\"]`"),
                    );
                    None
                }
            }
        });
    let valid_k = match (range, p.has("range")) {
        (Some(r), _) => Some(r),
        (None, true) => None,
        // A scenario's own alloy without a range is taken as good wherever metals are solid.
        (None, false) if inline => Some((150.0, 1300.0)),
        (None, false) => {
            p.missing("range", "[\"-60 degC\", \"300 degC\"]");
            None
        }
    };
    let relative_uncertainty = p.or(
        "uncertainty",
        Dimension::Fraction,
        Bounds::between(0.0, 1.0, "a relative standard uncertainty"),
        0.0,
    );
    let (source, from_memory) = source(p, inline);
    Some(Property {
        law: law?,
        valid_k: valid_k?,
        source: source?,
        relative_uncertainty: relative_uncertainty?,
        from_memory,
    })
}

fn law(p: &TableReader<'_>, dimension: Dimension, bounds: Bounds) -> Option<Law> {
    let forms: Vec<&str> = [
        ("value", p.has("value")),
        ("polynomial", p.has("polynomial")),
        ("table", p.has("table")),
    ]
    .iter()
    .filter(|(_, there)| *there)
    .map(|(k, _)| *k)
    .collect();
    match forms[..] {
        ["value"] => {
            let value = p.required("value", dimension, bounds)?.value;
            let coefficient = p.optional(
                "temperature_coefficient",
                Dimension::PerKelvin,
                Bounds::between(-0.02, 0.02, ""),
            );
            if !p.has("temperature_coefficient") {
                return Some(Law::Constant(value));
            }
            let reference_k = p
                .required("reference", Dimension::Temperature, TEMPERATURE)?
                .value;
            Some(Law::Polynomial {
                reference_k,
                coefficients: vec![value, value * coefficient?.value],
            })
        }
        ["polynomial"] => {
            let items = p.items("polynomial", "[\"10.5 W/(m K)\", \"0.010 W/(m K2)\"]")?;
            let read: Vec<Option<f64>> = items
                .iter()
                .enumerate()
                .map(|(i, v)| {
                    let bounds = if i == 0 { bounds } else { Bounds::ANY };
                    p.quantity_in("polynomial", v, dimension, i as u8, bounds)
                        .map(|r| r.value)
                })
                .collect();
            let reference_k = p.required("reference", Dimension::Temperature, TEMPERATURE);
            let coefficients: Vec<f64> = read.into_iter().collect::<Option<_>>()?;
            if coefficients.is_empty() {
                p.report(Problem::new(
                    p.span_of("polynomial"),
                    "a polynomial needs at least its constant term",
                ));
                return None;
            }
            Some(Law::Polynomial {
                reference_k: reference_k?.value,
                coefficients,
            })
        }
        ["table"] => {
            let pairs = p.pairs(
                "table",
                (Dimension::Temperature, dimension),
                (TEMPERATURE, bounds),
            )?;
            let points: Vec<(f64, f64)> = pairs.iter().map(|(a, b)| (a.value, b.value)).collect();
            match Pchip::through(&points) {
                Ok(curve) => Some(Law::Table(curve)),
                Err(e) => {
                    p.report(Problem::new(p.span_of("table"), e.to_string()));
                    None
                }
            }
        }
        [] => {
            p.missing("value", &format!("\"{}\"", dimension.example()));
            None
        }
        _ => {
            p.report(
                Problem::new(
                    p.span(),
                    format!("only one of `{}` can hold", forms.join("`, `")),
                )
                .help("keep one of `value`, `polynomial`, `table`"),
            );
            None
        }
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
