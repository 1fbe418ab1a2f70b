//! 'It does not trip' is an answer: what was proved to hold still holds when it is simulated on.

use crate::support::{case, shipped, worked};
use relatch::internals::device::{Device, Fineness, Model};
use relatch::internals::load::{Programme, Repeat};
use relatch::internals::predict::{Carried, Unwatched, trip_point};

fn carried(
    s: &relatch::internals::scenario::Scenario,
    load: &Programme,
    until_s: f64,
) -> (Carried, f64) {
    let device = Device::new(s).expect("device");
    let model = Model::new(
        &device,
        Fineness {
            order: 10,
            end_element_m: device.length_m / 2.0,
        },
    );
    let case = case(s);
    let mut session = case.start(&model, 1e-8).expect("start");
    (
        session
            .carry(load, 0.0, until_s, 0.0, &mut Unwatched)
            .expect("carry"),
        session.t,
    )
}

/// A long ramp-free second piece keeps the proof from ending the run, so that it is simulated.
fn without_proof(current_a: f64) -> Programme {
    Programme::steps([(7200.0, current_a), (1.0, 0.0)], Repeat::Once)
}

#[test]
fn what_is_proved_to_hold_holds_for_two_simulated_hours() {
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let point = trip_point(&device, 298.15, 10.0, 1e-7)
        .expect("point")
        .value
        .current_a()
        .expect("finite");
    for part in [0.5, 0.9, 0.99, 0.999, 0.9999] {
        let (answer, proved_at) = carried(&s, &Programme::constant(part * point), f64::INFINITY);
        assert_eq!(answer, Carried::HeldForEver, "{part}");
        assert!(proved_at < 7200.0, "{part}: proof only after {proved_at} s");
        let (answer, _) = carried(&s, &without_proof(part * point), 7200.0);
        assert_eq!(answer, Carried::StillHolding, "{part}");
    }
}

#[test]
fn just_above_the_trip_point_there_is_no_proof_of_holding() {
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let point = trip_point(&device, 298.15, 10.0, 1e-7)
        .expect("point")
        .value
        .current_a()
        .expect("finite");
    for part in [1.0005, 1.002, 1.01] {
        assert_eq!(
            carried(&s, &Programme::constant(part * point), f64::INFINITY).0,
            Carried::Released,
            "{part}"
        );
    }
}

#[test]
fn a_duty_is_proved_by_its_periodic_state() {
    let s = shipped("01-pug-mill.toml");
    let rated = s.protector.rated_current_a;
    let duty =
        |high: f64| Programme::steps([(20.0, high * rated), (40.0, 0.1 * rated)], Repeat::Forever);
    let (answer, at) = carried(&s, &duty(1.3), f64::INFINITY);
    assert_eq!(answer, Carried::HeldForEver);
    assert!(at > 60.0);
    assert_eq!(carried(&s, &duty(3.0), f64::INFINITY).0, Carried::Released);
}

#[test]
fn an_ambient_above_the_trip_temperature_releases_at_once_and_never_relatches() {
    let s = worked(|s| s.surroundings.ambient = vec![(0.0, 460.0)]);
    let (answer, t) = carried(&s, &Programme::constant(1.0), f64::INFINITY);
    assert_eq!((answer, t), (Carried::Released, 0.0));
}
