//! The peers of the benches, held to the errors they are said to have.

use crate::peers::cooling::{Cooling, exact};
use crate::peers::settings::*;
use crate::peers::strip::Strip;
use crate::peers::tridiagonal::Tridiagonal;
use crate::peers::{Method, Setting, continuum, cool, same_space, trip};
use crate::support::{apart, case, worked};
use diffsol::{Matrix, NalgebraContext, NalgebraVec, VectorHost};
use relatch::internals::device::{Device, Drive, Fineness};

fn error_at_20_a(setting: Setting) -> f64 {
    trip(setting, 20.0).run().time_s / continuum::TRIP_20_A - 1.0
}

fn error_at_60_a(setting: Setting) -> f64 {
    trip(setting, 60.0).run().time_s / continuum::TRIP_60_A - 1.0
}

/// In the order of `settings.rs`.
fn errors(setting: Setting) -> [f64; 4] {
    [
        error_at_20_a(setting),
        trip(setting, 13.0).run().time_s / continuum::TRIP_13_A - 1.0,
        error_at_60_a(setting),
        cool(setting, 20.0).run().time_s / continuum::COOL_20_A - 1.0,
    ]
}

/// Evaluations at 20 A as `settings.rs` says them, with room for another libm.
fn work_is(setting: Setting, evaluations: usize) {
    let found = trip(setting, 20.0).run().evaluations;
    assert!(
        found.abs_diff(evaluations) * 20 <= evaluations,
        "{setting:?}: {found} evaluations"
    );
}

#[test]
fn settings_for_all_events_reach_their_error_in_each() {
    for (setting, target, evaluations) in [
        (BDF_1E3, 1e-3, 23),
        (BDF_1E4, 1e-4, 34),
        (BDF_1E5, 1e-5, 58),
        (DOPRI5_1E3, 1e-3, 171),
        (DOPRI5_1E4, 1e-4, 1677),
        (DOP853_1E3, 1e-3, 240),
        (DOP853_1E4, 1e-4, 1536),
    ] {
        let errors = errors(setting);
        assert!(
            errors.iter().all(|e| e.abs() <= target),
            "{setting:?}: {errors:?}"
        );
        work_is(setting, evaluations);
    }
}

#[test]
fn settings_for_20_a_reach_their_error_there_and_nowhere_near_it_at_60_a() {
    for (setting, target, evaluations) in [
        (DIFFSOL_AT_20_A_1E3, 1e-3, 44),
        (DIFFSOL_AT_20_A_1E4, 1e-4, 50),
        (DIFFSOL_AT_20_A_1E5, 1e-5, 47),
        (DOPRI5_AT_20_A_1E4, 1e-4, 51),
        (DOPRI5_AT_20_A_1E5, 1e-5, 81),
        (DOP853_AT_20_A_1E4, 1e-4, 87),
        (DOP853_AT_20_A_1E5, 1e-5, 134),
    ] {
        let (here, there) = (error_at_20_a(setting), error_at_60_a(setting));
        assert!(here.abs() <= target, "{setting:?}: {here:e}");
        assert!(there.abs() > 5.0 * target, "{setting:?}: {there:e}");
        work_is(setting, evaluations);
    }
}

#[test]
fn the_library_on_the_engines_nodes_reaches_its_error() {
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let drive = Drive::constant(20.0, case(&s).ambient_k());
    for (steps, target, evaluations) in [
        (same_space::AT_20_A_1E5, 1e-5, 51),
        (same_space::AT_20_A_1E6, 1e-6, 74),
    ] {
        let model = device.on(Fineness {
            order: steps.order,
            end_element_m: device.length_m,
        });
        let run = same_space::trip(model, drive, steps).run();
        let error = apart(run.time_s, continuum::TRIP_20_A);
        assert!(error <= target, "{steps:?}: {error:e}");
        assert_eq!(run.evaluations, evaluations, "{steps:?}");
    }
}

#[test]
fn six_methods_agree_on_one_grid() {
    let [first, others @ ..] = [
        Method::Bdf,
        Method::TrBdf2,
        Method::Esdirk34,
        Method::Tsit45,
        Method::Dopri5,
        Method::Dop853,
    ]
    .map(|method| {
        let setting = Setting {
            method,
            cells: 20,
            grading: 0.3,
            tolerance: 1e-8,
            first_step_s: 0.0,
        };
        [
            trip(setting, 20.0).run().time_s,
            cool(setting, 20.0).run().time_s,
        ]
    });
    for other in others {
        for k in 0..2 {
            let difference = other[k] / first[k] - 1.0;
            assert!(difference.abs() < 2e-6, "{difference:e}");
        }
    }
}

#[test]
fn order_in_space_is_two() {
    let error = |cells| {
        errors(Setting {
            method: Method::Bdf,
            cells,
            grading: 0.2,
            tolerance: 1e-8,
            first_step_s: 0.0,
        })
    };
    let (coarse, fine) = (error(40), error(80));
    for (coarse, fine) in coarse.iter().zip(fine) {
        let order = (coarse / fine).log2();
        assert!((order - 2.0).abs() < 0.15, "{order}");
    }
}

#[test]
fn fitted_cooling_is_the_published_one() {
    let fit = Cooling::fit(1.0);
    for u in (1..=2400).map(|i| 0.1 * f64::from(i)) {
        assert!((fit.at(u) / exact(u) - 1.0).abs() < 2e-7, "{u}");
        let h = 1e-3 * u;
        let slope = (exact(u + h) - exact(u - h)) / (2.0 * h);
        assert!((fit.slope(u) / slope - 1.0).abs() < 5e-6, "{u}");
    }
}

#[test]
fn slopes_are_those_of_the_rate() {
    let strip = Strip::closed(6, 0.4, 30.0);
    let u = [20.0, 45.0, 70.0, 90.0, 95.0, 80.0, 60.0, 30.0];
    let n = strip.unknowns();
    assert_eq!(n, u.len());
    let mut m = Tridiagonal::zeros(n, n, NalgebraContext);
    strip.slopes(&u, &mut m.before, &mut m.own, &mut m.after);
    for column in 0..n {
        let h = 1e-3;
        let rate = |by: f64| {
            let (mut u, mut rate) = (u, [0.0; 8]);
            u[column] += by;
            strip.rate(&u, &mut rate);
            rate
        };
        let (up, down) = (rate(h), rate(-h));
        let mut slopes = [0.0; 8];
        for (i, j, slope) in m.triplet_iter() {
            if j == column {
                slopes[i] = slope;
            }
        }
        for row in 0..n {
            let slope = (up[row] - down[row]) / (2.0 * h);
            assert!(
                (slopes[row] - slope).abs() < 1e-6 * m.own[row].abs(),
                "{row}, {column}: {} {slope}",
                slopes[row]
            );
        }
    }
}

#[test]
fn deflection_rate_is_that_of_the_deflection() {
    let strip = Strip::closed(6, 0.4, 30.0);
    let u = [20.0, 45.0, 70.0, 90.0, 95.0, 80.0, 60.0, 30.0];
    let mut rate = [0.0; 8];
    strip.rate(&u, &mut rate);
    let after = |t: f64| {
        let moved: Vec<f64> = u.iter().zip(rate).map(|(u, r)| u + t * r).collect();
        strip.deflection(&moved)
    };
    let slope = (after(1e-3) - after(-1e-3)) / 2e-3;
    assert!((strip.deflection_rate(&u, &rate) / slope - 1.0).abs() < 1e-7);
}

#[test]
fn tridiagonal_multiplies_and_keeps_its_entries() {
    let triplets = vec![
        (0, 0, 2.0),
        (0, 1, -1.0),
        (1, 0, 3.0),
        (1, 1, 5.0),
        (1, 2, 0.5),
        (2, 1, -4.0),
        (2, 2, 7.0),
    ];
    let m = Tridiagonal::try_from_triplets(3, 3, triplets.clone(), NalgebraContext).expect("m");
    let mut back: Vec<_> = m.triplet_iter().collect();
    back.sort_by_key(|&(i, j, _)| (i, j));
    assert_eq!(back, triplets);
    let vector = |v: [f64; 3]| NalgebraVec::from(nalgebra::DVector::from_row_slice(&v));
    let mut y = vector([1.0, 1.0, 1.0]);
    m.gemv(2.0, &vector([1.0, 2.0, 3.0]), 10.0, &mut y);
    assert_eq!(y.as_slice(), [10.0, 39.0, 36.0]);
    let corner = vec![(0, 2, 1.0)];
    assert!(Tridiagonal::try_from_triplets(3, 3, corner, NalgebraContext).is_err());
}
