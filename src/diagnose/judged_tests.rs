//! Cases that say one thing to a technician.

use super::judged::{Judged, judged};
use super::record::Cause;
use crate::evidence;
use crate::family::Family;

/// A verdict on a case of a 10 A part, by a small family.
pub(super) fn of(rest: &str) -> Judged {
    let text = format!(
        "format = 1\nkind = \"case\"\ntitle = \"A mixer\"\n\n[protector]\nrating = \"10 A\"\n\n{rest}"
    );
    let case = evidence::read_text("case", &text).unwrap_or_else(|e| panic!("{e}"));
    judged(&case, &Family::new(&case.nameplate, 48).unwrap(), 1)
}

pub(super) fn probability(found: &Judged, cause: Cause) -> f64 {
    let of = found.causes.iter().find(|c| c.cause == cause);
    of.map_or(0.0, |c| c.probability)
}

/// A sound part whose machine was read while it had nothing to do.
const READ_AT_OTHER_TIMES: &str = r#"
[machine]
rated_current = "8.5 A"
waveform = "sine"
starts_with_a_surge = false

[[trip]]
after = "30 s"
from = "cold"

[[trip]]
after = "20 s"
from = "cold"
on = "bench"
current = "20 A +- 2 %"
air = "23 degC"

[[trip]]
after = "20 s"
from = "cold"
part = "as new"
on = "bench"
current = "20 A +- 2 %"
air = "23 degC"

[[reading]]
current = "8.0 A"
meter = "true RMS"
taken = "while running"

[[air]]
at = "the room"
temperature = "22 degC"
"#;

#[test]
fn an_overload_may_be_gone_when_the_current_is_read() {
    let found = of(READ_AT_OTHER_TIMES);
    let overload = probability(&found, Cause::Overload);
    assert!(overload > 0.5, "{overload} {:?}", found.causes);
    // Read while it trips, the same current clears the load.
    let found = of(&READ_AT_OTHER_TIMES.replace("while running", "up to the trip"));
    let overload = probability(&found, Cause::Overload);
    assert!(overload < 0.05, "{overload} {:?}", found.causes);
}

#[test]
fn a_machine_that_was_also_read_running_empty_may_be_overloaded() {
    let rest = |empty: &str| {
        format!(
            r#"
[machine]
rated_current = "9.2 A"
waveform = "distorted"
starts_with_a_surge = false

[[reading]]
current = "8.7 A"
meter = "average responding"
taken = "up to the trip"

{empty}

[[trip]]
after = "7 min"
from = "cold"
"#
        )
    };
    let empty = r#"[[reading]]
current = "2.6 A"
meter = "average responding"
taken = "while running""#;
    let overload = |empty| probability(&of(&rest(empty)), Cause::Overload);
    assert!(
        overload(empty) > 0.5 * overload(""),
        "{} {}",
        overload(empty),
        overload("")
    );
}

#[test]
fn what_comes_at_the_same_time_of_every_run_is_an_event_of_the_run() {
    let found = of(r#"
[machine]
rated_current = "8.5 A"
waveform = "sine"
starts_with_a_surge = true

[[trip]]
after = "26 min"
from = "cold"
start = true
times = 2

[[trip]]
after = "25 min"
from = "100 s after the trip"
start = true

[[reading]]
current = "8.0 A"
meter = "true RMS"
taken = "while running"

[[air]]
at = "the part"
temperature = "26 degC"

[swap]
fault = "stays at the place"
watched = "60 min"
twin_tripped_after = "26 min"
"#);
    let event = probability(&found, Cause::StartOrStall);
    assert!(event > 0.75, "{event} {:?}", found.causes);
}

#[test]
fn what_always_comes_at_one_time_is_less_often_an_event_of_the_run() {
    let event = |times: u32| {
        let found = of(&format!(
            r#"
[machine]
rated_current = "8.9 A"
waveform = "sine"
starts_with_a_surge = false

[[trip]]
after = "about 45 min"
times = {times}

[[reading]]
current = "8.7 A"
meter = "true RMS"
taken = "while running"
"#
        ));
        probability(&found, Cause::StartOrStall)
    };
    let (twice, often) = (event(2), event(6));
    assert!(often < 0.5 * twice, "{twice} {often}");
}

#[test]
fn a_part_that_never_tripped_in_service_has_no_cause_of_trips() {
    let found = of(r#"
[[trip]]
after = "40 s"
from = "cold"
on = "bench"
current = "20 A +- 2 %"
air = "23 degC"

[[reading]]
current = "8.0 A"
meter = "true RMS"
taken = "while running"

[[held]]
for = "3 h"
from = "cold"
"#);
    for cause in [
        Cause::Overload,
        Cause::BadConnection,
        Cause::HotSurroundings,
    ] {
        assert_eq!(probability(&found, cause), 0.0, "{:?}", found.causes);
    }
    assert!(probability(&found, Cause::WornLate) > 0.0);
}

#[test]
fn terminals_that_are_both_hot_speak_of_the_air() {
    let rest = |both: &str| {
        format!(
            r#"
[machine]
rated_current = "9.0 A"
waveform = "sine"

[[trip]]
after = "4 min"
from = "cold"

[[reading]]
current = "8.8 A"
meter = "true RMS"
taken = "up to the trip"

[terminals]
hotter = "{both} degC"
other = "{both} degC"
"#
        )
    };
    let hot = |both| probability(&of(&rest(both)), Cause::HotSurroundings);
    assert!(hot("82") > hot("38") + 0.3, "{} {}", hot("82"), hot("38"));
}

#[test]
fn a_start_that_the_part_cut_off_may_have_been_a_long_one() {
    let rest = |lasted: &str, trip: &str| {
        format!(
            r#"
[machine]
rated_current = "8.5 A"
waveform = "sine"
starts_with_a_surge = true

[[trip]]
after = "{trip}"
from = "cold"
start = true

[[reading]]
current = "8.0 A"
meter = "true RMS"
taken = "while running"

[start]
peak = "50 A"
duration = "{lasted}"
captured_with = "a recorder"
"#
        )
    };
    let start = |lasted, trip| probability(&of(&rest(lasted, trip)), Cause::StartOrStall);
    let (cut_off, over) = (start("1.1 s", "1.1 s"), start("1.1 s", "4 min"));
    assert!(cut_off > 0.6 && over < 0.3, "{cut_off} {over}");
}

/// A log with a row every ten seconds, and a machine that never gets over its start: the one row of
/// load is a start, not a current that no sound part would trip at.
#[test]
fn a_start_within_one_row_of_a_log_is_a_start() {
    let name = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/field/11-start.toml");
    let case = evidence::read(name.as_ref()).unwrap_or_else(|e| panic!("{e}"));
    let found = judged(&case, &Family::new(&case.nameplate, 48).unwrap(), 1);
    let start = probability(&found, Cause::StartOrStall);
    assert!(start > 0.4, "{start}");
}

#[test]
fn a_plate_a_little_above_the_rating_does_not_rule_hot_air_out() {
    let rest = |plate: &str| {
        format!(
            r#"
[machine]
rated_current = "{plate}"
waveform = "sine"

[[trip]]
after = "90 s"
from = "cold"
times = 3

[[reading]]
current = "9.7 A"
meter = "true RMS"
taken = "up to the trip"

[[air]]
at = "the part"
temperature = "60 degC"

[[air]]
at = "the room"
temperature = "27 degC"
"#
        )
    };
    let hot = |plate| probability(&of(&rest(plate)), Cause::HotSurroundings);
    assert!(hot("10.5 A") > 0.8, "{}", hot("10.5 A"));
}

#[test]
fn what_comes_within_seconds_of_the_start_is_no_event_of_the_run() {
    let event = |after: &str| {
        let found = of(&format!(
            r#"
[machine]
rated_current = "8.5 A"
waveform = "sine"
starts_with_a_surge = false

[[trip]]
after = "{after}"
from = "cold"

[[reading]]
current = "8.0 A"
meter = "true RMS"
taken = "up to the trip"

[[air]]
at = "the part"
temperature = "24 degC"
"#
        ));
        probability(&found, Cause::StartOrStall)
    };
    let (soon, late) = (event("3 s"), event("15 min"));
    assert!(soon < 0.5 * late, "{soon} {late}");
}

/// What `relatch run` says of a phase lost in mid-run (`scenarios/16-pump-lost-phase.toml`: 10.5 A
/// long, then 18.186 A in two poles, and a trip), told as a technician finds it.
#[test]
fn a_lost_phase_is_told_by_the_currents_of_the_phases() {
    let current_a = 18.186;
    let case = |phases: &str, more: &str| {
        let text = format!(
            r#"
format = 1
kind = "case"
title = "A pump"

[protector]
rating = "12 A"
reference_air = "23 degC"
poles = 3
notices_lost_phase = true

[machine]
load = "motor"
rated_current = "10.8 A"
phases = {phases}
{more}

[[reading]]
current = "{current_a:.2} A"
meter = "true RMS"
taken = "up to the trip"

[[air]]
at = "the part"
temperature = "35 degC"
"#
        );
        let case = evidence::read_text("case", &text).unwrap_or_else(|e| panic!("{e}"));
        // Of one phase looped through all poles nothing needs to be assumed.
        let one = |a: &crate::family::Assumed| matches!(a, crate::family::Assumed::OnePole { .. });
        assert_eq!(case.nameplate.assumed.iter().any(one), phases == "3");
        judged(&case, &Family::new(&case.nameplate, 48).unwrap(), 1)
    };
    let told = case("3", "phase_currents = \"18.2 A, 17.9 A, 0.3 A\"");
    assert_eq!(told.causes[0].cause, Cause::LostPhase, "{:?}", told.causes);
    assert!(told.causes[0].probability > 0.8, "{:?}", told.causes);
    // Where nobody looked it is one of several; where all carry the same it is none.
    let open = probability(&case("3", ""), Cause::LostPhase);
    assert!((0.02..0.9).contains(&open), "{open}");
    let even = case("3", "phase_currents = \"18.2 A, 17.9 A, 18.0 A\"");
    assert!(
        probability(&even, Cause::LostPhase) < 0.1 * open,
        "{:?}",
        even.causes
    );
    // A machine on one phase is not asked about it.
    let single = case("1", "");
    assert!(single.causes.iter().all(|c| c.cause != Cause::LostPhase));
}

#[test]
fn a_part_that_goes_on_and_off_tells_how_far_its_load_is_above_what_it_holds() {
    let of = |cycles: &str| {
        of(&format!(
            "[machine]\nrated_current = \"9.2 A\"\ncycles = \"{cycles}\"\n"
        ))
    };
    // On for a third of the time is 1.6 times what it holds, for nine tenths hardly more than that:
    // what a warm place or a worn part does to a load that is as it should be.
    let (third, most) = (of("on 20 s, off 40 s"), of("on 9 min, off 1 min"));
    let overload = |found: &Judged| probability(found, Cause::Overload);
    assert!(
        overload(&third) > overload(&most) + 0.05,
        "{:?} {:?}",
        third.causes,
        most.causes
    );
}
