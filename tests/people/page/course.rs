//! The clock: what it shows agrees with the answers, and a press of the reset does what the tables
//! say.

use crate::support::made;
use relatch::internals::page::{Preset, Sliders, shipped, watched};
use relatch::internals::predict::{Event, Options, predict};

fn preset(id: &str) -> Preset {
    let all = shipped().expect("presets");
    all.into_iter().find(|p| p.id == id).expect("preset")
}

fn time_of(course: &relatch::internals::page::Watched, event: Event) -> Vec<f64> {
    course
        .events
        .iter()
        .filter(|e| e.event == event)
        .map(|e| e.time_s)
        .collect()
}

#[test]
fn it_trips_and_relatches_when_the_answers_say() {
    for id in ["01-pug-mill", "02-curtain-winch", "08-worked-strip"] {
        let preset = preset(id);
        let options = made!(Options {
            without_tables: true,
            ..Options::default()
        });
        let outcome = predict(&preset.scenario, &options, &mut |_, _| {}).expect("outcome");
        let course = watched(&preset, &Sliders::default(), &[]).expect("course");
        let trip = outcome.trip.time_s().expect("trips");
        let wait = outcome.reset.relatch_wait.time_s().expect("relatches");
        let opened = time_of(&course, Event::ContactsOpen)[0];
        let close = |a: f64, b: f64| (a / b - 1.0).abs() < 3e-5;
        assert!(close(time_of(&course, Event::Release)[0], trip), "{id}");
        assert!(
            close(time_of(&course, Event::Relatch)[0] - opened, wait),
            "{id}"
        );
        assert!(course.time_s.last().expect("times") > &(opened + 1.9 * wait));
        assert!(course.time_s.windows(2).all(|w| w[0] <= w[1]));
        assert!(course.frames.len() > 20 && course.frames.len() < 200);
    }
}

/// Too early: refused, and nothing changes. Later: it catches, and trips again as soon as the table
/// of premature resets has it.
#[test]
fn a_press_of_the_reset_does_what_the_table_says() {
    let preset = preset("01-pug-mill");
    let outcome = predict(&preset.scenario, &Options::default(), &mut |_, _| {}).expect("outcome");
    let first = watched(&preset, &Sliders::default(), &[]).expect("course");
    let opened = time_of(&first, Event::ContactsOpen)[0];
    for row in outcome.premature_reset.iter().skip(1).take(3) {
        let again = row.trips_again_after.time_s().expect("trips again");
        let presses = [opened + 5.0, opened + row.wait_s];
        let course = watched(&preset, &Sliders::default(), &presses).expect("course");
        assert_eq!(time_of(&course, Event::ResetRefused), [presses[0]]);
        assert_eq!(time_of(&course, Event::Reset), [presses[1]]);
        let released = time_of(&course, Event::Release);
        assert_eq!(released.len(), 2);
        let found = released[1] - presses[1];
        assert!((found / again - 1.0).abs() < 3e-4, "{found} {again}");
        assert_eq!(course.runs.len(), 2);
    }
}

#[test]
fn a_press_while_closed_is_no_press() {
    let preset = preset("08-worked-strip");
    let plain = watched(&preset, &Sliders::default(), &[]).expect("course");
    let pressed = watched(&preset, &Sliders::default(), &[0.0, 1.0]).expect("course");
    assert_eq!(plain.time_s, pressed.time_s);
}

#[test]
fn what_resets_itself_goes_its_own_way() {
    let preset = preset("04-fog-machine");
    let course = watched(&preset, &Sliders::default(), &[400.0]).expect("course");
    assert!(time_of(&course, Event::Reset).is_empty());
    assert!(time_of(&course, Event::ClosesByItself).len() >= 2);
}

#[test]
fn a_load_that_is_held_ends_held() {
    let preset = preset("01-pug-mill");
    let sliders = Sliders {
        current_a: Some(10.0),
        ..Sliders::default()
    };
    let course = watched(&preset, &sliders, &[]).expect("course");
    assert!(time_of(&course, Event::Release).is_empty());
    assert_eq!(time_of(&course, Event::Holds).len(), 1);
    assert!(course.closed.iter().all(|c| *c));
}
