//! Observed orders of convergence, and how much work an answer takes.

use crate::steps::{MarchTo, Stepper, equal_steps};
use crate::support::{apart, case, worked};
use pulp::{Simd, WithSimd};
use relatch::internals::device::{Device, Drive, Fineness, Gauge, Model, Plant};
use relatch::internals::load::Programme;
use relatch::internals::predict::{Unwatched, run, run_on, trip_point, trip_point_on};
use relatch::internals::solve::wide::{Row, dispatch};
use relatch::internals::solve::{
    Controls, Flow, ProfileMatrix, Rodas5p, Shape, StiffFlow, Stop, System, Wide, integrate,
};

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

/// On one element the error of the trip time falls spectrally: two orders more cut it at least 4
/// times until the time tolerance is reached.
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

/// Elements of order 3, refined: the error of the trip time falls at least as the fourth power of
/// the element (functionals of an order-p element solution converge as h^(2p) where the solution is
/// smooth).
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

/// The dense output is of order 4: at mid-step, halving the step cuts the error by 32 (local order
/// 5).
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
        let mut dense = relatch::internals::solve::DenseStep::default();
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

/// The event is found on the solution, not on an interpolant: a hundredfold looser tolerance moves
/// it by the time error only, and a step that contains a touch and return is not missed.
#[test]
fn a_crossing_and_return_inside_one_step_is_not_missed() {
    struct Bump;
    impl relatch::internals::solve::Event for Bump {
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
    let event = plant.release();
    let value = relatch::internals::solve::Event::value(&event, session.t, &session.y);
    assert!(value.abs() < 1e-13, "{value}");
}

/// Euler's equations of a turning body, pushed to and fro so that time enters: smooth and
/// nonlinear.
struct Body {
    len: usize,
}

impl<S: Simd> Flow<S> for Body {
    fn len(&self) -> usize {
        self.len
    }
    fn unknowns(&self) -> usize {
        3
    }
    fn rates(&mut self, t: Wide<S>, y: &[f64], dy: &mut [f64]) {
        dy.fill(0.0);
        dy[0] = y[1] * y[2] + t.range().0.sin();
        dy[1] = -y[0] * y[2];
        dy[2] = -0.51 * y[0] * y[1];
    }
    fn reference(&self) -> Wide<S> {
        unreachable!("errors of equal steps are not judged")
    }
    fn fastest_per_s(&self) -> f64 {
        1.0
    }
}

impl<S: Simd> StiffFlow<S> for Body {
    fn jacobian_columns(&mut self, _: f64, y: &[f64], columns: &mut [f64]) {
        columns.fill(0.0);
        let rows = [
            [0.0, y[2], y[1]],
            [-y[2], 0.0, -y[0]],
            [-0.51 * y[1], -0.51 * y[0], 0.0],
        ];
        for (r, row) in rows.iter().enumerate() {
            for (c, value) in row.iter().enumerate() {
                columns[c * self.len + r] = *value;
            }
        }
    }
    fn time_slope(&mut self, t: f64, _: &[f64], dfdt: &mut [f64]) -> bool {
        dfdt.fill(0.0);
        dfdt[0] = t.cos();
        true
    }
}

struct Turned(Stepper, usize);

impl WithSimd for Turned {
    type Output = [f64; 3];
    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> [f64; 3] {
        let len = 3usize.next_multiple_of(S::F64_LANES);
        let mut y = Row::padded(&[0.3, 1.0, 0.9], len);
        equal_steps(simd, &mut Body { len }, self.0, &mut y, 4.0, self.1);
        [y[0], y[1], y[2]]
    }
}

/// Largest errors after 4 s of the turning body with each number of equal steps.
fn turning_errors(stepper: Stepper, steps: &[usize]) -> Vec<f64> {
    let exact = dispatch(Turned(Stepper::Explicit, 1000));
    let error = |n: usize| {
        let y = dispatch(Turned(stepper, n));
        (0..3).map(|i| (y[i] - exact[i]).abs()).fold(0.0, f64::max)
    };
    steps.iter().map(|n| error(*n)).collect()
}

/// Order 8: halving the step cuts the error by 256, observed between 150 and 450.
#[test]
fn the_explicit_step_in_registers_is_of_order_eight() {
    let errors = turning_errors(Stepper::Explicit, &[8, 16, 32]);
    for pair in errors.windows(2) {
        assert!((150.0..450.0).contains(&(pair[0] / pair[1])), "{errors:?}");
    }
}

/// Order 5: halving the step cuts the error by 32, observed between 24 and 45 from 64 steps on
/// (with fewer the error falls faster still).
#[test]
fn the_implicit_step_in_registers_is_of_order_five() {
    let errors = turning_errors(Stepper::Implicit, &[64, 128, 256]);
    for pair in errors.windows(2) {
        assert!((24.0..45.0).contains(&(pair[0] / pair[1])), "{errors:?}");
    }
}

/// Times of release and relatch of the worked strip, without an estimate.
fn trip_and_wait(order: usize, end_element_m: f64, current_a: f64) -> (f64, f64) {
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let fineness = Fineness {
        order,
        end_element_m,
    };
    let answer = run_on(
        &Model::new(&device, fineness),
        1e-11,
        &case(&s),
        &Programme::constant(current_a),
        true,
        &mut Unwatched,
    )
    .expect("run");
    (
        answer.trip_time_s.expect("trips"),
        answer.relatch_wait_s.expect("cools"),
    )
}

/// One element, trips and coolings: four orders more cut both errors at least by the factor given,
/// down to what order 14 leaves. The faster the trip, the thinner the layers that the element has
/// to resolve; once they are resolved, what is left of the sudden start falls about as the eighth
/// power of the order.
#[test]
fn trips_and_coolings_converge_with_the_order() {
    for (current_a, factor, last) in [(13.0, 8.0, 1e-7), (20.0, 12.0, 2e-7), (60.0, 20.0, 5e-5)] {
        let (trip, wait) = trip_and_wait(18, 0.001, current_a);
        let errors: Vec<(f64, f64)> = [4, 6, 8, 10, 12, 14]
            .iter()
            .map(|order| {
                let (t, w) = trip_and_wait(*order, 0.025, current_a);
                (apart(t, trip), apart(w, wait))
            })
            .collect();
        for (coarse, fine) in errors.iter().zip(&errors[2..]) {
            assert!(
                fine.0 * factor < coarse.0 && fine.1 * factor < coarse.1,
                "{current_a} A: {errors:?}"
            );
        }
        let (t, w) = errors[5];
        assert!(t < last && w < last, "{current_a} A: {errors:?}");
    }
}

/// Just above the trip point, where the wait for the last degrees magnifies every error: within
/// 1e-4 by default and within 1e-6 on request, against a truth that knows no fit and no march in
/// registers.
#[test]
fn trips_just_above_the_trip_point_keep_their_accuracy() {
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let mut exact = device.clone();
    exact.film = None;
    let fine = Model::new(
        &exact,
        Fineness {
            order: 16,
            end_element_m: device.length_m / 25.0,
        },
    );
    let mut case = case(&s);
    let (ambient_k, rated_a) = (case.ambient_k(), case.rated_current_a);
    let point_a = trip_point_on(&fine, ambient_k, rated_a)
        .expect("point")
        .current_a()
        .expect("trips");
    for (accuracy, most) in [(case.accuracy, 1e-4), (1e-6, 1e-6)] {
        case.accuracy = accuracy;
        let got_a = trip_point(&device, ambient_k, rated_a, accuracy)
            .expect("point")
            .value
            .current_a()
            .expect("trips");
        assert!(apart(got_a, point_a) < most, "{got_a} {point_a}");
        for multiple in [1.001, 1.01, 1.1] {
            let load = Programme::constant(multiple * point_a);
            let truth = run_on(&fine, 1e-11, &case, &load, true, &mut Unwatched).expect("run");
            let got = run(&device, &case, &load, true).expect("run").value;
            for (got, truth) in [
                (got.trip_time_s, truth.trip_time_s),
                (got.relatch_wait_s, truth.relatch_wait_s),
            ] {
                let (got, truth) = (got.expect("trips"), truth.expect("trips"));
                assert!(
                    apart(got, truth) < most,
                    "{multiple} x, accuracy {accuracy}: {got} {truth}"
                );
            }
        }
    }
}

/// Work of the marches in registers: steps and right-hand sides of a trip and of its cooling, at
/// most a tenth above what was measured. Counts, not seconds.
#[test]
fn marches_take_few_right_hand_sides() {
    let device = Device::new(&worked(|_| {})).expect("device");
    let cases = [
        // A, order, end element m, tolerance; trip: steps, rates; cooling: steps, rates.
        (9.3, 9, 0.025, 1e-4, (17, 170), (8, 110)),
        (13.0, 9, 0.025, 1e-4, (13, 160), (8, 110)),
        (20.0, 9, 0.025, 1e-4, (4, 57), (8, 108)),
        (60.0, 9, 0.025, 1e-4, (2, 30), (7, 96)),
        (100.0, 8, 0.005, 1e-4, (3, 44), (14, 127)),
        (9.3, 11, 0.025, 1e-5, (27, 251), (14, 152)),
        (13.0, 11, 0.025, 1e-5, (22, 225), (17, 191)),
        (20.0, 11, 0.025, 1e-5, (11, 134), (18, 204)),
        (60.0, 11, 0.025, 1e-5, (2, 30), (17, 213)),
    ];
    for (current_a, order, end_element_m, tolerance, trip, cooling) in cases {
        let fineness = Fineness {
            order,
            end_element_m,
        };
        let model = Model::new(&device, fineness);
        let (tripped, hot) = dispatch(MarchTo {
            model: &model,
            drive: Drive::constant(current_a, 298.15),
            gauge: Gauge::Release { in_hand_m: 0.0 },
            from: model.uniform(298.15),
            t_end: 1e5,
            tolerance,
        });
        let (cooled, _) = dispatch(MarchTo {
            model: &model,
            drive: Drive::open(298.15),
            gauge: Gauge::Relatch,
            from: hot,
            t_end: 1e5,
            tolerance,
        });
        for (what, marched, most) in [("trip", tripped, trip), ("cooling", cooled, cooling)] {
            assert_eq!(marched.stop, Stop::Event);
            let counts = (marched.steps + marched.rejected, marched.rate_count);
            assert!(
                counts.0 <= most.0 && counts.1 <= most.1,
                "{what} at {current_a} A, {tolerance}: {counts:?} above {most:?}"
            );
        }
    }
}
