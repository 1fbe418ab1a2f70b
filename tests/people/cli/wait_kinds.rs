//! Waits of parts with an element, of several poles, of discs and of motor classes.

use super::wait::{answered, headline, says, wait};
use crate::program::run;
use relatch::answers::Wait;

#[test]
fn both_elements_of_a_wall_box_part_may_act_and_each_has_its_wait() {
    let wall_box = ["--rating", "20 A", "--load", "130 A"];
    let unknown = wait(&wall_box);
    assert!(says(&unknown, "Nobody said whether"), "{}", unknown.out);
    let typed = |kind| answered(&[&wall_box[..], &["--instantaneous", kind]].concat());
    let share = |kind| typed(kind).instantaneous.expect("an element").by_load;
    // 130 A is 6.5 times the rating: above the band of type B (3 to 5), within that of type C (5 to
    // 10; an even chance on its logarithmic scale at 7.07), below that of D (10 to 20).
    assert!(share("B") == 1.0 && share("D") == 0.0);
    assert!((0.35..0.6).contains(&share("C")), "{}", share("C"));
    let both = typed("c");
    let element = both.instantaneous.expect("an element");
    assert_eq!(
        [element.may_open_from_a, element.opens_from_a],
        [100.0, 200.0]
    );
    // The strip, hardly warm, lets the latch catch at once; after a trip of its own it does not.
    assert_eq!(element.reset.ninety_nine_of_hundred, Wait::None);
    assert!(both.reset.half.time_s().is_some_and(|s| s > 5.0));
    let said = wait(&[&wall_box[..], &["--instantaneous", "C"]].concat());
    assert!(headline(&said).starts_with("WAIT "), "{}", said.out);
    assert!(
        says(&said, "Both elements may act at 130 A"),
        "{}",
        said.out
    );
    assert!(says(&said, "eddy currents, left out"), "{}", said.out);
    let sure = wait(&[&wall_box[..], &["--instantaneous", "B"]].concat());
    let said = headline(&sure);
    assert!(
        said.starts_with("NO WAIT for the strip") && said.contains("Do not reset onto a fault"),
        "{said}"
    );
    // A start within the band opens it now and then, however long one waits.
    let start = [
        "--rating",
        "20 A",
        "--load",
        "14 A",
        "--start",
        "110 A for 0.9 s",
    ];
    let start = answered(&[&start[..], &["--instantaneous", "C"]].concat());
    let element = start.instantaneous.expect("an element");
    assert!(element.by_load == 0.0 && element.by_start.is_some_and(|p| (0.1..0.4).contains(&p)));
    // Where the strip lets it start, the answer itself says that the element may not.
    let by_both = [
        "--rating",
        "15 A",
        "--load",
        "130 A",
        "--start",
        "120 A for 0.1 s",
    ];
    let said = wait(&[&by_both[..], &["--instantaneous", "C"]].concat());
    let told = headline(&said);
    assert!(
        told.contains(" for the strip; but in ") && !told.contains("start again then"),
        "{told}"
    );
    assert_eq!(said.out.matches("however long").count(), 1, "{}", said.out);
    let folder = tempfile::tempdir().expect("a folder");
    let wrong = run(
        folder.path(),
        &[
            "wait",
            "--rating",
            "20 A",
            "--load",
            "130 A",
            "--instantaneous",
            "Q",
        ],
    );
    assert!(
        wrong.code == 2 && wrong.err.contains("B, C and D"),
        "{}",
        wrong.err
    );
}

#[test]
fn idle_poles_make_a_part_late_unless_it_notices_them() {
    let plate = [
        "--rating", "10 A", "--load", "24 A", "--poles", "3", "--phases",
    ];
    let half_s = |more: &[&str]| {
        answered(&[&plate[..], more].concat())
            .trip_s
            .expect("trips")
            .median
    };
    let [all, two, one] = ["3", "2", "1"].map(|phases| half_s(&[phases]));
    assert!(all < 0.95 * two && two < 0.9 * one, "{all} {two} {one}");
    // 1/1.45 of the travel against 1.13 of the force (the bars' equations), of which they are made.
    let lost = half_s(&["2", "--notices-lost-phase"]);
    assert!(lost < 0.9 * all, "{lost} {all}");
    // One phase is looped through all poles of such a part, and that is asked about.
    let looped = wait(&[&plate[..], &["1", "--notices-lost-phase"]].concat());
    assert!(
        says(&looped, "looped through all poles in series?"),
        "{}",
        looped.out
    );
    assert_eq!(half_s(&["1", "--notices-lost-phase"]), all);
}

#[test]
fn a_disc_on_a_motor_waits_for_the_motor() {
    let plate = [
        "--rating",
        "6.3 A",
        "--load",
        "20 A",
        "--on",
        "motor",
        "--resets-itself",
    ];
    let ran = wait(&plate);
    let said = headline(&ran);
    assert!(
        said.starts_with("WAIT ") && said.contains("have closed by themselves"),
        "{said}"
    );
    assert!(says(&ran, "common practice, no source"), "{}", ran.out);
    let half_s = answered(&plate).reset.half.time_s().expect("closes");
    assert!((300.0..900.0).contains(&half_s), "{half_s}");
    let boxed = wait(&[
        "--rating",
        "6.3 A",
        "--load",
        "20 A",
        "--on",
        "box",
        "--resets-itself",
    ]);
    assert!(
        says(&boxed, "a disc or blade that snaps back"),
        "{}",
        boxed.out
    );
}

#[test]
fn limits_of_parts_with_an_instantaneous_element_are_enough_to_look_at_one() {
    let limits = ["--rating", "16 A", "--load", "100 A", "--limits"];
    let element = |name| answered(&[&limits[..], &[name]].concat()).instantaneous;
    let any = element("IEC 60898-1 up to 32 A").expect("one of three types");
    assert!(
        any.band.is_none() && (0.3..0.7).contains(&any.by_load),
        "{}",
        any.by_load
    );
    assert!(element("equipment breaker window").is_none());
    let sheet = |rating| {
        let plate = ["--rating", rating, "--load", "32 A", "--limits"];
        wait(&[&plate[..], &["equipment breaker window"]].concat())
    };
    assert!(says(
        &sheet("16 A"),
        "No source: the named limits hold for 10 A alone"
    ));
    assert!(!says(&sheet("10 A"), "No source"));
    let folder = tempfile::tempdir().expect("a folder");
    let large = [
        "wait",
        "--rating",
        "40 A",
        "--load",
        "80 A",
        "--limits",
        "equipment breaker window",
    ];
    let ran = run(folder.path(), &large);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("no source above 16 A"), "{}", ran.err);
}

/// Relays with a dial are heater-wound and as slow as their class, whatever their rating.
#[test]
fn motor_classes_have_parts_at_every_rating() {
    let trip_s = |rating: &'static str, load: &'static str, class: &'static str| {
        let plate = ["--rating", rating, "--load", load, "--limits", class];
        let answer = answered(&plate);
        answer.trip_s.expect("trips").median
    };
    // 7.2 times the rating: 4 to 10 s, 6 to 20 s, 9 to 30 s (IEC 60947-4-1).
    for (rating, load) in [("3 A", "21.6 A"), ("24 A", "172.8 A"), ("80 A", "576 A")] {
        let s = ["motor class 10", "motor class 20", "motor class 30"]
            .map(|class| trip_s(rating, load, class));
        assert!((4.0..=10.0).contains(&s[0]), "{rating}: {s:?}");
        assert!((6.0..=20.0).contains(&s[1]), "{rating}: {s:?}");
        assert!((9.0..=30.0).contains(&s[2]), "{rating}: {s:?}");
    }
}
