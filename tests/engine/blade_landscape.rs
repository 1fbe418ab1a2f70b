//! The energy landscape of a snap blade.

use relatch::internals::physics::snap_blade::*;
use std::f64::consts::PI;

fn blade(modes: &[f64]) -> SnapBlade<'_> {
    SnapBlade {
        span_m: 30e-3,
        stiffness_ei_n_m2: 5e-3,
        axial_stiffness_n_per_m: 3e6,
        rise_m: 0.57e-3,
        thrust_n: 20.0,
        curvature_modes_per_m: modes,
    }
}

fn uniform(curvature_per_m: f64) -> Vec<f64> {
    let mode = |n: usize| {
        if n % 2 == 1 {
            4.0 / (n as f64 * PI)
        } else {
            0.0
        }
    };
    (1..=25).map(|n| curvature_per_m * mode(n)).collect()
}

#[test]
fn no_force_where_the_blade_stands() {
    for curvature in [0.0, 2.0, 5.0, 6.2] {
        let modes = uniform(curvature);
        let blade = blade(&modes);
        for state in [blade.closed_state(), blade.snapped_state()]
            .into_iter()
            .flatten()
        {
            let rise_m = state.first_mode_m;
            let thrust_n = blade.thrust_at_rise_n(rise_m);
            assert!((thrust_n - state.thrust_n).abs() < 1e-6 * blade.euler_load_n());
            let step = 1e-6 * blade.rise_m;
            let (below, above) = (
                blade.holding_force_n(rise_m - step),
                blade.holding_force_n(rise_m + step),
            );
            assert!(
                below < 0.0 && above > 0.0,
                "{curvature} {rise_m} {below} {above}"
            );
        }
    }
}

/// Just short of the snap there is a pass between two valleys; just beyond it there is none.
#[test]
fn the_valley_is_gone_beyond_the_snap() {
    let falls = |curvature: f64| {
        let modes = uniform(curvature);
        let blade = blade(&modes);
        let margin_m = blade.trip_margin_m();
        let steps = (1..400).map(|k| blade.rise_m * f64::from(k) / 300.0);
        let pushes_back = steps.filter(|a| blade.holding_force_n(*a) < 0.0).count();
        (margin_m, pushes_back)
    };
    let (mut low, mut high) = (0.0, 60.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if falls(middle).0 < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    assert!(falls(0.95 * low).1 > 0);
    assert_eq!(falls(1.001 * high).1, 0);
}
