//! One property of a material: a number, a polynomial or a table, with range, source and
//! uncertainty.

use super::{ExpansionKind, Law, Pchip, Property, PropertyKind};
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::quantity::Dimension;

/// What a kind of property may be: unit and sane size, in SI.
pub(crate) fn rules(kind: PropertyKind) -> (Dimension, Bounds) {
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

pub(super) const TEMPERATURE: Bounds = Bounds::between(
    1.0,
    5000.0,
    "a temperature above absolute zero, in degC, K or degF",
);

/// Source key and whether the value is from memory; inline materials may leave the source out.
pub(super) fn source(p: &TableReader<'_>, inline: bool) -> (Option<String>, bool) {
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

/// Whether the expansion is a mean or an instantaneous coefficient; `None` after a problem.
pub(super) fn expansion_kind_of(p: &TableReader<'_>) -> Option<ExpansionKind> {
    // Asked for here, so that a slip in `kind` does not make it unknown.
    let _ = p.has("from");
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
        idle(p, "from", "belongs to a mean coefficient");
        Some(ExpansionKind::Instantaneous)
    }
}

/// One property: `value`, `value` with `temperature_coefficient` and `reference`, `polynomial` with
/// `reference`, or `table`.
pub(super) fn property(p: &TableReader<'_>, kind: PropertyKind, inline: bool) -> Option<Property> {
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
        tolerance_of_value(p),
    );
    let (source, from_memory) = source(p, inline);
    let (law, valid_k) = (law?, valid_k?);
    stays_sane(p, &law, valid_k, kind).then_some(())?;
    Some(Property {
        law,
        valid_k,
        source: source?,
        relative_uncertainty: relative_uncertainty?,
        from_memory,
    })
}

/// Relative standard uncertainty written beside `value`; 0 if none is.
fn tolerance_of_value(p: &TableReader<'_>) -> f64 {
    p.document()
        .tolerance(&format!("{}.value", p.path()))
        .map_or(0.0, |t| t.standard_uncertainty_si / t.value_si.abs())
}

/// A law may be sane where it is written and leave sanity within its range, as a steep coefficient
/// does.
fn stays_sane(p: &TableReader<'_>, law: &Law, valid_k: (f64, f64), kind: PropertyKind) -> bool {
    let (_, bounds) = rules(kind);
    let steps = 64;
    for i in 0..=steps {
        let t_k = valid_k.0 + (valid_k.1 - valid_k.0) * f64::from(i) / f64::from(steps);
        if !bounds.allows(law.at(t_k)) {
            let (unit, scale) = kind.shown_unit();
            let message = format!(
                "the {} would be {:.3} {unit} at {:.0} degC",
                kind.label(),
                law.at(t_k) / scale,
                t_k - ZERO_CELSIUS_K
            );
            p.report(
                Problem::new(p.span(), message)
                    .label("within its range of validity")
                    .help(
                        "give the `range` in which it holds, for example `range \
                           = [\"-60 degC\", \"300 degC\"]`",
                    ),
            );
            return false;
        }
    }
    true
}

fn law(p: &TableReader<'_>, dimension: Dimension, bounds: Bounds) -> Option<Law> {
    let forms: Vec<&str> = ["value", "polynomial", "table"]
        .into_iter()
        .filter(|form| p.has(form))
        .collect();
    // Asked for here, so that a slip elsewhere does not make them unknown.
    let (coefficient, reference) = (p.has("temperature_coefficient"), p.has("reference"));
    if forms == ["table"] || forms == ["polynomial"] {
        idle(p, "temperature_coefficient", "belongs to a `value`");
    }
    if forms == ["table"] || (forms == ["value"] && reference && !coefficient) {
        idle(
            p,
            "reference",
            "belongs to a `temperature_coefficient` or a `polynomial`",
        );
    }
    match forms[..] {
        ["value"] => value(p, dimension, bounds),
        ["polynomial"] => polynomial(p, dimension, bounds),
        ["table"] => table(p, dimension, bounds),
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

/// Report a key that has no effect where it stands.
fn idle(p: &TableReader<'_>, key: &'static str, why: &str) {
    if p.has(key) {
        p.report(Problem::new(p.span_of(key), format!("`{key}` {why}")).label("no effect here"));
    }
}

fn value(p: &TableReader<'_>, dimension: Dimension, bounds: Bounds) -> Option<Law> {
    let value = p.required("value", dimension, bounds);
    if !p.has("temperature_coefficient") {
        return Some(Law::Constant(value?.value));
    }
    let coefficient = p.optional(
        "temperature_coefficient",
        Dimension::PerKelvin,
        Bounds::between(-0.02, 0.02, "metals lie between -0.001 and 0.007 1/K"),
    );
    let reference = p.required("reference", Dimension::Temperature, TEMPERATURE);
    let value = value?.value;
    Some(Law::Polynomial {
        reference_k: reference?.value,
        coefficients: vec![value, value * coefficient?.value],
    })
}

fn polynomial(p: &TableReader<'_>, dimension: Dimension, bounds: Bounds) -> Option<Law> {
    let reference = p.required("reference", Dimension::Temperature, TEMPERATURE);
    let items = p.items("polynomial", "[\"10.5 W/(m K)\", \"0.010 W/(m K2)\"]")?;
    if items.is_empty() || items.len() > 9 {
        let message = "a polynomial has one to nine coefficients";
        p.report(Problem::new(p.span_of("polynomial"), message));
        return None;
    }
    let read: Vec<Option<f64>> = (0..)
        .zip(&items)
        .map(|(power, item)| {
            let bounds = if power == 0 { bounds } else { Bounds::ANY };
            p.quantity_in("polynomial", item, dimension, power, bounds)
                .map(|r| r.value)
        })
        .collect();
    Some(Law::Polynomial {
        reference_k: reference?.value,
        coefficients: read.into_iter().collect::<Option<_>>()?,
    })
}

fn table(p: &TableReader<'_>, dimension: Dimension, bounds: Bounds) -> Option<Law> {
    let dimensions = (Dimension::Temperature, dimension);
    let pairs = p.pairs("table", dimensions, (TEMPERATURE, bounds))?;
    let points: Vec<(f64, f64)> = pairs.iter().map(|(a, b)| (a.value, b.value)).collect();
    match Pchip::through(&points) {
        Ok(curve) => Some(Law::Table(curve)),
        Err(e) => {
            p.report(Problem::new(p.span_of("table"), e.to_string()));
            None
        }
    }
}
