//! The part in a few numbers.

use super::PredictError;
use super::case::Case;
use super::outcome::{Across, DiscPart, Part};
use super::trip_point::{closed_steady, relatch_temperature_k, trip_temperature_k};
use crate::device::{Drive, Model, Plant};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::Scenario;
use crate::solve::Event;

/// Describe a part. `compliance_m_per_n` is that at release (or at the trip point).
pub fn describe(
    scenario: &Scenario,
    model: &Model,
    case: &Case,
    compliance_m_per_n: f64,
) -> Result<Part, PredictError> {
    let device = &model.device;
    let reference_k = scenario.protector.reference_ambient_k;
    let rated = scenario.protector.rated_current_a;
    let flat = device.laws.flat_temperature_k;
    let trip_k = trip_temperature_k(model);
    let hot = trip_k.unwrap_or(flat + 80.0);
    let bend = |t| device.laws.bend(t).curvature_per_m;
    let steady =
        closed_steady(model, rated, reference_k, &model.uniform(reference_k))?.filter(|y| {
            let plant = Plant {
                model,
                drive: Drive::constant(rated, reference_k),
            };
            plant.release().value(0.0, y) < 0.0
        });
    let plant = Plant {
        model,
        drive: Drive::constant(rated, reference_k),
    };
    let power_at_rated_w = steady.as_ref().map(|y| plant.own_power_w(0.0, y));
    let diameter_mm = device.disc().map(|disc| 2e3 * disc.radius_m);
    let as_new = device.contact_as_new_ohm();
    let (mechanism, loss) = (model.mechanism(), device.release.preload_loss);
    Ok(Part {
        rated_current_a: rated,
        reference_ambient_c: reference_k - ZERO_CELSIUS_K,
        ambient_c: case.ambient_k() - ZERO_CELSIUS_K,
        ambient_range_c: case
            .ambient_range_k()
            .map(|k| k.map(|k| k - ZERO_CELSIUS_K)),
        mechanism: device.release.mechanism.kind(),
        reset: device.release.reset,
        layer_alloys: device
            .laws
            .layers
            .iter()
            .map(|l| l.alloy.name.clone())
            .collect(),
        layer_thicknesses_mm: device
            .laws
            .layers
            .iter()
            .map(|l| 1e3 * l.thickness_m)
            .collect(),
        thickness_mm: 1e3 * device.laws.thickness_m,
        length_mm: diameter_mm.unwrap_or(1e3 * device.length_m),
        push_point_mm: diameter_mm.map_or(1e3 * device.push_point_m, |d| 0.5 * d),
        width_mm: diameter_mm.unwrap_or(1e3 * device.laws.width_m),
        flexivity_per_k: (bend(hot) - bend(flat)) * device.laws.thickness_m / (hot - flat),
        resistance_ohm: device.resistance_ohm(reference_k),
        power_at_rated_w,
        drop_at_rated_mv: steady
            .as_ref()
            .and_then(|y| plant.drop_v(0.0, y))
            .map(|drop| 1e3 * drop),
        preload_share: mechanism.preload_share(compliance_m_per_n, loss),
        preload_loss: loss,
        release_travel_mm: 1e3 * mechanism.release_deflection_m(0.0, loss),
        release_deflection_mm: 1e3 * mechanism.release_deflection_m(compliance_m_per_n, loss),
        relatch_travel_mm: (device.release.mechanism.latch()).map(|l| 1e3 * l.relatch_travel_m),
        trip_temperature_c: trip_k.map(|t| t - ZERO_CELSIUS_K),
        relatch_temperature_c: relatch_temperature_k(model).map(|t| t - ZERO_CELSIUS_K),
        time_constant_s: steady
            .as_ref()
            .map(|y| strip_time_constant_s(model, &plant, y, reference_k)),
        contact_resistance_new_ohm: as_new.0 + as_new.1,
        contact_resistance_ohm: device.contact.resistance_ohm,
        section_stiffness_n_m2: device.laws.bend(flat).stiffness_n_m2,
        compliance_mm_per_n: 1e3 * compliance_m_per_n,
        blade_thrust_n: mechanism
            .at_snap(model, &model.uniform(hot), 0.0, &[])
            .map(|snap| snap.thrust_n),
        disc: device.disc().map(|disc| DiscPart {
            diameter_mm: 2e3 * disc.radius_m,
            rise_mm: 1e3 * disc.rise_m,
            creeps: disc.creeps(model),
            one_term_relative: disc.one_term_relative(model),
        }),
        through_thickness: match &device.through {
            None => Across::OneTemperature,
            Some(law) => Across::Resolved { modes: law.len() },
        },
    })
}

/// Heat stored in the strip over the heat made in it, at a steady state: the time in which it would
/// lose what it holds.
fn strip_time_constant_s(model: &Model, plant: &Plant<'_>, y: &[f64], ambient_k: f64) -> f64 {
    let laws = &model.device.laws;
    let (mut stored, mut made) = (0.0, 0.0);
    for (j, w) in model.grid.weight_m.iter().enumerate() {
        stored += w * laws.heat_j_per_m(ambient_k, y[j]);
        made += w * model.resistance_per_m(y, j) * plant.strip_current_squared(0.0);
    }
    if let (Some(i), Some(w)) = (model.layout.winding, &model.device.winding) {
        made += w.conductance_to_strip_w_per_k * (y[i] - model.mean_k(y));
    }
    stored / made
}
