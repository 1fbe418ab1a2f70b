//! Where an answer should not be trusted blindly.

use super::PredictError;
use super::outcome::Warning;
use crate::device::{Device, Model, quasi_steady_across};
use crate::material::{Alloy, Property};
use crate::physics::layered_section::stresses;
use crate::scenario::{Convection, Mechanism, Scenario, SnapModel};

const ZERO_C: f64 = 273.15;

/// Rotation above which the small-rotation deflection is reported, rad.
const ROTATION_RAD: f64 = 0.2;
/// Part of the release curvature above which heat across the layers matters.
pub const THROUGH_MATTERS: f64 = 0.005;

fn warning(code: &str, text: String) -> Warning {
    Warning {
        code: code.into(),
        text,
    }
}

fn properties(alloy: &Alloy) -> [(&'static str, &Property); 6] {
    [
        ("density", &alloy.density),
        ("Young's modulus", &alloy.youngs_modulus),
        ("resistivity", &alloy.resistivity),
        ("thermal conductivity", &alloy.conductivity),
        ("specific heat", &alloy.specific_heat),
        ("thermal expansion", &alloy.expansion.property),
    ]
}

/// Properties needed outside their range: an error, or warnings when extrapolation is allowed.
pub fn check_ranges(
    scenario: &Scenario,
    range_k: (f64, f64),
    warnings: &mut Vec<Warning>,
) -> Result<(), PredictError> {
    for layer in &scenario.strip.layers {
        for (name, property) in properties(&layer.alloy) {
            let (low, high) = property.valid_k;
            let needed = if range_k.0 < low - 1e-6 {
                range_k.0
            } else if range_k.1 > high + 1e-6 {
                range_k.1
            } else {
                continue;
            };
            if !scenario.strip.allow_extrapolation {
                return Err(PredictError::OutOfRange {
                    material: layer.alloy.name.clone(),
                    property: name,
                    needed_c: needed - ZERO_C,
                    range_c: (low - ZERO_C, high - ZERO_C),
                });
            }
            warnings.push(warning(
                "extrapolated",
                format!(
                    "the {name} of {} was needed at {:.0} degC; its source covers {:.0} degC to {:.0} degC, so it was continued from the end of its range, as the scenario allows",
                    layer.alloy.name,
                    needed - ZERO_C,
                    low - ZERO_C,
                    high - ZERO_C
                ),
            ));
        }
    }
    Ok(())
}

/// Part of the free curvature at a state that comes from heat across the layers, and the temperature
/// difference across, K.
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
    let is_blade = matches!(device.release.mechanism, Mechanism::SnapBlade { .. });
    if rotation_rad.abs() > ROTATION_RAD && is_blade {
        warnings.push(warning(
            "tip-rotation",
            format!(
                "the blade stands at {:.2} rad at its hinges; above {ROTATION_RAD} rad the formulas of a shallow bow used for the snap are wrong by more than about {:.0} %",
                rotation_rad.abs(),
                100.0 * rotation_rad * rotation_rad / 4.0
            ),
        ));
    } else if rotation_rad.abs() > ROTATION_RAD {
        warnings.push(warning(
            "tip-rotation",
            format!(
                "the free end has turned by {:.2} rad at release; above {ROTATION_RAD} rad the straight-line deflection used for the release is wrong by more than about {:.0} %",
                rotation_rad.abs(),
                100.0 * rotation_rad * rotation_rad / 6.0
            ),
        ));
    }
    let (part, spread) = through_part(model, y, current_squared);
    if part.abs() >= THROUGH_MATTERS {
        let how = if device.through.is_some() {
            "it was resolved"
        } else {
            "it was NOT resolved, as the scenario asks"
        };
        warnings.push(warning(
            "through-thickness",
            format!(
                "heat made in one layer crosses the others at this current: if steady it would add {:+.1} % to the curvature at release ({:.2} K across the strip); {how}",
                100.0 * part, spread
            ),
        ));
    }
    stress_warnings(model, y, warnings);
    for layer in &device.laws.layers {
        if let Some(limit) = layer.alloy.highest_recommended_k
            && model.peak_k(y) > limit
        {
            warnings.push(warning(
                "too-hot",
                format!(
                    "the hottest point of the strip reaches {:.0} degC at release; {} is recommended up to {:.0} degC only, beyond it the calibration can no longer be trusted",
                    model.peak_k(y) - ZERO_C,
                    layer.alloy.name,
                    limit - ZERO_C
                ),
            ));
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
            warnings.push(warning(
                "yield",
                format!(
                    "{} is stressed to {:.0} MPa at {:.0} degC at release, above its yield strength of {:.0} MPa; the strip takes a set and the calibration can no longer be trusted",
                    layer.alloy.name,
                    worst.1 / 1e6,
                    worst.2 - ZERO_C,
                    worst.1 / worst.0 / 1e6
                ),
            ));
        }
    }
}

/// Winding and contact seen over the whole run.
pub fn over_the_run(device: &Device, winding_k: f64, contact_v: f64, warnings: &mut Vec<Warning>) {
    if let Some(limit) = device.winding.and_then(|w| w.limit_k)
        && winding_k > limit
    {
        warnings.push(warning(
            "winding-limit",
            format!(
                "the heater winding reaches {:.0} degC, its insulation stands {:.0} degC",
                winding_k - ZERO_C,
                limit - ZERO_C
            ),
        ));
    }
    if let (Some(softening), Some(metal)) =
        (device.contact.softening_voltage_v, &device.contact.metal)
        && contact_v > softening
    {
        warnings.push(warning(
            "contact-softening",
            format!(
                "the constriction of the contact carries {contact_v:.3} V, {metal} softens at {softening:.2} V; the contact resistance is then no longer the one computed with"
            ),
        ));
    }
}

/// What the scenario's own choices imply.
pub fn of_the_model(scenario: &Scenario, model: &Model, y: &[f64], warnings: &mut Vec<Warning>) {
    if let Mechanism::SnapBlade { model: kind, .. } = scenario.release.mechanism {
        if kind == SnapModel::OneTerm {
            warnings.push(warning(
                "one-term",
                "one-term snap model, a teaching approximation: its snap temperature may be up to 16 % high".into(),
            ));
        }
        if model.blade_creeps(y) {
            warnings.push(warning(
                "creeps",
                "this blade has no snap: it creeps through, so it trips and resets at the same point and its contacts part slowly".into(),
            ));
        }
    }
    if scenario.cooling.convection == Convection::Flat {
        warnings.push(warning(
            "flat-convection",
            "natural convection from so small a flat strip is known to about 40 % only (Rayleigh number below 10 000)".into(),
        ));
    }
}
