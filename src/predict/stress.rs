//! Stress through the thickness where the strip comes nearest to yielding.

use super::outcome::{LoadedBy, Moment, StressAcross, StressLayer};
use crate::device::Model;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::physics::layered_section::{LayerStress, stresses};

/// A station of the strip and what loads the section there, per unit width.
struct Station {
    x_m: f64,
    temperature_k: f64,
    axial_n_per_m: f64,
    moment_n: f64,
}

/// Stress at one state: the free strip, and the strip loaded as just before release (a latch: by
/// the release force, whose bending is largest at the clamp; a blade: by its thrust and its bow).
pub(super) fn stress_across(
    model: &Model,
    y: &[f64],
    current_squared: f64,
    moment: Moment,
) -> StressAcross {
    let laws = &model.device.laws;
    let mechanism = model.mechanism();
    let blade = mechanism.at_snap(model, y, current_squared, &model.grid.x_m);
    let force_n = model.release_force_n();
    let loaded_by = if blade.is_some() {
        LoadedBy::ThrustAndBow
    } else {
        LoadedBy::LatchPush
    };
    let stations = model.grid.x_m.iter().enumerate().map(|(j, x)| {
        let (axial_n_per_m, moment_n) = match &blade {
            Some(snap) => {
                let axial = -snap.thrust_n / laws.width_m;
                (axial, axial * snap.heights_m.get(j).copied().unwrap_or(0.0))
            }
            None => {
                let arm = (model.device.push_point_m - x).max(0.0);
                (0.0, -force_n * arm / laws.width_m)
            }
        };
        Station {
            x_m: *x,
            temperature_k: y[j],
            axial_n_per_m,
            moment_n,
        }
    });
    let judged = stations.map(|s| {
        let (free, loaded) = both(model, &s);
        let ratio = free
            .iter()
            .zip(&loaded)
            .zip(&laws.layers)
            .map(|((a, b), layer)| {
                let largest = a.largest_pa().max(b.largest_pa());
                let strength = layer.alloy.yield_strength.as_ref();
                largest / strength.map_or(1e12, |p| p.at(s.temperature_k))
            });
        (ratio.fold(0.0, f64::max), s, free, loaded)
    });
    let worst = judged.max_by(|a, b| a.0.total_cmp(&b.0));
    let mut record = StressAcross {
        moment,
        position_mm: 0.0,
        temperature_c: 0.0,
        loaded_by,
        layers: Vec::new(),
    };
    let Some((_, station, free, loaded)) = worst else {
        return record;
    };
    record.position_mm = 1e3 * station.x_m;
    record.temperature_c = station.temperature_k - ZERO_CELSIUS_K;
    let mut from_mm = 0.0;
    let mpa = |s: &LayerStress| [1e-6 * s.bottom_pa, 1e-6 * s.top_pa];
    for ((layer, free), loaded) in laws.layers.iter().zip(&free).zip(&loaded) {
        let to_mm = from_mm + 1e3 * layer.thickness_m;
        record.layers.push(StressLayer {
            alloy: layer.alloy.name.clone(),
            from_mm,
            to_mm,
            free_mpa: mpa(free),
            loaded_mpa: mpa(loaded),
            yield_mpa: layer
                .alloy
                .yield_strength
                .as_ref()
                .map(|p| 1e-6 * p.at(station.temperature_k)),
        });
        from_mm = to_mm;
    }
    record
}

fn both(model: &Model, s: &Station) -> (Vec<LayerStress>, Vec<LayerStress>) {
    let layers = model.device.laws.thermal_layers(s.temperature_k);
    (
        stresses(&layers, 0.0, 0.0),
        stresses(&layers, s.axial_n_per_m, s.moment_n),
    )
}
