//! Observed orders of convergence, and how much work an answer takes.

mod support;

use relatch::device::{Device, Drive, Fineness, Model, Plant, ReleaseEvent};
use relatch::load::Programme;
use relatch::predict::Unwatched;
use relatch::solve::{Controls, ProfileMatrix, Rodas5p, Shape, Stop, System, integrate};
use support::{apart, case, worked};

fn trip_time(order: usize, end_element_m: f64, tolerance: f64, current_a: f64) -> (f64, usize) {
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let model = Model::new(
        &device,
        Fineness {
            order,
            end_element_m,
        },
    );
    let case = case(&s);
    let mut session = case.start(&model, tolerance).expect("start");
    session
        .carry(
            &Programme::constant(current_a),
            0.0,
            1e4,
            0.0,
            &mut Unwatched,
        )
        .expect("carry");
    (session.t, session.steps)
}

/// On one element the error of the trip time falls spectrally: two orders more cut it at least 4 times
/// until the time tolerance is reached.
#[test]
fn space_converges_spectrally() {
    let (reference, _) = trip_time(18, 0.004, 1e-11, 20.0);
    let mut last = f64::INFINITY;
    for order in [4, 6, 8, 10] {
        let error = apart(trip_time(order, 0.025, 1e-11, 20.0).0, reference);
        assert!(error < last / 4.0, "order {order}: {error} after {last}");
        last = error;
    }
    assert!(last < 3e-6, "{last}");
}

/// Elements of order 3, refined: the error of the trip time falls at least as the fourth power of the
/// element (functionals of an order-p element solution converge as h^(2p) where the solution is smooth).
#[test]
fn low_order_elements_converge_algebraically() {
    let (reference, _) = trip_time(18, 0.004, 1e-11, 20.0);
    let coarse = apart(trip_time(2, 0.025 / 4.0, 1e-11, 20.0).0, reference);
    let fine = apart(trip_time(2, 0.025 / 16.0, 1e-11, 20.0).0, reference);
    assert!(fine < coarse / 4.0, "{coarse} {fine}");
}

struct Linear;

/// A stiff, time-dependent problem with a known solution, y = cos t (Prothero-Robinson form).
impl System for Linear {
    fn shape(&self) -> Shape {
        Shape::full(1)
    }
    fn rhs(&self, t: f64, y: &[f64], dy: &mut [f64]) {
        dy[0] = -1.0e1 * (y[0] - t.cos()).powi(3) - 5.0 * (y[0] - t.cos()) - t.sin();
    }
    fn jacobian(&self, t: f64, y: &[f64], jacobian: &mut ProfileMatrix) {
        jacobian.add(0, 0, -3.0e1 * (y[0] - t.cos()).powi(2) - 5.0);
    }
    fn time_slope(&self, t: f64, y: &[f64], dfdt: &mut [f64]) {
        dfdt[0] = -(3.0e1 * (y[0] - t.cos()).powi(2) + 5.0) * t.sin() - t.cos();
    }
    fn scale(&self, _: &[f64], _: usize) -> f64 {
        1.0
    }
}

/// The step is of order 5: halving it cuts the error by 32, observed between 20 and 50.
#[test]
fn the_step_is_of_order_five() {
    let error = |steps: usize| {
        let h = 1.0 / steps as f64;
        let mut stepper = Rodas5p::new(&Linear);
        let (mut y, mut new, mut e) = (vec![1.3], vec![0.0], vec![0.0]);
        for k in 0..steps {
            let t = k as f64 * h;
            stepper.linearise(&Linear, t, &y);
            assert!(stepper.step(&Linear, t, &y, h, &mut new, &mut e));
            y.copy_from_slice(&new);
        }
        y[0]
    };
    let exact = error(4096);
    let errors: Vec<f64> = [16, 32, 64]
        .iter()
        .map(|n| (error(*n) - exact).abs())
        .collect();
    for pair in errors.windows(2) {
        let ratio = pair[0] / pair[1];
        assert!((20.0..50.0).contains(&ratio), "{errors:?}");
    }
}

/// The dense output is of order 4: at mid-step, halving the step cuts the error by 32 (local order 5).
#[test]
fn the_dense_output_is_of_order_four() {
    let exact = {
        let mut y = vec![1.3];
        integrate(
            &Linear,
            0.0,
            &mut y,
            0.1,
            &Controls::new(1e-13),
            None,
            &mut |_| true,
        )
        .expect("run");
        y[0]
    };
    let _ = exact;
    let error = |h: f64| {
        let mut stepper = Rodas5p::new(&Linear);
        let (y, mut new, mut e) = (vec![1.3], vec![0.0], vec![0.0]);
        stepper.linearise(&Linear, 0.0, &y);
        assert!(stepper.step(&Linear, 0.0, &y, h, &mut new, &mut e));
        let mut dense = relatch::solve::DenseStep::default();
        stepper.dense(0.0, h, &y, &new, &mut dense);
        let mut middle = vec![0.0];
        dense.at(0.5 * h, &mut middle);
        let mut truth = vec![1.3];
        integrate(
            &Linear,
            0.0,
            &mut truth,
            0.5 * h,
            &Controls::new(1e-14),
            None,
            &mut |_| true,
        )
        .expect("run");
        (middle[0] - truth[0]).abs()
    };
    let ratio = error(0.02) / error(0.01);
    assert!((22.0..45.0).contains(&ratio), "{ratio}");
}

/// Tighter tolerance, smaller error: the error of the trip time follows the tolerance within a
/// factor of 100 over four decades.
#[test]
fn the_error_in_time_follows_the_tolerance() {
    let (reference, _) = trip_time(10, 0.01, 1e-12, 13.0);
    for tolerance in [1e-5, 1e-6, 1e-7, 1e-8, 1e-9] {
        let error = apart(trip_time(10, 0.01, tolerance, 13.0).0, reference);
        assert!(error < 100.0 * tolerance, "{tolerance}: {error}");
    }
}

/// Work: counts, not seconds. A trip of the worked strip takes at most these many steps.
#[test]
fn work_stays_bounded() {
    for (current, most) in [(9.3, 60), (13.0, 40), (20.0, 36), (60.0, 36)] {
        let (_, steps) = trip_time(10, 0.01, 1e-7, current);
        assert!(steps <= most, "{current} A: {steps} steps");
    }
}

/// The event is found on the solution, not on an interpolant: a hundredfold looser tolerance moves it
/// by the time error only, and a step that contains a touch and return is not missed.
#[test]
fn a_crossing_and_return_inside_one_step_is_not_missed() {
    struct Bump;
    impl relatch::solve::Event for Bump {
        fn value(&self, t: f64, _: &[f64]) -> f64 {
            // Positive only between 0.4999 and 0.5001 of a second.
            1e-8 - (t - 0.5).powi(2)
        }
    }
    let mut y = vec![1.0];
    let mut coarse = Controls::new(1e-2);
    coarse.max_steps = 100;
    let report = integrate(&Linear, 0.0, &mut y, 2.0, &coarse, Some(&Bump), &mut |_| {
        true
    })
    .expect("run");
    assert_eq!(report.stop, Stop::Event);
    assert!((report.t - 0.4999).abs() < 1e-6, "{}", report.t);
}

/// The release event itself, at the found time, is zero to the accuracy of the time.
#[test]
fn the_margin_is_zero_at_the_trip() {
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let model = Model::new(
        &device,
        Fineness {
            order: 10,
            end_element_m: 0.01,
        },
    );
    let case = case(&s);
    let mut session = case.start(&model, 1e-7).expect("start");
    session
        .carry(&Programme::constant(20.0), 0.0, 1e4, 0.0, &mut Unwatched)
        .expect("carry");
    let plant = Plant {
        model: &model,
        drive: Drive::constant(20.0, 298.15),
    };
    let event = ReleaseEvent {
        plant: &plant,
        in_hand_m: 0.0,
    };
    let value = relatch::solve::Event::value(&event, session.t, &session.y);
    assert!(value.abs() < 1e-13, "{value}");
}
