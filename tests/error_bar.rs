//! The stated error is true to its word: over a spread of devices and currents the true error exceeds the
//! stated one in fewer than one case in a hundred.

mod support;

use relatch::device::{Device, Fineness, Model};
use relatch::load::Programme;
use relatch::predict::{Unwatched, run, run_on, trip_point};
use support::{apart, case, shipped, worked};

/// A small reproducible stream of numbers in 0..1 (Lehmer, modulus 2^31 - 1, multiplier 48271: S. K. Park,
/// K. W. Miller & P. K. Stockmeyer, Comm. ACM 36 (1993) 105).
struct Stream(u64);

impl Stream {
    fn next(&mut self) -> f64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low * (high / low).powf(self.next())
    }
}

/// The worked strip and the first part, with every dimension changed by up to a factor of two.
fn random_case(stream: &mut Stream) -> (Device, relatch::predict::Case, f64) {
    let mut s = if stream.next() < 0.5 {
        worked(|_| {})
    } else {
        shipped("01-pug-mill.toml")
    };
    s.strip.length_m *= stream.between(0.7, 1.5);
    s.strip.push_point_m = s.strip.length_m * stream.between(0.7, 1.0);
    s.strip.width_m *= stream.between(0.6, 1.6);
    for layer in &mut s.strip.layers {
        layer.thickness_m *= stream.between(0.6, 1.6);
    }
    s.clamped_terminal.conductance_w_per_k *= stream.between(0.5, 2.0);
    s.moving_contact.heat_capacity_j_per_k *= stream.between(0.3, 3.0);
    s.fixed_contact.conductance_w_per_k *= stream.between(0.5, 2.0);
    s.cooling.emissivity = stream.between(0.1, 0.9);
    let device = Device::new(&s).expect("device");
    let case = case(&s);
    let multiple = stream.between(1.01, 8.0);
    (device, case, multiple)
}

#[test]
fn the_true_error_stays_below_the_stated_one() {
    let mut stream = Stream(20_260_101);
    let (mut asked, mut exceeded) = (0, Vec::new());
    for number in 0..60 {
        let (device, case, multiple) = random_case(&mut stream);
        let Ok(point) = trip_point(
            &device,
            case.ambient_k(),
            case.rated_current_a,
            case.accuracy,
        ) else {
            continue;
        };
        let Some(point) = point.value.current_a() else {
            continue;
        };
        let load = Programme::constant(multiple * point);
        let answer = run(&device, &case, &load, true).expect("run");
        // Beyond the range of a property the program refuses to answer; nor do we ask here.
        let peak = Model::new(&device, answer.fidelity.fineness).peak_k(&answer.value.state);
        if peak > 610.0 {
            continue;
        }
        let fine = Model::new(
            &device,
            Fineness {
                order: 14,
                end_element_m: device.length_m / 25.0,
            },
        );
        let reference =
            run_on(&fine, 1e-11, &case, &load, true, &mut Unwatched).expect("reference");
        let Some(stated) = answer.error_relative else {
            continue;
        };
        for (got, truth) in [
            (answer.value.trip_time_s, reference.trip_time_s),
            (answer.value.relatch_wait_s, reference.relatch_wait_s),
        ] {
            let (Some(got), Some(truth)) = (got, truth) else {
                continue;
            };
            asked += 1;
            if apart(got, truth) > stated.max(1e-9) {
                exceeded.push((number, multiple, got, truth, stated));
            }
        }
    }
    assert!(asked > 90, "{asked}");
    assert!(
        exceeded.len() * 100 < asked,
        "{} of {asked}: {exceeded:?}",
        exceeded.len()
    );
}
