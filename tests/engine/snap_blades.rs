use relatch::internals::physics::snap_blade::*;
use std::f64::consts::PI;

/// 20 × 0.25 mm strip of 0.30 mm rise per metre of width, of the given modes of curvature.
fn blade(curvature_modes_per_m: &[f64]) -> SnapBlade<'_> {
    SnapBlade {
        span_m: 20e-3,
        stiffness_ei_n_m2: 150e9 * 0.25e-3_f64.powi(3) / 12.0,
        axial_stiffness_n_per_m: 150e9 * 0.25e-3 / 20e-3,
        rise_m: 0.30e-3,
        thrust_n: 0.0,
        curvature_modes_per_m,
    }
}

fn skewed(scale: f64) -> [f64; 5] {
    [
        scale * 1.2,
        scale * 0.1,
        scale * 0.3,
        scale * -0.05,
        scale * 0.2,
    ]
}

#[test]
fn unstressed_blade_keeps_its_rise() {
    let state = blade(&[]).closed_state().unwrap();
    assert!((state.first_mode_m - 0.30e-3).abs() < 1e-15);
    assert!(state.thrust_n.abs() < 1e-9);
}

#[test]
fn states_satisfy_force_balance_and_compatibility() {
    let modes = skewed(9.0);
    let blade = blade(&modes);
    for state in [blade.closed_state(), blade.snapped_state()] {
        let state = state.unwrap();
        let euler = blade.euler_load_n();
        let mut shortening = -blade.rise_m.powi(2);
        for (index, curvature) in modes.iter().enumerate() {
            let n = index + 1;
            let order = (n * n) as f64;
            let amplitude = blade.mode_m(n, &state);
            let made = if n == 1 { blade.rise_m } else { 0.0 };
            let moment = order * euler * (amplitude - made) + blade.stiffness_ei_n_m2 * curvature
                - state.thrust_n * amplitude;
            assert!(
                moment.abs() < 1e-9 * euler * blade.rise_m,
                "mode {n}: {moment}"
            );
            shortening += order * amplitude * amplitude;
        }
        let thrust = blade.thrust_n
            - blade.axial_stiffness_n_per_m * PI * PI / (4.0 * blade.span_m) * shortening;
        assert!((thrust - state.thrust_n).abs() < 1e-9 * euler);
    }
}

#[test]
fn margins_change_sign_where_equilibria_vanish() {
    let (mut closed_before, mut snapped_before) = (true, false);
    let (mut closed_ends, mut snapped_begins) = (0, 0);
    for step in 0..400 {
        let modes = skewed(-5.0 + 0.1 * step as f64);
        let blade = blade(&modes);
        let closed = blade.closed_state().is_some();
        let snapped = blade.snapped_state().is_some();
        assert_eq!(closed, blade.trip_margin_m() <= 0.0, "step {step}");
        assert_eq!(snapped, blade.reset_margin_m() >= 0.0, "step {step}");
        closed_ends += usize::from(closed_before && !closed);
        snapped_begins += usize::from(!snapped_before && snapped);
        (closed_before, snapped_before) = (closed, snapped);
    }
    assert_eq!((closed_ends, snapped_begins), (1, 1));
}

#[test]
fn a_vanishing_second_mode_tends_to_the_bifurcation() {
    // High rise: antisymmetric when symmetrical by construction.
    let with_second = |second: f64| {
        let modes = [30.0, second, 8.0];
        let blade = SnapBlade {
            rise_m: 0.9e-3,
            ..blade(&modes)
        };
        (blade.trip_margin_m(), blade.fold())
    };
    let (exact, fold) = with_second(0.0);
    assert!(matches!(
        fold,
        Fold::Snaps {
            antisymmetric: true,
            ..
        }
    ));
    let mut before = f64::INFINITY;
    for second in [1e-1, 1e-2, 1e-3, 1e-4, 1e-6, 1e-9, 1e-12, 1e-15] {
        let error = (with_second(second).0 - exact).abs();
        assert!(
            error < before || error < 1e-11,
            "{second}: {error} after {before}"
        );
        before = error;
    }
    assert!(before < 1e-11);
}

#[test]
fn a_flat_or_slack_blade_creeps_with_one_equilibrium() {
    for step in 0..50 {
        let modes = [0.4 * step as f64, 0.1, 1.0];
        let blade = SnapBlade {
            rise_m: 0.10e-3,
            ..blade(&modes)
        };
        assert_eq!(blade.fold(), Fold::Creeps);
        assert_eq!(blade.trip_margin_m(), blade.reset_margin_m());
        let found = [blade.closed_state(), blade.snapped_state()];
        assert_eq!(found.iter().flatten().count(), 1, "step {step}");
        assert_eq!(found[0].is_some(), blade.trip_margin_m() <= 0.0);
    }
}

#[test]
fn margin_is_continuous_where_folds_appear() {
    let modes = [3.0, 0.05, 1.0];
    let width = |rise_m: f64| {
        let blade = SnapBlade {
            rise_m,
            ..blade(&modes)
        };
        blade.reset_margin_m() - blade.trip_margin_m()
    };
    let (mut low, mut high) = (0.05e-3, 0.30e-3);
    while high - low > 1e-12 {
        let middle = 0.5 * (low + high);
        if width(middle) > 0.0 {
            high = middle
        } else {
            low = middle
        }
    }
    assert!(width(high) < 1e-9);
}

#[test]
fn one_term_equals_the_first_mode_alone() {
    let modes = [10.0];
    let exact = blade(&modes);
    let one = one_term::OneTermBlade {
        span_m: exact.span_m,
        stiffness_ei_n_m2: exact.stiffness_ei_n_m2,
        axial_stiffness_n_per_m: exact.axial_stiffness_n_per_m,
        rise_m: exact.rise_m,
        thrust_n: exact.thrust_n,
    };
    let curvature = PI / 4.0 * modes[0];
    assert!((one.trip_margin_m(curvature) - exact.trip_margin_m()).abs() < 1e-14);
    assert!((one.reset_margin_m(curvature) - exact.reset_margin_m()).abs() < 1e-14);
    let rise = exact.closed_rise_m().unwrap();
    assert!(one.imbalance_n(rise, curvature).abs() < 1e-9 * exact.euler_load_n());
}

#[test]
fn not_a_number_ends() {
    let modes = [f64::NAN, 1.0];
    let blade = SnapBlade {
        thrust_n: f64::NAN,
        ..blade(&modes)
    };
    assert!(blade.trip_margin_m().is_nan());
    assert_eq!(blade.closed_state(), None);
}
