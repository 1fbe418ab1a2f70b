//! What only several tables together can show to be wrong.

use super::{Mechanism, Scenario, ShuntNode};
use crate::diagnostic::Problem;
use crate::document::TableReader;
use crate::physics::layered_section::{Section, SectionLayer};

/// Report contradictions between tables.
pub(super) fn check(root: &TableReader<'_>, s: &Scenario) {
    proportions(root, s);
    bending(root, s);
    if s.strip.shunt_heat_to == Some(ShuntNode::Housing) && s.housing.is_none() {
        root.report(
            Problem::new(
                root.span_of("strip"),
                "the shunt's heat is to go to the housing, but there is no [housing]",
            )
            .help("add [housing], or name another node in `shunt_heat_to`"),
        );
    }
    if s.strip.shunt_heat_to.is_some() && s.strip.current_share >= 1.0 {
        root.report(
            Problem::new(
                root.span_of("strip"),
                "`shunt_heat_to` is given, but the whole current flows through the strip",
            )
            .help("give `current_share` below 1"),
        );
    }
    let heat_leaves = s.clamped_terminal.conductance_w_per_k > 0.0
        || s.fixed_contact.conductance_w_per_k > 0.0
        || s.housing.is_none_or(|h| h.conductance_w_per_k > 0.0);
    if s.housing.is_some() && !heat_leaves {
        root.report(
            Problem::new(
                root.span_of("housing"),
                "no heat can leave this protector: terminals and housing have no conductance",
            )
            .help("give at least one of them a conductance above zero"),
        );
    }
}

/// The latch must come back to relatch: to less than the deflection at which it was released, which is
/// the clearance plus the push against the spring.
fn relatch_below_release(root: &TableReader<'_>, s: &Scenario, section: &Section) {
    let Mechanism::Latch {
        release_travel_m,
        relatch_travel_m,
        preload_n,
        lever_ratio,
        release_force_factor,
        constant_force_n,
    } = s.release.mechanism
    else {
        return;
    };
    let stiffness = s.strip.width_m * section.bending_stiffness_n_m();
    let compliance = s.strip.push_point_m.powi(3) / (3.0 * stiffness);
    let force = release_force_factor * lever_ratio * preload_n * (1.0 - s.release.preload_loss)
        + constant_force_n;
    let released_at = release_travel_m + compliance * force;
    if relatch_travel_m > released_at {
        let span = root
            .table("latch")
            .map_or(root.span(), |t| t.span_of("relatch_travel"));
        root.report(
            Problem::new(span, "the latch would relatch before it releases")
                .label(format!("it releases at {:.3} mm", 1e3 * released_at))
                .note("that is the release travel plus the push against the preload")
                .help("the strip must come back: make `relatch_travel` smaller"),
        );
    }
}

fn proportions(root: &TableReader<'_>, s: &Scenario) {
    let thickness: f64 = s.strip.layers.iter().map(|l| l.thickness_m).sum();
    let span = root.span_of("strip");
    if thickness <= 0.0 {
        root.report(Problem::new(
            span.clone(),
            "the layers of the strip are zero thick together",
        ));
        return;
    }
    if s.strip.length_m < 5.0 * thickness {
        root.report(
            Problem::new(
                span.clone(),
                "the strip is a block: it is less than five times as long as thick",
            )
            .label(format!(
                "{:.3} mm long, {:.3} mm thick",
                1e3 * s.strip.length_m,
                1e3 * thickness
            ))
            .help("beam theory needs a slender strip; are the units right?"),
        );
    }
    if s.strip.length_m < s.strip.width_m {
        root.report(
            Problem::new(span, "the strip is wider than long")
                .label(format!(
                    "{:.3} mm long, {:.3} mm wide",
                    1e3 * s.strip.length_m,
                    1e3 * s.strip.width_m
                ))
                .help("are `length` and `width` exchanged?"),
        );
    }
}

/// Heating must bend the strip towards the release: listed from the low-expansion side.
fn bending(root: &TableReader<'_>, s: &Scenario) {
    let flat = s.strip.flat_temperature_k;
    let section = Section::of(s.strip.layers.iter().map(|l| SectionLayer {
        thickness_m: l.thickness_m,
        modulus_pa: l.alloy.youngs_modulus.at(flat + 50.0),
        thermal_strain: l.alloy.expansion.strain_with_slope(flat, flat + 50.0).0,
    }));
    relatch_below_release(root, s, &section);
    let curvature = section.thermal_curvature_per_m();
    if curvature < 0.0 {
        let names: Vec<&str> = s
            .strip
            .layers
            .iter()
            .map(|l| l.alloy.name.as_str())
            .collect();
        let reversed: Vec<&str> = names.iter().rev().copied().collect();
        let away = match s.release.mechanism {
            Mechanism::Latch { .. } => "away from the latch",
            Mechanism::SnapBlade { .. } => "with the rise instead of against it",
        };
        root.report(
            Problem::new(
                root.span_of("strip"),
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
