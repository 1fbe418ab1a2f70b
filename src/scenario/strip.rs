//! `[strip]` and its layers.

use super::mechanism::disc::has_no_strip_keys;
use super::metals::{Metals, unknown_name};
use super::rows::{Fields, table};
use super::{Layer, Scenario, SectionKind};
use crate::diagnostic::Problem;

/// Read `[strip]`.
pub(super) fn strip(f: &Fields<'_, '_>, metals: &Metals, s: &mut Scenario) -> bool {
    let of_its_kind = s.release.mechanism.disc().is_none() || has_no_strip_keys(f.t);
    let well = f.read(s) && of_its_kind;
    layers(f, metals, s) && well
}

fn layers(f: &Fields<'_, '_>, metals: &Metals, s: &mut Scenario) -> bool {
    let t = f.t;
    if !t.has("layer") {
        t.lacks(
            &["layer"],
            Problem::new(t.span(), "[strip] needs at least one [[strip.layer]]").help(
                "list the layers from the low-expansion to the high-expansion side, each \
                       with `alloy` and `thickness`",
            ),
        );
        return false;
    }
    let tables = t.tables("layer");
    let read = tables.iter().fold(true, |well, t| {
        let f = Fields::entry(t, table("strip.layer"), s.strip.layers.len());
        layer(&f, metals, s) && well
    });
    read && !tables.is_empty()
}

fn layer(f: &Fields<'_, '_>, metals: &Metals, s: &mut Scenario) -> bool {
    let name = f.text("alloy");
    let known = name.as_ref().and_then(|name| metals.alloy(&name.value));
    let thickness = f.needed("thickness");
    f.t.finish();
    let Some(name) = name else {
        return false;
    };
    let Some(alloy) = known else {
        let known = metals.alloy_names();
        f.t.report(unknown_name(name.span, "alloy", &name.value, &known));
        return false;
    };
    if s.strip.section != SectionKind::Narrow && alloy.poisson_ratio.is_none() {
        f.t.report(
            Problem::new(
                name.span,
                format!(
                    "a wide section needs the Poisson ratio of {}, which is not given",
                    alloy.name
                ),
            )
            .help("give `poisson_ratio` in its [[alloy]] table, or use `section = \"narrow\"`"),
        );
        return false;
    }
    let Some(thickness) = thickness else {
        return false;
    };
    s.strip.layers.push(Layer {
        alloy,
        thickness_m: thickness.value,
    });
    true
}
