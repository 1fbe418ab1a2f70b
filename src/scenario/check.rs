//! What only several tables together can show to be wrong.

use super::{Convection, Release, Scenario, ShuntNode, Strip};
use crate::diagnostic::Problem;
use crate::document::TableReader;
use crate::physics::layered_section::{Section, SectionLayer};
use std::ops::Range;

/// Which tables were read without a problem, so that the others are still checked.
pub(super) struct Whole {
    pub strip: bool,
    pub release: bool,
    /// Also where there is none.
    pub housing: bool,
    pub terminals: bool,
}

/// Report contradictions between tables.
pub(super) fn check(root: &TableReader<'_>, whole: &Whole, s: &Scenario) {
    if s.release.mechanism.disc().is_some() {
        disc(root, s);
    }
    if whole.strip {
        proportions(root, &s.strip, &s.release);
        shunt(root, &s.strip, whole.housing && s.housing.is_none());
        if whole.release {
            bending(root, &s.strip, &s.release);
        }
    }
    if whole.release && whole.housing && s.housing.is_none() {
        follows_air(root, s);
    }
    if let Some(housing) = &s.housing
        && whole.housing
        && whole.terminals
        && housing.conductance_w_per_k <= 0.0
        && s.clamped_terminal.conductance_w_per_k <= 0.0
        && s.fixed_contact.conductance_w_per_k <= 0.0
    {
        root.report(
            Problem::new(
                root.span_of("housing"),
                "no heat can leave this protector: terminals and housing have no conductance",
            )
            .help("give at least one of them a conductance above zero"),
        );
    }
}

/// What follows the air must have some.
fn follows_air(root: &TableReader<'_>, s: &Scenario) {
    let latch = s.release.mechanism.latch();
    if latch.is_some_and(|l| l.compensating_m.is_some()) {
        let text = "a compensating strip feels the air of the housing, and there is no [housing]";
        let problem = Problem::new(place(root, "latch", "compensating_strip"), text);
        root.report(problem.help("add [housing], or leave `compensating_strip` out"));
    }
}

/// What a disc does not go with.
fn disc(root: &TableReader<'_>, s: &Scenario) {
    let lies = matches!(
        s.cooling.convection,
        Convection::Flat
            | Convection::Constant { .. }
            | Convection::Forced { .. }
            | Convection::Gap { .. }
    );
    if root.has("cooling") && !lies {
        let text = "a disc lies `flat`, or its posture is `constant`, `forced` or `gap`";
        let span = place(root, "cooling", "posture");
        root.report(Problem::new(span, text).label("of a strip"));
    }
    if s.magnetic.is_some() {
        let text = "an instantaneous element beside a disc is not modelled";
        let problem = Problem::new(root.span_of("magnetic"), text);
        root.report(problem.help("remove [magnetic] and what belongs to it"));
    }
}

/// Place of a key inside a table of the file.
fn place(root: &TableReader<'_>, table: &'static str, key: &str) -> Range<usize> {
    root.table(table).map_or(root.span(), |t| t.span_of(key))
}

fn shunt(root: &TableReader<'_>, strip: &Strip, no_housing: bool) {
    let Some(node) = strip.shunt_heat_to else {
        return;
    };
    let span = place(root, "strip", "shunt_heat_to");
    if node == ShuntNode::Housing && no_housing {
        root.report(
            Problem::new(
                span.clone(),
                "the shunt's heat is to go to the housing, but there is no [housing]",
            )
            .help("add [housing], or name another node"),
        );
    }
    if strip.current_share >= 1.0 {
        root.report(
            Problem::new(
                span,
                "`shunt_heat_to` is given, but the whole current flows through the strip",
            )
            .help("give `current_share` below 1"),
        );
    }
}

/// The latch must come back to relatch: to less than the deflection at which it was released, which
/// is the clearance plus the push against the spring.
fn relatch_below_release(
    root: &TableReader<'_>,
    strip: &Strip,
    release: &Release,
    section: &Section,
) {
    let Some(latch) = release.mechanism.latch() else {
        return;
    };
    let stiffness = strip.width_m * section.bending_stiffness_n_m();
    let compliance = strip.push_point_m.powi(3) / (3.0 * stiffness);
    let released_at = latch.release_travel_m + compliance * release.force_n();
    if latch.relatch_travel_m > released_at {
        let span = place(root, "latch", "relatch_travel");
        root.report(
            Problem::new(span, "the latch would relatch before it releases")
                .label(format!("it releases at {:.3} mm", 1e3 * released_at))
                .note("that is the release travel plus the push against the preload")
                .help("the strip must come back: make `relatch_travel` smaller"),
        );
    }
}

fn proportions(root: &TableReader<'_>, strip: &Strip, release: &Release) {
    let thickness: f64 = strip.layers.iter().map(|l| l.thickness_m).sum();
    let span = root.span_of("strip");
    if thickness <= 0.0 {
        root.report(Problem::new(
            span.clone(),
            "the layers of the strip are zero thick together",
        ));
        return;
    }
    if release.mechanism.disc().is_some() {
        return;
    }
    if strip.length_m < 5.0 * thickness {
        root.report(
            Problem::new(
                span.clone(),
                "the strip is a block: it is less than five times as long as thick",
            )
            .label(format!(
                "{:.3} mm long, {:.3} mm thick",
                1e3 * strip.length_m,
                1e3 * thickness
            ))
            .help("beam theory needs a slender strip; are the units right?"),
        );
    }
    if strip.length_m < strip.width_m {
        root.report(
            Problem::new(span, "the strip is wider than long")
                .label(format!(
                    "{:.3} mm long, {:.3} mm wide",
                    1e3 * strip.length_m,
                    1e3 * strip.width_m
                ))
                .help("are `length` and `width` exchanged?"),
        );
    }
}

/// Heating must bend the strip towards the release: listed from the low-expansion side.
fn bending(root: &TableReader<'_>, strip: &Strip, release: &Release) {
    let flat = strip.flat_temperature_k;
    let section = Section::of(strip.layers.iter().map(|l| SectionLayer {
        thickness_m: l.thickness_m,
        modulus_pa: l.alloy.youngs_modulus.at(flat + 50.0),
        thermal_strain: l.alloy.expansion.strain_with_slope(flat, flat + 50.0).0,
    }));
    relatch_below_release(root, strip, release, &section);
    let curvature = section.thermal_curvature_per_m();
    if curvature < 0.0 {
        let names: Vec<&str> = strip.layers.iter().map(|l| l.alloy.name.as_str()).collect();
        let reversed: Vec<&str> = names.iter().rev().copied().collect();
        let away = release.mechanism.bends_away();
        root.report(
            Problem::new(
                place(root, "strip", "layer"),
                format!(
                    "the layers are listed the wrong way round: heating bends this strip {away}"
                ),
            )
            .label(names.join(", "))
            .help(format!(
                "list them from the low-expansion to the high-expansion side: {}",
                reversed.join(", ")
            )),
        );
    }
}
