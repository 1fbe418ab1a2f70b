//! More current never trips later, hotter never trips later, lost preload never trips later, and
//! the waits order as they must.

use crate::support::{case, run_at, shipped, worked};
use proptest::prelude::*;
use relatch::internals::device::Device;
use relatch::internals::load::Programme;
use relatch::internals::predict::{run, trip_point};

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn more_current_never_trips_later(current in 9.5f64..90.0, more in 1.001f64..1.5) {
        let s = worked(|_| {});
        let (a, b) = (run_at(&s, current), run_at(&s, current * more));
        let (ta, tb) = (a.value.trip_time_s.unwrap(), b.value.trip_time_s.unwrap());
        prop_assert!(tb < ta * (1.0 + 1e-5), "{ta} {tb}");
    }

    #[test]
    fn hotter_never_trips_later_and_never_waits_shorter(current in 10.5f64..60.0, ambient in 253.0f64..308.0, warmer in 0.5f64..15.0) {
        let at = |k: f64| run_at(&worked(|s| s.surroundings.ambient = vec![(0.0, k)]), current).value;
        let (a, b) = (at(ambient), at(ambient + warmer));
        let (ta, tb) = (a.trip_time_s.unwrap_or(f64::INFINITY), b.trip_time_s.unwrap_or(f64::INFINITY));
        prop_assert!(tb <= ta * (1.0 + 1e-5), "{ta} {tb}");
        if let (Some(wa), Some(wb)) = (a.relatch_wait_s, b.relatch_wait_s) {
            prop_assert!(wb >= wa * (1.0 - 1e-5), "{wa} {wb}");
        }
    }

    #[test]
    fn lost_latch_preload_never_trips_later(loss in 0.0f64..0.8, more in 0.01f64..0.14) {
        let s = shipped("06-irrigation-pump-new.toml");
        let device = Device::new(&s).unwrap();
        let (case, load) = (case(&s), Programme::constant(2.0 * s.protector.rated_current_a));
        let time = |loss: f64| run(&device.with_loss(loss).unwrap(), &case, &load, false).unwrap().value.trip_time_s.unwrap();
        prop_assert!(time(loss + more) <= time(loss) * (1.0 + 1e-5));
    }
}

#[test]
fn the_trip_point_parts_holding_from_tripping() {
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let point = trip_point(&device, 298.15, 10.0, 1e-7)
        .expect("point")
        .value
        .current_a()
        .expect("finite");
    assert_eq!(run_at(&s, point * 0.9995).value.trip_time_s, None);
    assert!(run_at(&s, point * 1.0005).value.trip_time_s.is_some());
}

#[test]
fn a_hot_start_trips_sooner_than_a_cold_one() {
    let cold = worked(|_| {});
    let hot = worked(|s| {
        s.before = relatch::internals::scenario::Before::Hot {
            fraction_of_rated: 0.8,
        }
    });
    for current in [10.0, 15.0, 40.0] {
        let (c, h) = (
            run_at(&cold, current).value.trip_time_s.unwrap(),
            run_at(&hot, current).value.trip_time_s.unwrap(),
        );
        assert!(h < c, "{current}: {h} {c}");
    }
}
