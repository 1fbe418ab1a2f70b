//! The energy landscapes of a snap blade and of a disc.

use relatch::internals::physics::shell::{Shell, ShellGrid};
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

/// Rise over radius, and Poisson's ratio.
const RISE: f64 = 0.05;
const POISSON: f64 = 0.3;

fn disc(grid: &ShellGrid, slenderness: f64, even: f64) -> Shell<'_> {
    Shell {
        grid,
        poisson: POISSON,
        slenderness,
        rise: RISE,
        force: 0.0,
        curvature: vec![even; grid.places.len()],
        strain: Vec::new(),
    }
}

/// A disc that bends without stretching is a paraboloid held by an even moment: 2 (1 + ν) (w - H)² of
/// bending, in 2π D.
#[test]
fn a_disc_that_does_not_stretch_is_a_parabola() {
    let grid = ShellGrid::new(0.15, 12);
    let disc = disc(&grid, 1e-9, 0.0);
    let all = disc.landscape(&disc.course(), |_| true);
    assert!(all.len() > 100);
    for held in all {
        let bent = |height: f64| 2.0 * (1.0 + POISSON) * (height - RISE).powi(2);
        let expected = bent(held.height) - bent(0.0);
        let scale = bent(0.0);
        assert!(
            (held.energy - expected).abs() < 1e-8 * scale,
            "{held:?} {expected}"
        );
        // Even curvature K bends a free disc by w = H - K/2.
        let lacks = 2.0 * (RISE - held.height);
        assert!((held.lacks - lacks).abs() < 1e-8 * RISE, "{held:?} {lacks}");
    }
}

/// As curved as it must be to be flat, a disc stands as well on one side as on the other; its
/// valleys lie where it lacks nothing, and the pass between them at the flat.
#[test]
fn half_way_between_its_folds_a_disc_has_two_equal_valleys() {
    let grid = ShellGrid::new(0.15, 12);
    let slenderness = 12.0 * (1.0 - POISSON * POISSON) / (RISE / 2.5_f64).powi(2);
    let even = disc(&grid, slenderness, 0.0);
    let course = even.course();
    let middle = disc(&grid, slenderness, even.flat_shift().unwrap());
    let all = middle.landscape(&course, |_| true);
    let highest = all.iter().map(|h| h.energy.abs()).fold(0.0, f64::max);
    for (from, to) in all.iter().zip(all.iter().rev()) {
        assert!((from.height + to.height).abs() < 1e-9);
        assert!(
            (from.energy - to.energy).abs() < 1e-7 * highest,
            "{from:?} {to:?}"
        );
    }
    let turns = |sign: f64| -> Vec<f64> {
        let turn = all.windows(3).filter(|w| {
            sign * (w[1].energy - w[0].energy) < 0.0 && sign * (w[2].energy - w[1].energy) >= 0.0
        });
        turn.map(|w| w[1].height).collect()
    };
    let stands: Vec<f64> = all
        .windows(2)
        .filter(|w| (w[0].lacks < 0.0) != (w[1].lacks < 0.0))
        .map(|w| 0.5 * (w[0].height + w[1].height))
        .collect();
    let (valleys, passes) = (turns(1.0), turns(-1.0));
    assert_eq!((valleys.len(), passes.len(), stands.len()), (2, 1, 3));
    let stride = RISE / 48.0;
    for (turn, stand) in [valleys[0], passes[0], valleys[1]].iter().zip(&stands) {
        assert!((turn - stand).abs() < stride, "{turn} {stand}");
    }
}

/// Just short of its fold a disc has a pass before it on its side, just beyond it none.
#[test]
fn the_pass_of_a_disc_is_gone_beyond_the_fold() {
    let grid = ShellGrid::new(0.15, 12);
    let slenderness = 12.0 * (1.0 - POISSON * POISSON) / (RISE / 2.5_f64).powi(2);
    let course = disc(&grid, slenderness, 0.0).course();
    let fold = course.sides.as_ref().unwrap().trip.shift;
    let stands = |share: f64| {
        let all = disc(&grid, slenderness, share * fold).landscape(&course, |_| true);
        all.windows(2)
            .filter(|w| (w[0].lacks < 0.0) != (w[1].lacks < 0.0))
            .count()
    };
    assert_eq!((stands(0.995), stands(1.005)), (3, 1));
}
