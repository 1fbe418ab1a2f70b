//! Where 'hotter never trips later' ends for a snap blade, and why.
//!
//! Uneven bending (mode 2) lets a blade roll over sideways: it snaps sooner than one bent evenly by
//! as much. Warmth from before can even the bending out, and then the hotter blade snaps later. A
//! blade that expands against a cooler frame is thrust outwards, which holds it longer, too. What
//! bends in one mode between supports that follow it keeps the law.

use crate::support::{case, shipped};
use proptest::prelude::*;
use relatch::internals::device::Device;
use relatch::internals::load::Programme;
use relatch::internals::physics::snap_blade::SnapBlade;
use relatch::internals::predict::run;
use relatch::internals::scenario::{self, Before, Mechanism, Scenario, SnapModel};

/// The shipped blade with other dimensions, its clamped end hardly cooled: that end warms for
/// minutes.
fn blade(length: f64, thickness: f64, rise: f64, thrust_n: f64, law: SnapModel) -> Scenario {
    let mut s = shipped("04-fog-machine.toml");
    s.strip.length_m *= length;
    for layer in &mut s.strip.layers {
        layer.thickness_m *= thickness;
    }
    s.clamped_terminal.conductance_w_per_k *= 0.1;
    if let Mechanism::SnapBlade(scenario::SnapBlade {
        span_m,
        rise_m,
        preload_thrust_n,
        model,
        ..
    }) = &mut s.release.mechanism
    {
        *span_m *= length;
        (*rise_m, *preload_thrust_n, *model) = (rise, thrust_n, law);
    }
    s
}

/// Trip time, s, from a beginning; infinite when it does not trip within an hour, `None` when
/// refused (released already, or beyond the range of the data).
fn trip_time_s(s: &Scenario, current_a: f64, before: Before) -> Option<f64> {
    let mut case = case(s);
    (case.before, case.accuracy, case.longest_s) = (before, 1e-5, 3600.0);
    let device = Device::new(s).expect("device");
    let ran = run(&device, &case, &Programme::constant(current_a), false).ok()?;
    Some(ran.value.trip_time_s.unwrap_or(f64::INFINITY))
}

const WARM: Before = Before::Hot {
    fraction_of_rated: 0.4,
};

/// This very blade snaps later from warm; its second mode is the cause, for with the first alone it
/// does not.
#[test]
fn the_second_mode_lets_a_warm_blade_snap_later() {
    let of = |law, before| {
        let s = blade(0.870_710_8, 0.435_521_7, 0.670_578e-3, 15.069, law);
        trip_time_s(&s, 12.0, before).expect("run")
    };
    let (cold_s, warm_s) = (
        of(SnapModel::Exact, Before::Cold),
        of(SnapModel::Exact, WARM),
    );
    assert!(warm_s > 1.1 * cold_s, "{warm_s} {cold_s}");
    let (cold_s, warm_s) = (
        of(SnapModel::OneTerm, Before::Cold),
        of(SnapModel::OneTerm, WARM),
    );
    assert!(warm_s <= cold_s, "{warm_s} {cold_s}");
}

/// Where the first mode bends more, less of the second holds the blade; so does more thrust.
#[test]
fn evenness_and_thrust_hold_a_blade() {
    let margin_m = |first: f64, second: f64, thrust_n: f64| {
        SnapBlade {
            span_m: 20e-3,
            stiffness_ei_n_m2: 150e9 * 0.25e-3_f64.powi(3) / 12.0,
            axial_stiffness_n_per_m: 150e9 * 0.25e-3 / 20e-3,
            rise_m: 0.60e-3,
            thrust_n,
            curvature_modes_per_m: &[first, second],
        }
        .trip_margin_m()
    };
    let uneven = margin_m(10.0, 6.0, 0.0);
    assert!(uneven < 0.0);
    // One end warmed: more of the first mode, less of the second.
    assert!(margin_m(10.2, 5.0, 0.0) < uneven);
    assert!(margin_m(10.2, 6.0, 0.0) > uneven);
    assert!(margin_m(10.0, 6.0, 1000.0) < uneven);
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn one_mode_between_supports_that_follow_never_snaps_later_from_hot(
        length in 0.6f64..1.5, thickness in 0.5f64..1.5, rise in 0.2e-3f64..0.9e-3,
        thrust_n in 0.0f64..40.0, current in 15.0f64..80.0, fraction in 0.2f64..1.0,
    ) {
        let s = blade(length, thickness, rise, thrust_n, SnapModel::OneTerm);
        let cold = trip_time_s(&s, current, Before::Cold);
        let hot = trip_time_s(&s, current, Before::Hot { fraction_of_rated: fraction });
        prop_assume!(cold.is_some() && hot.is_some());
        let (cold_s, hot_s) = (cold.unwrap(), hot.unwrap());
        prop_assume!(cold_s.is_finite() || hot_s.is_finite());
        prop_assert!(hot_s <= cold_s * (1.0 + 1e-4), "{hot_s} {cold_s}");
    }
}
