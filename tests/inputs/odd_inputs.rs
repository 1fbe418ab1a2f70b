//! Legal but odd scenarios get answers, not crashes.

use crate::support::made;
use crate::support::{case, fine_model, shipped, worked};
use relatch::internals::answer::{Failed, TripTime};
use relatch::internals::load::{Current, Programme, Repeat};
use relatch::internals::predict::{
    Event, Options, Outcome, PredictError, Trip, TripPoint, closed_steady, predict,
};
use relatch::internals::scenario::{Before, HistoryStep, Scenario, set};

fn ask(s: &Scenario) -> Result<Outcome, PredictError> {
    predict(
        s,
        &made!(Options {
            without_tables: true,
            ..Options::default()
        }),
        &mut |_, _| {},
    )
}

fn answer(s: &Scenario) -> Outcome {
    let o = ask(s).unwrap_or_else(|e| panic!("{e}"));
    let json = relatch::internals::present::json(&o).expect("JSON");
    assert!(!json.contains("NaN") && !json.contains("inf"), "{json}");
    let text = relatch::internals::present::text(&o);
    assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
    o
}

#[test]
fn an_ambient_above_the_trip_temperature_stays_open() {
    let o = answer(&worked(|s| s.surroundings.ambient = vec![(0.0, 373.15)]));
    assert_eq!(o.trip.time_s(), Some(0.0));
    assert_eq!(o.trip_point.current_a(), None);
    assert_eq!(o.trip_point, TripPoint::StaysOpen);
    assert!(matches!(o.trip, Trip::AtOnce(_)), "{:?}", o.trip);
    assert_eq!(o.reset.relatch_wait.time_s(), None);
    assert!(o.reset.relatch_wait.is_never(), "{:?}", o.reset);
}

#[test]
fn no_current_holds_for_ever() {
    for current in [0.0, 1e-9] {
        let o = answer(&worked(|s| s.load = Programme::constant(current)));
        assert!(matches!(o.trip, Trip::HoldsForEver { .. }), "{:?}", o.trip);
    }
}

#[test]
fn a_latch_that_never_comes_back_says_so() {
    let o = answer(&worked(|s| {
        if let Some(latch) = s.release.mechanism.latch_mut() {
            latch.relatch_travel_m = -1e-3;
        }
    }));
    assert!(o.trip.trips());
    assert_eq!(o.reset.relatch_wait.time_s(), None);
    assert!(o.reset.relatch_wait.is_never(), "{:?}", o.reset);
}

#[test]
fn a_single_layer_never_bends_and_never_trips() {
    let o = answer(&worked(|s| {
        s.strip.layers.truncate(1);
        s.load = Programme::constant(8.0);
    }));
    assert!(!o.trip.trips());
    assert!(o.trip_point.current_a().is_none(), "{:?}", o.trip_point);
}

#[test]
fn a_layer_of_no_thickness_changes_nothing() {
    let plain = answer(&worked(|_| {}));
    let with = answer(&worked(|s| {
        let mut nothing = s.strip.layers[0].clone();
        nothing.thickness_m = 0.0;
        s.strip.layers.push(nothing);
    }));
    assert_eq!(plain.trip.time_s(), with.trip.time_s());
}

#[test]
fn very_short_and_very_long_steps() {
    let steps = [(1e-3, 60.0), (1e-3, 1.0), (1e6, 5.0), (f64::INFINITY, 20.0)];
    let load = Programme::steps(steps, Repeat::Once);
    let o = answer(&worked(|s| {
        s.load = load.clone();
        s.ask.longest_s = 1e8;
    }));
    let t = o.trip.time_s().expect("trips in the last step");
    assert!(t > 1e6 && t < 1e6 + 10.0, "{t}");
}

#[test]
fn a_warming_room_alone_can_trip_it() {
    let o = answer(&worked(|s| {
        s.load = Programme::constant(8.5);
        s.surroundings.ambient = vec![(0.0, 298.15), (3600.0, 338.15)];
    }));
    assert!(o.trip.trips() && o.trip.time_s().expect("a time") > 300.0);
    assert!(
        o.trip.release().expect("a current").current_a < o.trip_point.current_a().expect("a point")
    );
}

#[test]
fn a_hot_start_beyond_release_is_refused_with_the_trip_point() {
    let e = ask(&worked(|s| {
        s.before = Before::Hot {
            fraction_of_rated: 1.5,
        }
    }))
    .expect_err("refused");
    let text = e.to_string();
    assert!(
        text.contains("already tripped") && text.contains("9.218 A"),
        "{text}"
    );
}

#[test]
fn a_property_beyond_its_source_is_refused_by_name_or_allowed() {
    let hot = |allow: bool| {
        let mut s = shipped("01-pug-mill.toml");
        for layer in &mut s.strip.layers {
            let mut alloy = (*layer.alloy).clone();
            alloy.conductivity.valid_k.1 = 360.0;
            layer.alloy = alloy.into();
        }
        s.strip.allow_extrapolation = allow;
        s
    };
    let text = ask(&hot(false)).expect_err("refused").to_string();
    for word in [
        "thermal conductivity",
        "Fe-36Ni",
        "87 degC",
        "allow_extrapolation",
    ] {
        assert!(text.contains(word), "{word}: {text}");
    }
    let o = answer(&hot(true));
    assert!(o.warnings.iter().any(|w| w.code() == "extrapolated"));
}

#[test]
fn a_duty_below_the_trip_point_is_proved_to_hold() {
    let mut s = shipped("04-fog-machine.toml");
    for segment in &mut s.load.segments {
        if let Current::Constant(a) = &mut segment.current {
            *a *= 0.6;
        }
    }
    let o = answer(&s);
    assert!(matches!(o.trip, Trip::HoldsForEver { .. }), "{:?}", o.trip);
}

#[test]
fn an_early_reset_is_refused_and_a_second_trip_comes_sooner() {
    let o = answer(&shipped("10-impatient-resets.toml"));
    let times = |what: Event| {
        o.events
            .iter()
            .filter(|e| e.event == what)
            .map(|e| e.time_s)
            .collect::<Vec<_>>()
    };
    assert_eq!(times(Event::ResetRefused).len(), 1, "{:?}", o.events);
    assert_eq!(times(Event::Reset).len(), 1);
    let (on, off) = (times(Event::LoadOn), times(Event::Release));
    assert_eq!((on.len(), off.len()), (2, 2));
    assert!(off[1] - on[1] < off[0] - on[0], "{:?}", o.events);
}

/// A load carried for a stated time, then a pause with closed contacts, then a jam: the longer the
/// pause, the cooler the strip and the later the trip; the record lasts as long as the history
/// says.
#[test]
fn a_pause_with_closed_contacts_cools_for_as_long_as_it_lasts() {
    let trip_after = |pause_s: f64| {
        let mut s = shipped("01-pug-mill.toml");
        s.history = vec![
            HistoryStep::Run {
                programme: Programme::constant(9.0),
                longest_s: 1800.0,
            },
            HistoryStep::Wait {
                duration_s: pause_s,
            },
            HistoryStep::Run {
                programme: Programme::constant(30.0),
                longest_s: f64::INFINITY,
            },
        ];
        let o = answer(&s);
        let time = |what: Event| {
            o.events
                .iter()
                .rfind(|e| e.event == what)
                .expect("an event")
                .time_s
        };
        assert!(
            (time(Event::LoadOn) - 1800.0 - pause_s).abs() < 1e-6,
            "{:?}",
            o.events
        );
        time(Event::Release) - time(Event::LoadOn)
    };
    let (short, long, cold) = (trip_after(30.0), trip_after(600.0), trip_after(36_000.0));
    assert!(short < 0.95 * long && long < cold, "{short} {long} {cold}");
    let plain =
        relatch::internals::device::Device::new(&shipped("01-pug-mill.toml")).expect("device");
    let case = case(&shipped("01-pug-mill.toml"));
    let from_cold =
        relatch::internals::predict::run(&plain, &case, &Programme::constant(30.0), false)
            .expect("run");
    let expected = from_cold.value.trip_time_s.expect("trips");
    assert!((cold / expected - 1.0).abs() < 1e-4, "{cold} {expected}");
}

/// What a run that holds still comes nearer after holding is proved counts: the steady state is the
/// nearest.
#[test]
fn the_closest_approach_is_that_of_the_steady_state() {
    let mut s = shipped("01-pug-mill.toml");
    s.load = Programme::constant(11.0);
    let o = answer(&s);
    let said = o.trip.closest_approach_mm().expect("it holds");
    let (model, ambient_k) = (fine_model(&s), s.surroundings.ambient[0].1);
    let steady = closed_steady(&model, 11.0, ambient_k, &model.uniform(ambient_k));
    let steady = steady.expect("solved").expect("a steady state");
    let squared = (model.device.current_share * 11.0).powi(2);
    let left_mm = -1e3 * model.release_excess_m(&steady, squared);
    assert!((said / left_mm - 1.0).abs() < 1e-3, "{said} {left_mm}");
}

/// The part as it is stands in the table as it stands in the answer, whatever its contact has lost.
#[test]
fn the_table_has_the_contact_of_the_answer() {
    let mut s = shipped("01-pug-mill.toml");
    (s.release.preload_loss, s.release.contact_loss) = (0.1, 0.5);
    let o = predict(&s, &Options::default(), &mut |_, _| {}).expect("an outcome");
    let own = o
        .preload_shift
        .iter()
        .find(|r| r.loss == 0.1)
        .expect("its own row");
    let (row, point) = (own.trip_point.current_a(), o.trip_point.current_a());
    assert!(
        (row.expect("row") / point.expect("point") - 1.0).abs() < 1e-6,
        "{row:?} {point:?}"
    );
}

#[test]
fn another_load_reaches_the_history() {
    let name = "10-impatient-resets.toml";
    let before = answer(&shipped(name));
    let text = std::fs::read_to_string(format!("scenarios/{name}")).expect("shipped");
    let set = set((name, &text), "--set", &[("load.current", "39 A")]);
    let (_, s) = set.unwrap_or_else(|e| panic!("{e}"));
    let o = answer(&s);
    let first = |o: &Outcome| {
        o.events
            .iter()
            .find(|e| e.event == Event::Release)
            .map(|e| e.time_s)
    };
    let (played, said) = (first(&o).expect("trips"), o.trip.time_s().expect("trips"));
    assert!((played / said - 1.0).abs() < 1e-4, "{played} {said}");
    assert!(played < 0.9 * first(&before).expect("trips"));
}

/// A point of a curve says what a run under its current says.
#[test]
fn a_curve_gives_the_answers_of_a_run() {
    let mut s = shipped("01-pug-mill.toml");
    s.ask.longest_s = 60.0;
    let currents = vec![11.0, 12.6, 20.0, 3000.0];
    let options = made!(Options {
        characteristic: true,
        currents_a: Some(currents.clone()),
        without_tables: true,
        ..Options::default()
    });
    let curve = predict(&s, &options, &mut |_, _| {})
        .expect("an outcome")
        .characteristic;
    let cold = curve.expect("a curve").cold;
    for (current_a, point) in currents.into_iter().zip(cold) {
        s.load = Programme::constant(current_a);
        let agrees = match (ask(&s), &point.time) {
            (Ok(o), TripTime::After(time)) => o
                .trip
                .time_s()
                .is_some_and(|t| (t / time.value - 1.0).abs() < 1e-4),
            (Ok(o), TripTime::NotWithin { .. }) => matches!(o.trip, Trip::NotWithin { .. }),
            (Ok(o), TripTime::HoldsForEver) => matches!(o.trip, Trip::HoldsForEver { .. }),
            (Err(PredictError::OutOfRange { .. }), TripTime::Failed { .. }) => current_a == 3000.0,
            _ => false,
        };
        assert!(agrees, "{current_a} A: {:?}", point.time);
    }
}

/// Nothing is said of a strip that has melted, neither by a run nor by a curve.
#[test]
fn a_strip_that_melts_gets_no_verdict() {
    let mut s = worked(|s| {
        s.strip.layers.truncate(1);
        s.strip.allow_extrapolation = true;
        s.load = Programme::constant(60.0);
    });
    assert!(
        matches!(ask(&s), Err(PredictError::Melts { .. })),
        "{:?}",
        ask(&s).map(|o| o.trip)
    );
    s.load = Programme::constant(1.0);
    let options = made!(Options {
        characteristic: true,
        currents_a: Some(vec![60.0]),
        without_tables: true,
        ..Options::default()
    });
    let curve = predict(&s, &options, &mut |_, _| {})
        .expect("an outcome")
        .characteristic;
    let time = &curve.expect("a curve").cold[0].time;
    let melts = matches!(
        time,
        TripTime::Failed {
            why: Failed::Melts { .. }
        }
    );
    assert!(melts, "{time:?}");
}
