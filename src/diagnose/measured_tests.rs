//! Cases in which what was measured or found decides.

use super::advice::Advice;
use super::assemble::with_family;
use super::energise::First;
use super::judged_tests::{of, probability};
use super::measurement::{Measurement, NextMeasurement, Shows};
use super::plan::{Step, tests};
use super::record::{Cause, Diagnosis, Misfit, StillOpen, Verdict};
use super::scales::Scales;
use super::still_open::off_supply;
use super::too_late::too_late;
use crate::evidence::{self, Case};
use crate::family::Family;
/// A machine that draws less than the rating and trips after minutes.
const PLAIN: &str = r#"
[machine]
waveform = "sine"
starts_with_a_surge = false

[[reading]]
current = "8.0 A"
meter = "true RMS"
taken = "up to the trip"

[[trip]]
after = "10 min"
from = "cold"
"#;

/// A look at the joints counts: marks speak for a bad one, none against it, and one that was re-made
/// is hardly to blame for a trip since.
#[test]
fn what_was_found_at_the_joints_weighs() {
    let joint = |found: &str| {
        let history = match found {
            "" => String::new(),
            found => format!("\n[history]\njoints = \"{found}\"\n"),
        };
        probability(&of(&format!("{PLAIN}{history}")), Cause::BadConnection)
    };
    let [open, none, marks, re_made] = ["", "no marks", "marks of heat", "re-made"].map(joint);
    // Odds against the other causes: 0.35 / 0.95, 0.65 / 0.05 and 0.05 times those before. The sampler
    // leaves the logarithm of the evidence uncertain by 0.2 to 0.3.
    let odds = |p: f64| p / (1.0 - p);
    for (p, factor) in [(none, 0.35 / 0.95), (marks, 13.0), (re_made, 0.05)] {
        let found = odds(p) / odds(open);
        assert!((found / factor).ln().abs() < 0.6, "{found} {factor}");
    }
}

/// A joint that glows comes and goes: its trips need not fit what it drops when it is measured.
#[test]
fn the_more_a_joint_drops_the_surer_it_is_bad() {
    let bad = |sister_mv: u32| {
        let found = of(&format!(
            r#"
[machine]
waveform = "sine"
starts_with_a_surge = false

[[reading]]
current = "7.7 A"
meter = "true RMS"
taken = "up to the trip"

[[drop]]
voltage = "2.1 V"
current = "7.7 A"
sister = "{sister_mv} mV"

[[trip]]
after = "14 min"
from = "cold"
"#
        ));
        probability(&found, Cause::BadConnection)
    };
    let [tenths, volts] = [700, 60].map(bad);
    assert!(tenths > 0.8 && volts > 0.8, "{tenths} {volts}");
}

/// A place over an oven is hot; a thermometer says so.
#[test]
fn a_room_that_was_read_as_hot_is_hot_air_and_not_a_slip() {
    let hot = |room_c: u32| {
        let found = of(&format!(
            r#"
[machine]
rated_current = "7.4 A"
waveform = "sine"
starts_with_a_surge = false

[[reading]]
current = "7.4 A"
meter = "true RMS"
taken = "up to the trip"

[[air]]
at = "the room"
temperature = "{room_c} degC"

[[trip]]
after = "30 min"
from = "cold"
"#
        ));
        probability(&found, Cause::HotSurroundings)
    };
    let [usual, warm, hotter] = [22, 50, 60].map(hot);
    assert!(
        warm > 0.6 && hotter > 0.6 && usual < 0.4,
        "{usual} {warm} {hotter}"
    );
}

/// Nobody says that it tripped: no cause of trips is looked for. What it should not have held
/// speaks of a late part all the same.
#[test]
fn what_only_held_has_not_tripped() {
    let held = r#"
[[reading]]
current = "8.0 A"
meter = "true RMS"
taken = "while running"

[[held]]
for = "2 h"
from = "cold"
"#;
    let found = of(held);
    let nothing = Advice::one(Verdict::NothingToMend);
    assert_eq!(found.advice, Some(nothing), "{:?}", found.causes);
    assert_eq!(probability(&found, Cause::BadConnection), 0.0);
    // One that has tripped before does so.
    let tripped = of(&format!("[history]\ntrips = 20\n{held}"));
    assert!(probability(&tripped, Cause::BadConnection) > 0.01);
}

/// 2 to 4 % between the voltages make six to ten times that between the currents (NEMA MG 1): a
/// third state between alike and lost, and the greatest is the load.
#[test]
fn unlike_phases_are_no_wrong_entry_and_the_greatest_is_the_load() {
    let text = r#"
format = 1
kind = "case"
title = "A fan"

[protector]
rating = "10 A"
setting = "9.1 A"
limits = "motor class 10"
poles = 3
notices_lost_phase = true

[machine]
load = "motor"
rated_current = "9.1 A"
phase_currents = "10.6 A, 7.4 A, 9.9 A"

[[trip]]
after = "7 min"
"#;
    let case = evidence::read_text("case", text).unwrap_or_else(|e| panic!("{e}"));
    let family = Family::new(&case.nameplate, 48).unwrap();
    let found = with_family(&case, &family, 1);
    let named = |m: &Misfit| m.entry.contains("phases");
    assert!(
        !found.does_not_fit.iter().any(named),
        "{:?}",
        found.does_not_fit
    );
    let unlike = |o: &StillOpen| matches!(o, StillOpen::PhasesAreUnlike { .. });
    assert!(found.still_open.iter().any(unlike));
    assert!(
        found.state.true_current_a.median > 9.9,
        "{:?}",
        found.state.true_current_a
    );
    assert!(
        found.probability(Cause::LostPhase) < 0.1,
        "{:?}",
        found.causes
    );
}

/// A heater draws more on a high supply, a motor on a low one.
#[test]
fn a_supply_explains_what_the_load_makes_of_it() {
    let draws_more = |kind: &str, running: &str| {
        let load = match kind {
            "" => String::new(),
            kind => format!("load = \"{kind}\"\n"),
        };
        let text = format!(
            "format = 1\nkind = \"case\"\ntitle = \"A kiln\"\n\n[protector]\nrating = \"13 A\"\n\n[machine]\n\
             {load}\n[supply]\nrunning = \"{running}\"\nnominal = \"230 V\"\n\n[[trip]]\nafter = \"4 min\"\n"
        );
        let case = evidence::read_text("case", &text).unwrap_or_else(|e| panic!("{e}"));
        off_supply(&case).map(|(_, more)| more)
    };
    for (kind, running, more) in [
        ("heater", "172 V", Some(Some(false))),
        ("heater", "262 V", Some(Some(true))),
        ("motor", "172 V", Some(Some(true))),
        ("", "172 V", Some(None)),
        ("motor", "215 V", None),
    ] {
        assert_eq!(draws_more(kind, running), more, "{kind} {running}");
    }
}

/// A part on a bench: what was timed inside its window is not asked for again, and nothing of a
/// machine is mended or tried.
#[test]
fn a_part_on_a_bench_is_tested_alone() {
    let case = |current: &str, after: &str| {
        let text = format!(
            "format = 1\nkind = \"case\"\ntitle = \"A part\"\n\n[protector]\nrating = \"2 A\"\n\n[[trip]]\n\
             after = \"{after}\"\nfrom = \"cold\"\non = \"bench\"\ncurrent = \"{current}\"\n"
        );
        evidence::read_text("case", &text).unwrap_or_else(|e| panic!("{e}"))
    };
    let in_time = |current: &str, after: &str| case(current, after).trips_in_time();
    assert!(in_time("4 A", "20 s") && in_time("3 A", "25 s"));
    // Far too long, or under so much that no window says anything of it.
    assert!(!in_time("4 A", "20 min") && !in_time("40 A", "2 s"));
    let hold = NextMeasurement {
        measurement: Measurement::HoldTest { current_a: 2.0 },
        information_bits: 0.2,
        minutes: 130.0,
        trips_used: 0.3,
        results: Vec::new(),
    };
    let steps = tests(&[hold]);
    assert!(steps.len() == 1 && steps[0].measured().is_some());
}

/// What it should not have held is timed before anything is switched on.
#[test]
fn what_held_far_above_the_rating_may_be_late() {
    let case = |current: &str| {
        let text = format!(
            "format = 1\nkind = \"case\"\ntitle = \"A fan\"\n\n[protector]\nrating = \"10 A\"\n\n[[reading]]\n\
             current = \"{current}\"\ntaken = \"while running\"\n\n[[held]]\nfor = \"2 h\"\n"
        );
        evidence::read_text("case", &text).unwrap_or_else(|e| panic!("{e}"))
    };
    let may_be_late = |current: &str| {
        let case = case(current);
        let family = Family::new(&case.nameplate, 48).unwrap();
        too_late(&Scales::new(&case, &family)).is_some_and(|late| !late.is_shown)
    };
    assert!(may_be_late("20.0 A") && !may_be_late("8.0 A"));
}

/// A machine that runs and trips nothing.
const HOLDS: &str = r#"
[machine]
waveform = "sine"
rated_current = "7.8 A"

[[reading]]
current = "7.8 A"
meter = "true RMS"
taken = "while running"

[[held]]
for = "8 h"
from = "cold"
"#;

/// The whole diagnosis of a case of a 10 A part, by a small family.
fn diagnosis(rest: &str) -> Diagnosis {
    let case = case(rest);
    with_family(&case, &Family::new(&case.nameplate, 48).unwrap(), 1)
}

fn case(rest: &str) -> Case {
    let text = format!(
        "format = 1\nkind = \"case\"\ntitle = \"A mixer\"\n\n[protector]\nrating = \"10 A\"\n\n{rest}"
    );
    evidence::read_text("case", &text).unwrap_or_else(|e| panic!("{e}"))
}

/// A joint burns whether or not the protector trips by it.
#[test]
fn a_bad_joint_is_to_be_mended_though_nothing_has_tripped() {
    for seen in [
        "[terminals]\nhotter = \"98 degC\"\nother = \"31 degC\"",
        "[[drop]]\nvoltage = \"160 mV\"\ncurrent = \"7.8 A\"\nsister = \"52 mV\"",
        "[history]\njoints = \"marks of heat\"",
    ] {
        let found = diagnosis(&format!("{HOLDS}\n{seen}\n"));
        assert!(found.nothing_tripped);
        let first = found.energise.first();
        assert!(
            matches!(first, [First::ReMakeTheConnection { .. }]),
            "{seen}: {:?}",
            found.energise
        );
        assert_ne!(found.verdict, Verdict::NothingToMend, "{seen}");
        let mends = |step: &&Step| step.measured().is_none();
        assert_eq!(found.plan.iter().find(mends), None, "{seen}");
        let mends = [&found.mend[..], &found.mend_first].concat();
        assert!(mends.contains(&Verdict::ReMakeTheConnection), "{seen}");
    }
    // Where it burns, nothing that is in order is put right as well.
    let burns = diagnosis(&format!(
        "{HOLDS}\n[terminals]\nhotter = \"118 degC\"\nother = \"31 degC\"\n"
    ));
    assert_eq!(burns.verdict, Verdict::ReMakeTheConnection);
    assert!(
        !burns.also.contains(&Cause::NothingWrong),
        "{:?}",
        burns.also
    );
    let sound = diagnosis(HOLDS);
    assert_eq!(sound.verdict, Verdict::NothingToMend);
}

/// What trips after its window has failed: no plan lets a later trip pass.
#[test]
fn a_timed_trip_is_judged_by_its_window_at_the_latest() {
    let held = "[[held]]\nfor = \"2 h\"\non = \"bench\"\ncurrent = \"10 A\"\n";
    let case = case(held);
    let latest_s = case
        .nameplate
        .latest_s(2.0 * case.nameplate.rated_current_a);
    assert!((60.0..300.0).contains(&latest_s), "{latest_s}");
    let found = diagnosis(held);
    let timed = found.next.iter().filter_map(|n| match n.measurement {
        Measurement::TimedTrip { .. } => Some(&n.results),
        _ => None,
    });
    for results in timed {
        for result in results {
            let (Shows::UpTo { value } | Shows::Above { value }) = result.shows;
            assert!(value <= latest_s, "{value} > {latest_s}");
        }
    }
}

/// What was measured stands, however badly the rest agrees with it.
#[test]
fn hot_air_and_a_load_above_its_plate_are_facts() {
    let hot = |air: &str| {
        diagnosis(&format!(
            "[machine]\nrated_current = \"8.5 A\"\nwaveform = \"sine\"\nstarts_with_a_surge = false\n\n\
             [[reading]]\ncurrent = \"8.5 A\"\nmeter = \"true RMS\"\ntaken = \"up to the trip\"\n\n\
             [[air]]\nat = \"the part\"\ntemperature = \"{air}\"\n\n[[trip]]\nafter = \"40 min\"\n"
        ))
    };
    for air in ["72 degC", "85 degC", "95 degC"] {
        let found = hot(air);
        let mends = [&found.mend[..], &found.mend_first].concat();
        assert!(mends.contains(&Verdict::CoolOrReRate), "{air}: {mends:?}");
    }
    assert!(!hot("30 degC").mend_first.contains(&Verdict::CoolOrReRate));
    let held = |plate: &str| {
        let plate = format!("rated_current = \"{plate}\"");
        let found = diagnosis(&HOLDS.replace("rated_current = \"7.8 A\"", &plate));
        [&found.mend[..], &found.mend_first].concat()
    };
    assert!(held("5.9 A").contains(&Verdict::FindTheLoad));
    assert!(!held("7.8 A").contains(&Verdict::FindTheLoad));
}
