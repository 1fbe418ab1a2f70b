//! Where an answer should not be trusted blindly.

use super::PredictError;
use super::fidelity::Fidelity;
use super::outcome::Warning;
use super::trip_point::{MELTED_K, trip_temperature_k};
use crate::answer::PropertyName;
use crate::device::{Device, Model, quasi_steady_across};
use crate::material::{Alloy, Property};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::physics::layered_section::stresses;
use crate::scenario::{Convection, Mechanism, Scenario, SnapModel};

/// Rotation above which the small-rotation deflection is reported, rad.
const ROTATION_RAD: f64 = 0.2;
/// Part of the release curvature above which heat across the layers matters.
pub const THROUGH_MATTERS: f64 = 0.005;

fn properties(alloy: &Alloy) -> [(PropertyName, &Property); 6] {
    [
        (PropertyName::Density, &alloy.density),
        (PropertyName::YoungsModulus, &alloy.youngs_modulus),
        (PropertyName::Resistivity, &alloy.resistivity),
        (PropertyName::ThermalConductivity, &alloy.conductivity),
        (PropertyName::SpecificHeat, &alloy.specific_heat),
        (PropertyName::ThermalExpansion, &alloy.expansion.property),
    ]
}

/// A strip that melts is an error; so are properties needed outside their range, or warnings when
/// extrapolation is allowed.
pub fn check_ranges(
    device: &Device,
    allow_extrapolation: bool,
    range_k: (f64, f64),
    warnings: &mut Vec<Warning>,
) -> Result<(), PredictError> {
    if allow_extrapolation && range_k.1 > MELTED_K {
        return Err(PredictError::Melts {
            peak_c: range_k.1 - ZERO_CELSIUS_K,
        });
    }
    for layer in &device.laws.layers {
        for (property, law) in properties(&layer.alloy) {
            let (low, high) = law.valid_k;
            let needed = if range_k.0 < low - 1e-6 {
                range_k.0
            } else if range_k.1 > high + 1e-6 {
                range_k.1
            } else {
                continue;
            };
            let material = layer.alloy.name.clone();
            let needed_c = needed - ZERO_CELSIUS_K;
            let range_c = [low - ZERO_CELSIUS_K, high - ZERO_CELSIUS_K];
            if !allow_extrapolation {
                return Err(PredictError::OutOfRange {
                    material,
                    property,
                    needed_c,
                    range_c,
                });
            }
            warnings.push(Warning::Extrapolated {
                material,
                property,
                needed_c,
                range_c,
            });
        }
    }
    Ok(())
}

/// Part of the free curvature at a state that comes from heat across the layers, and the
/// temperature difference across, K.
pub fn through_part(model: &Model, y: &[f64], current_squared: f64) -> (f64, f64) {
    let laws = &model.device.laws;
    let peak = model.peak_k(y);
    let uniform = (laws.bend(peak).curvature_per_m - laws.initial_curvature_per_m)
        .abs()
        .max(1e-12);
    let (across, spread) = quasi_steady_across(laws, peak, current_squared);
    (across / uniform, spread)
}

/// What the state at release says about the mechanics.
pub fn at_release(
    model: &Model,
    y: &[f64],
    current_squared: f64,
    rotation_rad: f64,
    warnings: &mut Vec<Warning>,
) {
    let device = &model.device;
    let blade = matches!(device.release.mechanism, Mechanism::SnapBlade(_));
    let rotation_rad = rotation_rad.abs();
    // How steep a disc may be is held when it is read.
    if rotation_rad > ROTATION_RAD && device.disc().is_none() {
        warnings.push(Warning::TipRotation {
            rotation_rad,
            limit_rad: ROTATION_RAD,
            error_relative: rotation_rad.powi(2) / if blade { 4.0 } else { 6.0 },
            blade,
        });
    }
    let (part, spread_k) = through_part(model, y, current_squared);
    if part.abs() >= THROUGH_MATTERS {
        warnings.push(Warning::ThroughThickness {
            part,
            spread_k,
            resolved: device.through.is_some(),
        });
    }
    if device.disc().is_none() {
        stress_warnings(model, y, warnings);
    }
    for layer in &device.laws.layers {
        if let Some(limit) = layer.alloy.highest_recommended_k
            && model.peak_k(y) > limit
        {
            warnings.push(Warning::TooHot {
                material: layer.alloy.name.clone(),
                peak_c: model.peak_k(y) - ZERO_CELSIUS_K,
                limit_c: limit - ZERO_CELSIUS_K,
            });
        }
    }
}

/// Stresses against yield: free, and blocked by the release force just before release.
fn stress_warnings(model: &Model, y: &[f64], warnings: &mut Vec<Warning>) {
    let laws = &model.device.laws;
    let force = model.release_force_n();
    for (index, layer) in laws.layers.iter().enumerate() {
        let Some(strength) = &layer.alloy.yield_strength else {
            continue;
        };
        let mut worst = (0.0f64, 0.0, 0.0);
        for (x, t) in model.grid.x_m.iter().zip(&y[..model.layout.strip]) {
            let layers = laws.thermal_layers(*t);
            let arm = (model.device.push_point_m - x).max(0.0);
            for moment in [0.0, -force * arm / laws.width_m] {
                let s = stresses(&layers, 0.0, moment)[index];
                let largest = s.bottom_pa.abs().max(s.top_pa.abs());
                let ratio = largest / strength.at(*t);
                if ratio > worst.0 {
                    worst = (ratio, largest, *t);
                }
            }
        }
        if worst.0 > 1.0 {
            warnings.push(Warning::Yield {
                material: layer.alloy.name.clone(),
                stress_mpa: worst.1 / 1e6,
                temperature_c: worst.2 - ZERO_CELSIUS_K,
                yield_mpa: worst.1 / worst.0 / 1e6,
            });
        }
    }
}

/// Winding and contact seen over the whole run.
pub fn over_the_run(device: &Device, winding_k: f64, contact_v: f64, warnings: &mut Vec<Warning>) {
    if let Some(limit) = device.winding.and_then(|w| w.limit_k)
        && winding_k > limit
    {
        warnings.push(Warning::WindingLimit {
            peak_c: winding_k - ZERO_CELSIUS_K,
            limit_c: limit - ZERO_CELSIUS_K,
        });
    }
    if let (Some(softening), Some(metal)) =
        (device.contact.softening_voltage_v, &device.contact.metal)
        && contact_v > softening
    {
        warnings.push(Warning::ContactSoftening {
            metal: metal.clone(),
            voltage_v: contact_v,
            softening_v: softening,
        });
    }
}

/// What the scenario's own choices imply.
pub fn of_the_model(scenario: &Scenario, model: &Model, y: &[f64], warnings: &mut Vec<Warning>) {
    if let Mechanism::SnapBlade(blade) = scenario.release.mechanism {
        if blade.model == SnapModel::OneTerm {
            warnings.push(Warning::OneTerm {
                late_relative: one_term_late(&model.device),
            });
        }
        if blade.creeps(model, y) {
            warnings.push(Warning::Creeps);
        }
    }
    if let Some(disc) = model.device.disc()
        && disc.creeps(model)
    {
        warnings.push(Warning::DiscCreeps);
    }
    if scenario.cooling.convection == Convection::Flat {
        warnings.push(Warning::FlatConvection);
    }
}

/// Whether the answers are as accurate as they were asked to be.
pub fn accuracy_reached(asked: f64, errors: [Option<f64>; 2], warnings: &mut Vec<Warning>) {
    let reached = errors.into_iter().flatten().filter(|e| e.is_finite());
    let reached = reached.fold(0.0, f64::max);
    if reached > asked {
        warnings.push(Warning::Accuracy { asked, reached });
    }
}

/// What a one-term blade warms up more than the exact one before it snaps through, evenly warmed,
/// as a part of that warming; `None` for a latch, and where one of the two does not snap.
pub fn one_term_late(device: &Device) -> Option<f64> {
    let warming_k = |model| {
        let mut device = device.clone();
        let Mechanism::SnapBlade(blade) = &mut device.release.mechanism else {
            return None;
        };
        blade.model = model;
        let fineness = Fidelity::quick(device.length_m).fineness;
        let trip_k = trip_temperature_k(&Model::new(&device, fineness))?;
        Some(trip_k - device.laws.flat_temperature_k)
    };
    Some(warming_k(SnapModel::OneTerm)? / warming_k(SnapModel::Exact)? - 1.0)
}
