use super::characteristic_text;
use super::fabricated::{self, held};
use relatch::internals::answer::{Caution, Held, Wait};
use relatch::internals::present::text;
use relatch::internals::scenario::UsedFor;

fn all() -> [relatch::internals::predict::Outcome; 4] {
    [
        fabricated::latch(),
        fabricated::holds(),
        fabricated::winding(),
        fabricated::blade(),
    ]
}

#[test]
fn fits_a_screen() {
    for outcome in all() {
        let text = text(&outcome);
        assert!(
            text.lines().count() <= 64,
            "{} lines\n{text}",
            text.lines().count()
        );
        for line in text.lines().chain(characteristic_text(&outcome).lines()) {
            assert!(line.chars().count() <= 100, "{line}");
        }
    }
}

#[test]
fn the_three_answers_come_first() {
    let text = text(&fabricated::latch());
    let at = |needle: &str| {
        text.find(needle)
            .unwrap_or_else(|| panic!("no {needle:?}\n{text}"))
    };
    let order = [
        "Pug mill",
        "! Find the cause",
        "1  Does",
        "2  How long",
        "3  What does",
        "Why",
    ];
    assert!(
        order.windows(2).all(|pair| at(pair[0]) < at(pair[1])),
        "{text}"
    );
    assert!(text.contains("YES, 12.61 s"), "{text}");
    assert!(text.contains("11.85 A"), "{text}");
    assert!(text.contains("Reset possible after  17.40 s"), "{text}");
    assert!(text.contains("2 min 23 s; the start-up governs"), "{text}");
    assert!(
        text.contains("The preload holds 52 % of the release travel"),
        "{text}"
    );
}

#[test]
fn no_trip_is_an_answer_with_its_reason() {
    let text = text(&fabricated::holds());
    assert!(text.contains("NO, NEVER: it holds for ever"), "{text}");
    assert!(
        text.contains("It comes within 0.345 mm of release."),
        "{text}"
    );
    assert!(
        text.contains("–: it does not trip under this load."),
        "{text}"
    );
}

#[test]
fn numbers_that_are_not_finite_never_reach_a_person() {
    let mut outcome = fabricated::latch();
    outcome.trip.release_mut().expect("it trips").time_s = f64::NAN;
    held(&mut outcome).current_a = f64::INFINITY;
    outcome.reset.relatch_wait = Wait::After(f64::NEG_INFINITY.into());
    outcome.preload_shift[2].trip_point = Held::UpTo(f64::NAN.into());
    outcome.part.trip_temperature_c = Some(f64::NAN);
    outcome.error_estimate.trip_time_relative = Some(f64::NAN);
    let text = text(&outcome).to_lowercase();
    for word in ["nan", "inf"] {
        let found = text
            .split(|c: char| !c.is_alphanumeric())
            .any(|w| w == word);
        assert!(!found, "{text}");
    }
    assert!(text.contains("not known"), "{text}");
}

#[test]
fn a_missing_number_in_a_table_is_explained_below_it() {
    let text = text(&fabricated::latch());
    assert!(
        text.contains("At 60 °C: at this ambient it does not cool enough to relatch"),
        "{text}"
    );
}

#[test]
fn cautions_follow_the_part() {
    let by_hand = text(&fabricated::latch());
    assert!(by_hand.contains("Never hold the reset button in"));
    assert!(!by_hand.contains("may start by itself"));
    let automatic = text(&fabricated::blade());
    assert!(
        automatic.contains("Closes by itself after  17.40 s"),
        "{automatic}"
    );
    let lock = automatic.find("may start by itself").expect("caution");
    assert!(lock < automatic.find("Closes by itself").expect("wait"));
    let mut late = fabricated::latch();
    held(&mut late).multiple_of_rated = 2.3;
    let late = text(&late).replace("\n ", "");
    assert!(late.find("LATE").expect("caution") < late.find("Find the cause").expect("caution"));
    let mut lesson = fabricated::latch();
    lesson.used_for = UsedFor::Teaching;
    assert!(text(&lesson).contains("24 V at most"));
    // What its author calls it says nothing of what it is used for.
    let mut grinder = fabricated::latch();
    grinder.scenario = "Bench grinder of a joinery class, 230 V".into();
    assert!(!text(&grinder).contains("24 V at most"));
}

#[test]
fn filled_cautions_are_not_said_twice() {
    let mut outcome = fabricated::latch();
    let before = text(&outcome);
    outcome.cautions = vec![
        Caution::FindCause,
        Caution::NeverHold,
        Caution::ModelEstimate,
    ];
    assert_eq!(text(&outcome), before);
}

#[test]
fn characteristic_says_never_and_judges_limits() {
    let text = characteristic_text(&fabricated::latch());
    assert!(text.contains("NEVER"), "{text}");
    assert!(
        text.contains(
            "  - met: 2 times rated trips in 4 s to 40 s at 25 °C; this part: trips after"
        ),
        "{text}"
    );
    let none = characteristic_text(&fabricated::holds());
    assert!(none.contains("was not computed"), "{none}");
}

#[test]
fn a_missed_limit_is_told_in_the_main_text() {
    let mut outcome = fabricated::latch();
    assert!(text(&outcome).contains("all 4 met"));
    if let Some(curve) = &mut outcome.characteristic {
        curve.limits[1].met = false;
    }
    let text = text(&outcome);
    assert!(
        text.contains("1 of 4 missed. NOT MET: 1.35 times rated trips within 1 h"),
        "{text}"
    );
}

#[test]
fn a_part_that_cannot_carry_its_rating_says_so_in_the_first_answer() {
    let mut outcome = fabricated::latch();
    assert!(!text(&outcome).contains("LESS THAN ITS RATING"));
    held(&mut outcome).multiple_of_rated = 0.92;
    assert!(text(&outcome).contains("LESS THAN ITS RATING"));
}
