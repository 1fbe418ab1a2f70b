//! `[strip]` and its layers.

use super::metals::{Metals, unknown_name};
use super::{Layer, SectionKind, ShuntNode, Strip, ThroughThickness};
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::quantity::Dimension;

/// Read `[strip]`.
pub(super) fn strip(t: &TableReader<'_>, metals: &Metals) -> Option<Strip> {
    let length = t.required(
        "length",
        Dimension::Length,
        Bounds::between(
            1e-3,
            0.5,
            "strips are 10 mm to 100 mm long; is the unit right?",
        ),
    );
    let width = t.required(
        "width",
        Dimension::Length,
        Bounds::between(
            1e-4,
            0.2,
            "strips are 1 mm to 30 mm wide; is the unit right?",
        ),
    );
    let push = match length.as_ref().map(|l| l.value) {
        Some(l) => {
            let within = Bounds::positive(
                l,
                "the push point lies on the strip, at most its length from the clamp",
            );
            t.or("push_point", Dimension::Length, within, l)
        }
        None => {
            t.has("push_point");
            None
        }
    };
    let flat = t.or(
        "flat_temperature",
        Dimension::Temperature,
        Bounds::between(173.15, 573.15, "strips are flat near room temperature"),
        293.15,
    );
    let curvature = t.or(
        "initial_curvature",
        Dimension::Curvature,
        Bounds::between(-200.0, 200.0, ""),
        0.0,
    );
    let section = t.choice_or(
        "section",
        &[
            ("narrow", SectionKind::Narrow),
            ("wide", SectionKind::WideFree),
            ("held flat", SectionKind::HeldFlat),
        ],
        SectionKind::Narrow,
    );
    let share = t.or(
        "current_share",
        Dimension::Fraction,
        Bounds::positive(1.0, "the share of the current that flows through the strip"),
        1.0,
    );
    let shunt = if t.has("shunt_heat_to") {
        let nodes = [
            ("clamped terminal", ShuntNode::ClampedTerminal),
            ("moving contact", ShuntNode::MovingContact),
            ("housing", ShuntNode::Housing),
        ];
        t.choice("shunt_heat_to", &nodes).map(|r| Some(r.value))
    } else {
        Some(None)
    };
    let through = t.choice_or(
        "through_thickness",
        &[
            ("auto", ThroughThickness::Auto),
            ("uniform", ThroughThickness::Uniform),
            ("resolved", ThroughThickness::Resolved),
        ],
        ThroughThickness::Auto,
    );
    let extrapolate = t.boolean("allow_extrapolation").is_some_and(|b| b.value);
    let layers = layers(t, metals, section.unwrap_or(SectionKind::Narrow));
    t.finish();
    Some(Strip {
        length_m: length?.value,
        width_m: width?.value,
        push_point_m: push?,
        layers: layers?,
        flat_temperature_k: flat?,
        initial_curvature_per_m: curvature?,
        section: section?,
        current_share: share?,
        shunt_heat_to: shunt?,
        through_thickness: through?,
        allow_extrapolation: extrapolate,
    })
}

fn layers(t: &TableReader<'_>, metals: &Metals, section: SectionKind) -> Option<Vec<Layer>> {
    let tables = t.tables("layer");
    if tables.is_empty() && t.has("layer") {
        return None;
    }
    if tables.is_empty() {
        t.lacks(
            &["layer"],
            Problem::new(t.span(), "[strip] needs at least one [[strip.layer]]")
                .help("list the layers from the low-expansion to the high-expansion side, each with `alloy` and `thickness`"),
        );
        return None;
    }
    let mut layers = Vec::new();
    let mut whole = true;
    for table in &tables {
        match layer(table, metals, section) {
            Some(l) => layers.push(l),
            None => whole = false,
        }
    }
    whole.then_some(layers)
}

fn layer(t: &TableReader<'_>, metals: &Metals, section: SectionKind) -> Option<Layer> {
    let name = t.required_text("alloy", "\"Fe-36Ni\"");
    let thickness = t.required(
        "thickness",
        Dimension::Length,
        Bounds::between(
            0.0,
            0.01,
            "layers of strips are 0.01 mm to 2 mm thick; did you mean mm?",
        ),
    );
    t.finish();
    let name = name?;
    let Some(alloy) = metals.alloy(&name.value) else {
        t.report(unknown_name(
            name.span,
            "alloy",
            &name.value,
            &metals.alloy_names(),
        ));
        return None;
    };
    if section != SectionKind::Narrow && alloy.poisson_ratio.is_none() {
        t.report(
            Problem::new(
                name.span,
                format!(
                    "a wide section needs the Poisson ratio of {}, which is not given",
                    alloy.name
                ),
            )
            .help("give `poisson_ratio` in its [[alloy]] table, or use `section = \"narrow\"`"),
        );
        return None;
    }
    Some(Layer {
        alloy,
        thickness_m: thickness?.value,
    })
}
