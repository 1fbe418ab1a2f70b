use super::*;
use crate::family::Nameplate;

fn of(joint: f64, late: f64) -> Energise {
    let case = Case::of(Nameplate::of_rating(10.0));
    let entries = ByEntries::default();
    Energise::by_rule(&case, &entries, Verdict::NotEnoughEvidence, joint, late)
}

#[test]
fn more_than_one_chance_in_twenty_of_a_joint_or_in_ten_of_a_late_part_is_not_yet() {
    assert_eq!(of(0.05, 0.1), Energise::Yes);
    assert!(matches!(of(0.051, 0.0), Energise::NotYet { after } if after.len() == 1));
    assert!(matches!(of(0.0, 0.11), Energise::NotYet { after } if after.len() == 1));
    assert!(of(0.5, 0.0).lets_measure() && !of(0.5, 0.11).lets_measure());
}

fn tripped_after(time_s: f64, current_a: f64) -> Vec<WhyNot> {
    tripped(Nameplate::of_rating(10.0), time_s, current_a)
}

fn tripped(nameplate: Nameplate, time_s: f64, current_a: f64) -> Vec<WhyNot> {
    let mut case = Case::of(nameplate);
    let after_s = Measured::new(time_s, 0.0);
    case.events.push(Event {
        label: "the trip".into(),
        unit: Unit::ThisPart,
        setting: Setting::Bench {
            current_a: Measured::new(current_a, 0.0),
        },
        before: Before::Cold,
        air_k: None,
        outcome: Outcome::Tripped { after_s },
        times: 1,
        reset_between_s: None,
        mended: 0,
    });
    let family = Family::new(&case.nameplate, 40).expect("a family");
    too_soon(&case, &family)
}

#[test]
fn a_trip_sooner_than_any_strip_can_release_is_no_without_a_sign() {
    assert_eq!(tripped_after(0.02, 7.0).len(), 1);
    assert_eq!(tripped_after(20.0, 20.0), Vec::new());
    // The same time is no fault under a current that heats so fast.
    assert_eq!(tripped_after(0.02, 400.0), Vec::new());
    let case = Case::of(Nameplate::of_rating(10.0));
    let soon = ByEntries {
        why: tripped_after(0.02, 7.0),
        ..ByEntries::default()
    };
    let no = Energise::by_rule(&case, &soon, Verdict::NothingToMend, 0.0, 0.0);
    assert!(matches!(&no, Energise::No { .. }) && !no.lets_measure());
}

/// A start that is over long before the trip makes no more heat than it lasts.
#[test]
fn a_short_start_does_not_explain_a_trip_after_it() {
    let mut case = Case::of(Nameplate::of_rating(10.0));
    let family = Family::new(&case.nameplate, 40).expect("a family");
    case.readings
        .push(crate::evidence::Reading::true_rms("clamp", 6.0));
    let trip = Event::trip_from_cold("the trip", 0.3);
    case.events.push(trip);
    let mut soon_after = |duration_s: f64| {
        case.start = Some(crate::evidence::StartSeen {
            label: "start".into(),
            peak_a: Measured::new(90.0, 0.0),
            duration_s: Measured::new(duration_s, 0.0),
        });
        case.has_start = Some(true);
        too_soon(&case, &family).len()
    };
    assert_eq!([0.01, 0.25].map(&mut soon_after), [1, 0]);
}

/// A strip that was closed again, or carries its load, is as far from release as heat takes.
#[test]
fn a_trip_at_once_on_the_machine_is_no_from_any_state() {
    let mut case = Case::of(Nameplate::of_rating(10.0));
    let family = Family::new(&case.nameplate, 40).expect("a family");
    let mut why = |before, time_s| {
        let trip = Event::trip_from_cold("the trip", time_s);
        case.events = vec![Event { before, ..trip }];
        too_soon(&case, &family)
    };
    let rested = Before::AfterTrip { wait_s: 1200.0 };
    for before in [rested, Before::Hot { current_a: 7.0 }] {
        assert_eq!(why(before, 0.1), [WhyNot::AtOnce { time_s: 0.1 }]);
        assert_eq!(why(before, 20.0), Vec::new());
    }
}

#[test]
fn what_was_measured_or_read_comes_first_however_improbable() {
    let case = Case::of(Nameplate::of_rating(10.0));
    let by = |case: &Case, entries: &ByEntries, joint| {
        Energise::by_rule(case, entries, Verdict::NothingToMend, joint, 0.0)
    };
    let hot = ByEntries {
        joint: Some(BadJoint::Heat { heat_w: 25.0 }),
        burns: true,
        ..ByEntries::default()
    };
    let passed = ByEntries {
        passed: Some(Passed {
            time_s: 1140.0,
            latest_s: 80.0,
        }),
        ..ByEntries::default()
    };
    for entries in [&hot, &passed] {
        let not_yet = by(&case, entries, 0.0);
        assert!(
            not_yet.first().len() == 1 && !not_yet.lets_measure(),
            "{not_yet:?}"
        );
    }
    let none = ByEntries::default();
    let mut other = case.clone();
    other.marking_agrees = Some(false);
    assert_eq!(
        by(&other, &none, 0.0).first(),
        [First::FitThePartOfTheDrawing]
    );
    let mut hums = case.clone();
    hums.hums = Some(true);
    let stands = by(&hums, &none, 0.0);
    assert!(stands.first() == [First::LookWhyItHums] && !stands.lets_measure());
    // Where both terminals are as warm, one chance in ten is no reason.
    let mut sound = case.clone();
    sound.terminals = Some(crate::evidence::Terminals {
        label: "terminals".into(),
        hotter_k: Measured::new(322.0, 2.0),
        other_k: Measured::new(320.0, 2.0),
        mended: 0,
    });
    assert_eq!(by(&sound, &none, 0.1), Energise::Yes);
    assert!(by(&case, &none, 0.1) != Energise::Yes && by(&sound, &none, 0.25) != Energise::Yes);
}

/// What may be a start may be a short circuit as well.
#[test]
fn a_trip_at_once_on_the_machine_is_no_even_where_a_start_could_do_it() {
    let mut case = Case::of(Nameplate::of_rating(16.0));
    let family = Family::new(&case.nameplate, 40).expect("a family");
    case.has_start = Some(true);
    case.start = Some(crate::evidence::StartSeen {
        label: "start".into(),
        peak_a: Measured::new(300.0, 0.0),
        duration_s: Measured::new(0.1, 0.0),
    });
    let mut why = |time_s| {
        case.events = vec![Event::trip_from_cold("the trip", time_s)];
        too_soon(&case, &family)
    };
    assert!(matches!(&why(0.1)[..], [WhyNot::Signs { .. }]));
    assert_eq!(why(0.4), Vec::new());
}

/// An instantaneous element of type C opens between 5 and 10 times the rating (IEC 60898-1): it
/// may explain such a trip, and nothing is switched on for that.
#[test]
fn an_instantaneous_element_is_named_and_softens_nothing() {
    let mut nameplate = Nameplate::of_rating(10.0);
    nameplate.instantaneous = Some(crate::standards::Band::C);
    for (current_a, chance) in [(7.0, 0.0..=0.0), (75.0, 0.4..=0.8), (116.0, 1.0..=1.0)] {
        let why = tripped(nameplate.clone(), 0.003, current_a);
        let [WhyNot::TooSoon { opens: Some(p), .. }] = &why[..] else {
            panic!("{why:?}");
        };
        assert!(chance.contains(p), "{current_a} A: {p}");
    }
}
