//! Checks against published values: one module a source, named in its header with how the value is
//! known.
//!
//! Where a tolerance is not explained it is the number of digits printed. Values said to be
//! 'computed' were worked out from the published formula by other routes than this crate's, not
//! printed by the author.

#[path = "../formulas/mod.rs"]
mod formulas;
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
mod instantaneous;
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
mod trip_bar;
mod truss;
mod weibull_lives;
mod wiedemann_franz;
mod wilks_1941;
mod worked_strip;

/// The largest relative tolerance of a check that fails when its expected value moves by 1 %,
/// whichever way and wherever within the tolerance the value lies.
const SHARP: f64 = 0.0049;

/// Asserts that a value is within a relative tolerance of the expected one: so sharp a tolerance
/// that moving the expected value by 1 % would fail.
#[track_caller]
fn close(value: f64, expected: f64, tolerance: f64) {
    assert!(tolerance <= SHARP, "{tolerance} is no sharp check: `about`");
    about(value, expected, tolerance);
}

/// As [`close`], where the tolerance says how well the law itself is known or what a model leaves
/// out, and 1 % may pass.
#[track_caller]
fn about(value: f64, expected: f64, tolerance: f64) {
    let error = (value - expected).abs();
    assert!(
        error <= tolerance * expected.abs(),
        "{value} is not {expected} within {tolerance}: off by {:.3e}",
        error / expected.abs()
    );
}

/// Asserts that a value is within an absolute tolerance of the expected one; as sharp as [`close`]
/// unless zero is expected.
#[track_caller]
fn near(value: f64, expected: f64, tolerance: f64) {
    assert!(
        expected == 0.0 || tolerance <= SHARP * expected.abs(),
        "{tolerance} is no sharp check of {expected}: `within`"
    );
    within(value, expected, tolerance);
}

/// As [`near`], where the tolerance is that of the law, or both values are computed here.
#[track_caller]
fn within(value: f64, expected: f64, tolerance: f64) {
    assert!(
        (value - expected).abs() <= tolerance,
        "{value} is not {expected} within {tolerance}"
    );
}

/// Asserts that a value rounds to the digits printed, of which the last has the size `unit`. An
/// expected value moved by 1 % has more digits than that, or other ones.
#[track_caller]
fn printed(value: f64, expected: f64, unit: f64) {
    let last = (value / unit).round();
    assert!(
        (last - expected / unit).abs() < 1e-3,
        "{value} is not printed as {expected}"
    );
}
