//! Checks against published values: one module a source, named in its header with how the value is known.
//!
//! Where a tolerance is not explained it is the number of digits printed. Values said to be 'computed' were
//! worked out from the published formula by other routes than this crate's, not printed by the author.

#[path = "../support/mod.rs"]
mod support;

mod adiabatic_heating;
mod alloys;
mod ambient_law;
mod buckling_1935;
mod by_hand;
mod convection;
mod fins;
mod fins_by_engine;
mod holm;
mod iec_60255;
mod incomplete_beta;
mod multilayer;
mod normal_distribution;
mod philox_2011;
mod proportions_1998;
mod relaxation;
mod sensitivity_functions;
mod snap_disc_1953;
mod sobol_2008;
mod springs;
mod standards_on_parts;
mod thermostat_metal;
mod thermostat_metal_layers;
mod timoshenko_1925;
mod transients;
mod truss;
mod weibull_lives;
mod wiedemann_franz;
mod wilks_1941;
mod worked_strip;

/// Asserts that a value is within a relative tolerance of the expected one.
#[track_caller]
fn close(value: f64, expected: f64, tolerance: f64) {
    let error = (value - expected).abs();
    assert!(
        error <= tolerance * expected.abs(),
        "{value} is not {expected} within {tolerance}: off by {:.3e}",
        error / expected.abs()
    );
}

/// Asserts that a value is within an absolute tolerance of the expected one.
#[track_caller]
fn near(value: f64, expected: f64, tolerance: f64) {
    assert!(
        (value - expected).abs() <= tolerance,
        "{value} is not {expected} within {tolerance}"
    );
}
