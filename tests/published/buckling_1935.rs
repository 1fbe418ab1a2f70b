//! S. Timoshenko, "Buckling of Flat Curved Bars and Slightly Curved Plates", J. Appl. Mech. 2
//! (1935) A17 (abstract read; one-mode formulas from memory, re-derived). The exact values were
//! computed by two routes (closed-form beam-column and 400 sine terms). That an exact solution
//! differs strikingly from one mode is published: J. Appl. Mech. 36(4) (1969) 768 (abstract read).
//!
//! Blade of 20 mm, 0.25 mm thick, rise 0.30 mm, F = 26.2e-6/K, supports growing with it.

use std::f64::consts::PI;

use crate::formulas::one_mode_blade::{
    antisymmetric_snap, relative_bow, slenderness, symmetrical_snap,
};
use relatch::internals::physics::snap_blade::one_term::OneTermBlade;
use relatch::internals::physics::snap_blade::{Fold, SnapBlade};

use crate::close;

const SPAN_M: f64 = 20e-3;
const THICKNESS_M: f64 = 0.25e-3;
const RISE_M: f64 = 0.30e-3;
const CURVATURE_PER_K: f64 = 26.2e-6 / THICKNESS_M;
/// Per metre of width; the snap temperatures do not depend on it.
const MODULUS_PA: f64 = 150e9;
const EI_N_M2: f64 = MODULUS_PA * THICKNESS_M * THICKNESS_M * THICKNESS_M / 12.0;
const AXIAL_N_PER_M: f64 = MODULUS_PA * THICKNESS_M / SPAN_M;

/// Sine modes of a uniform curvature: 4κ/(nπ) for odd n.
fn uniform(kelvin: f64, modes: usize) -> Vec<f64> {
    (1..=modes)
        .map(|n| match n % 2 {
            1 => 4.0 * CURVATURE_PER_K * kelvin / (n as f64 * PI),
            _ => 0.0,
        })
        .collect()
}

fn blade(curvature_modes_per_m: &[f64]) -> SnapBlade<'_> {
    SnapBlade {
        span_m: SPAN_M,
        stiffness_ei_n_m2: EI_N_M2,
        axial_stiffness_n_per_m: AXIAL_N_PER_M,
        rise_m: RISE_M,
        thrust_n: 0.0,
        curvature_modes_per_m,
    }
}

/// Temperature change at which a margin, rising with temperature, crosses zero.
fn crossing_k(margin_m: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (-100.0, 300.0);
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if margin_m(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

#[test]
fn t8_textbook_one_mode() {
    let m = slenderness(THICKNESS_M, RISE_M);
    close(m, 0.2314815, 1e-6);
    let snap = symmetrical_snap(m).unwrap();
    close(snap.forward_bow, 2.120246, 1e-6);
    crate::near(snap.back_bow, -0.120246, 0.5e-6); // six decimals
    close(snap.relative_travel * RISE_M, 0.455522e-3, 1e-6);
    // The snap is the extremum of u(b).
    let b = ((1.0 - m) / 3.0).sqrt();
    close(relative_bow(b, m), snap.forward_bow, 1e-12);
    for aside in [-1e-3, 1e-3] {
        assert!(relative_bow(b + aside, m) < snap.forward_bow);
    }
}

#[test]
fn t8b_temperatures_of_the_textbook_form() {
    let snap = symmetrical_snap(slenderness(THICKNESS_M, RISE_M)).unwrap();
    let kelvin = |bow: f64| bow * RISE_M * 8.0 / (CURVATURE_PER_K * SPAN_M * SPAN_M);
    close(kelvin(snap.forward_bow), 121.388, 1e-4);
    close(kelvin(snap.back_bow), -6.8843, 1e-4);
}

#[test]
fn t8c_temperatures_by_sine_projection() {
    let one = OneTermBlade {
        span_m: SPAN_M,
        stiffness_ei_n_m2: EI_N_M2,
        axial_stiffness_n_per_m: AXIAL_N_PER_M,
        rise_m: RISE_M,
        thrust_n: 0.0,
    };
    let (forward, back) = one.snap_curvatures_per_m();
    close(forward / CURVATURE_PER_K, 117.6186, 1e-4);
    close(back / CURVATURE_PER_K, -6.67052, 1e-4);
    // The exact blade cut down to one mode is the same thing.
    let first = crossing_k(|kelvin| blade(&uniform(kelvin, 1)).trip_margin_m());
    close(first, 117.6186, 1e-4);
}

/// T9: 0.1 %. What modes beyond n contribute falls as n⁻³: 6e-5 after 20, 7e-6 after 41.
#[test]
fn t9_exact_snap_temperatures() {
    let trip_k = |modes| crossing_k(|kelvin| blade(&uniform(kelvin, modes)).trip_margin_m());
    let reset_k = |modes| crossing_k(|kelvin| blade(&uniform(kelvin, modes)).reset_margin_m());
    close(trip_k(41), 105.2266, 1e-3);
    close(reset_k(41), -6.61404, 1e-3);
    close(trip_k(20), trip_k(199), 1e-4);
    close(trip_k(41), trip_k(199), 1e-5);
    // Warning of the source: one mode is up to 16 % late (here 12 % by projection, 15 % in the
    // textbook form).
    assert!(117.6186 / trip_k(41) > 1.11);
}

#[test]
fn t9_thrust_and_rise_at_the_exact_folds() {
    for (kelvin, thrust_ratio, rise_ratio, sign) in [
        (105.2266, 2.8292, 0.57976, 1.0),
        (-6.61404, 3.2115, -0.51212, -1.0),
    ] {
        let modes = uniform(kelvin, 99);
        let blade = blade(&modes);
        let Fold::Snaps {
            thrust_n,
            amplitude_m,
            antisymmetric: false,
        } = blade.fold()
        else {
            panic!("this blade snaps symmetrically");
        };
        close(thrust_n / blade.euler_load_n(), thrust_ratio, 1e-3);
        let state = relatch::internals::physics::snap_blade::BladeState {
            thrust_n,
            first_mode_m: sign * amplitude_m,
        };
        close(
            blade.height_m(0.5 * SPAN_M, &state) / RISE_M,
            rise_ratio,
            1e-3,
        );
    }
}

#[test]
fn t9b_state_after_the_exact_snap() {
    let modes = uniform(105.2266, 99);
    let blade = blade(&modes);
    let state = blade.snapped_state().unwrap();
    close(
        blade.height_m(0.5 * SPAN_M, &state) / RISE_M,
        -0.90506,
        1e-3,
    );
}

/// From memory, re-derived: below m = 2/11 the antisymmetric mode comes first, u = 1 ± 3√(1 − 4m).
#[test]
fn high_blades_snap_sideways() {
    let rise_m = THICKNESS_M / (3.0_f64 * 0.12).sqrt();
    let m = slenderness(THICKNESS_M, rise_m);
    let (forward, back) = antisymmetric_snap(m).unwrap();
    let symmetrical = symmetrical_snap(m).unwrap();
    assert!(forward < symmetrical.forward_bow && back > symmetrical.back_bow);
    assert_eq!(antisymmetric_snap(0.19), None);
    // One mode, with the second only as a way out.
    let margin = |kelvin: f64| {
        let modes = uniform(kelvin, 2);
        SnapBlade {
            rise_m,
            ..blade(&modes)
        }
        .trip_margin_m()
    };
    // By projection κ l²/π² × 4/π stands for δ_T = κ l²/8.
    let kelvin = crossing_k(margin);
    let bow = CURVATURE_PER_K * kelvin * 4.0 / PI * (SPAN_M / PI).powi(2) / rise_m;
    close(bow, forward, 1e-9);
}
