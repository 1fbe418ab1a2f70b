//! Laws of wear that hold whatever the constants: the bookkeeping of time under stress, and its
//! closed forms.

use crate::support::made;
use relatch::internals::answer::Caution;
use relatch::internals::physics::constants::GAS_CONSTANT_J_PER_MOL_K;
use relatch::internals::scenario::{Scenario, read_text};
use relatch::internals::study::ageing::{
    AgeOutcome, AgeWarning, DateAt, NoDate, Options, YEAR_S, age,
};

const RIGHT: &str = include_str!("../../support/right.toml");

const LOGARITHMIC: &str = r#"
[ageing]
source = "invented for this test"
spring_beside = "ambient"
horizon = "20 year"

[ageing.relaxation]
law = "logarithmic"
coefficient = "2 %"
time_constant = "10 h"
at = "80 degC"
activation_energy = "90 kJ/mol"
"#;

fn scenario(ageing: &str, duty: &str) -> Scenario {
    let text = format!("{RIGHT}\n{ageing}\n[duty]\n{duty}");
    read_text("ageing.toml", &text).unwrap_or_else(|e| panic!("{e}"))
}

fn aged(ageing: &str, duty: &str) -> AgeOutcome {
    let options = made!(Options {
        units: 0,
        ..Options::default()
    });
    age(&scenario(ageing, duty), &options, &mut |_, _| {}).unwrap_or_else(|e| panic!("{e}"))
}

fn left(outcome: &AgeOutcome) -> Vec<f64> {
    let rows = outcome.drift.iter();
    rows.map(|r| r.preload_left.expect("preload left"))
        .collect()
}

/// Exposure of so much time at a temperature under [`LOGARITHMIC`], worked out here by itself.
fn exposure(seconds: f64, celsius: f64) -> f64 {
    let (t, at) = (273.15 + celsius, 353.15);
    let tau = 36_000.0 * (90e3 / GAS_CONSTANT_J_PER_MOL_K * (1.0 / t - 1.0 / at)).exp();
    seconds / tau
}

#[test]
fn at_a_constant_temperature_the_loss_is_its_closed_form() {
    let outcome = aged(LOGARITHMIC, "ambient = \"60 degC\"");
    for row in &outcome.drift {
        let expected = 0.02 * exposure(row.years * YEAR_S, 60.0).ln_1p();
        let found = 1.0 - row.preload_left.expect("a number");
        assert!(
            (found - expected).abs() < 1e-9,
            "{}: {found} {expected}",
            row.years
        );
    }
    assert!((outcome.held_hours_a_year - 8766.0).abs() < 1e-6);
}

#[test]
fn the_power_law_too() {
    let law = LOGARITHMIC.replace("\"logarithmic\"", "\"power\"\nexponent = 0.2");
    let law = law.replace("2 %", "1 %");
    let outcome = aged(&law, "ambient = \"60 degC\"");
    for row in &outcome.drift {
        let expected = 0.01 * exposure(row.years * YEAR_S, 60.0).powf(0.2);
        let found = 1.0 - row.preload_left.expect("a number");
        assert!(
            (found - expected).abs() < 1e-9,
            "{}: {found} {expected}",
            row.years
        );
    }
}

#[test]
fn without_stress_or_without_time_nothing_is_lost() {
    let loose = aged(LOGARITHMIC, "ambient = \"90 degC\"\nheld_when_idle = false");
    assert!(left(&loose).iter().all(|p| *p == 1.0), "{:?}", left(&loose));
    assert_eq!(loose.held_hours_a_year, 0.0);
    let held = aged(LOGARITHMIC, "ambient = \"90 degC\"");
    assert_eq!(held.drift[0].years, 0.0);
    assert_eq!(held.drift[0].preload_left, Some(1.0));
    assert!(held.drift[1].preload_left < Some(0.99));
}

/// A hot shift in which the spring is not held does nothing at all; held, it does most of the harm.
#[test]
fn only_time_under_stress_counts() {
    let duty = |held: &str| {
        format!(
            "ambient = \"20 degC\"\n[[duty.shift]]\nname = \"bake\"\ndaily = \"12 h\"\ntimes_rated = 0\n\
             ambient = \"110 degC\"\nspring_held = {held}"
        )
    };
    let (loose, held) = (
        aged(LOGARITHMIC, &duty("false")),
        aged(LOGARITHMIC, &duty("true")),
    );
    for row in &loose.drift {
        let expected = 0.02 * exposure(0.5 * row.years * YEAR_S, 20.0).ln_1p();
        let found = 1.0 - row.preload_left.expect("a number");
        assert!((found - expected).abs() < 1e-9, "{found} {expected}");
    }
    assert!((loose.held_hours_a_year - 4383.0).abs() < 1e-6);
    assert_eq!(loose.duty[0].relaxation_share, 0.0);
    assert!(held.duty[0].relaxation_share > 0.99);
    // What is counted adds up to the year.
    let sum: f64 = held.duty.iter().map(|d| d.hours_a_year).sum();
    assert!((sum - 8766.0).abs() < 1e-6, "{sum}");
    let shares: f64 = held.duty.iter().map(|d| d.relaxation_share).sum();
    assert!((shares - 1.0).abs() < 1e-12, "{shares}");
}

fn shift(name: &str, hours: &str, celsius: f64) -> String {
    format!(
        "[[duty.shift]]\nname = \"{name}\"\ndaily = \"{hours}\"\ncurrent = \"3 A\"\nambient = \"{celsius} degC\"\n"
    )
}

#[test]
fn two_halves_are_the_whole_and_their_order_does_not_matter() {
    let (a, half, b) = (
        shift("hot", "8 h", 70.0),
        shift("hot", "4 h", 70.0),
        shift("mild", "6 h", 35.0),
    );
    let air = "ambient = \"20 degC\"\n";
    let whole = left(&aged(LOGARITHMIC, &format!("{air}{a}{b}")));
    for other in [
        format!("{air}{half}{half}{b}"),
        format!("{air}{b}{half}{half}"),
    ] {
        for (x, y) in left(&aged(LOGARITHMIC, &other)).iter().zip(&whole) {
            assert!((x - y).abs() < 1e-12, "{x} {y}");
        }
    }
}

/// Averaged rates against weeks that are really gone through one state after the other: the closed
/// form of the exposure adds, so only the unfinished last week can differ.
#[test]
fn weeks_gone_through_state_by_state_come_to_the_same() {
    let outcome = aged(
        LOGARITHMIC,
        &format!("ambient = \"20 degC\"\n{}", shift("hot", "8 h", 70.0)),
    );
    let row = outcome.drift.last().expect("rows");
    let weeks = (row.years * YEAR_S / 604_800.0).floor() as u32;
    let mut exposed = 0.0;
    for _ in 0..weeks {
        exposed += exposure(7.0 * 8.0 * 3600.0, 70.0);
        exposed += exposure(7.0 * 16.0 * 3600.0, 20.0);
    }
    let found = 1.0 - row.preload_left.expect("a number");
    assert!((found - 0.02 * exposed.ln_1p()).abs() < 2e-5, "{found}");
}

#[test]
fn hotter_never_loses_less() {
    let mut before = vec![1.0; 40];
    for celsius in [0, 20, 40, 60, 80, 100] {
        let now = left(&aged(LOGARITHMIC, &format!("ambient = \"{celsius} degC\"")));
        for (n, b) in now.iter().zip(&before) {
            assert!(n <= b, "{celsius}: {n} {b}");
        }
        before = now;
    }
}

/// That a part of the stress is lost in the first loading, before any thermal relaxation, is
/// published (read in an abstract: "Measurement and use of stress relaxation data for copper alloys
/// in bending", Proc. 38th Electronics Components Conf. (1988): about 1 % for copper-beryllium,
/// about 5 % for others); how much is an input here.
#[test]
fn losses_of_trips_and_of_the_first_loading_add() {
    let ageing = LOGARITHMIC.replace(
        "horizon = \"20 year\"",
        "horizon = \"20 year\"\nfirst_loading_loss = \"4 %\"\nloss_per_trip = \"0.05 %\"",
    );
    let duty = "ambient = \"60 degC\"\ntrips_every = \"0.1 year\"";
    let (with, without) = (
        aged(&ageing, duty),
        aged(LOGARITHMIC, "ambient = \"60 degC\""),
    );
    for (a, b) in with.drift.iter().zip(&without.drift) {
        let more = b.preload_left.expect("a number") - a.preload_left.expect("a number");
        let expected = 0.04 + 0.0005 * 10.0 * a.years;
        assert!(
            (more - expected).abs() < 1e-9,
            "{}: {more} {expected}",
            a.years
        );
    }
}

/// A spring beside the contact is warmed by what its own loss does to the contact: it loses more
/// than it would at the temperature of the new part.
#[test]
fn the_contact_feeds_the_loss_back() {
    let ageing = LOGARITHMIC
        .replace("\"ambient\"", "\"moving contact\"")
        .replace("2 %", "3 %");
    let hot =
        format!("ambient = \"25 degC\"\n{}", shift("work", "24 h", 25.0)).replace("3 A", "9 A");
    let holm = RIGHT.replace(
        "resistance = \"1 mohm\"",
        "force = \"0.15 N\"\nmetal = \"silver\"\nfilm_resistance = \"0.5 mohm\"",
    );
    let read = |contact_force_too: &str| {
        let ageing = ageing.replace(
            "source",
            &format!("contact_force_too = {contact_force_too}\nsource"),
        );
        let text = format!("{holm}\n{ageing}\n[duty]\n{hot}");
        let s = read_text("holm.toml", &text).unwrap_or_else(|e| panic!("{e}"));
        let options = made!(Options {
            units: 0,
            ..Options::default()
        });
        age(&s, &options, &mut |_, _| {}).unwrap_or_else(|e| panic!("{e}"))
    };
    let (kept, lost) = (read("false"), read("true"));
    let last = |o: &AgeOutcome| {
        o.drift
            .last()
            .and_then(|r| r.preload_left)
            .expect("a number")
    };
    assert!(
        last(&lost) < last(&kept) - 1e-4,
        "{} {}",
        last(&lost),
        last(&kept)
    );
    assert!(lost.duty[0].spring_end_c > lost.duty[0].spring_new_c + 0.2);
    assert_eq!(kept.duty[0].spring_end_c, kept.duty[0].spring_new_c);
}

#[test]
fn a_new_part_that_already_trips_has_no_life() {
    let outcome = aged(
        LOGARITHMIC,
        &format!("ambient = \"25 degC\"\n{}", shift("work", "8 h", 25.0)).replace("3 A", "30 A"),
    );
    let date = &outcome.dates.trips_in_service;
    assert_eq!(date.years(), Some(0.0));
    assert_eq!(date.at(), Some(&DateAt::State("work".into())));
    assert!(outcome.duty[0].releases_when_new && !outcome.warnings.is_empty());
}

/// Friction only delays: a latch that is never moved grows late, one that is moved stays nearer to
/// new.
#[test]
fn a_latch_that_is_never_moved_grows_late_and_exercise_helps() {
    let spring = RIGHT.replace(
        "relatch_travel = \"1.10 mm\"",
        "relatch_travel = \"1.10 mm\"\npreload = \"0.6 N\"",
    );
    let friction =
        "[ageing.friction]\nstuck_factor = 3\ntime_constant = \"5 year\"\nrelieved = \"80 %\"\n";
    let read = |duty: &str| {
        let text =
            format!("{spring}\n{LOGARITHMIC}\n{friction}\n[duty]\nambient = \"20 degC\"\n{duty}");
        let s = read_text("friction.toml", &text).unwrap_or_else(|e| panic!("{e}"));
        let options = made!(Options {
            units: 0,
            ..Options::default()
        });
        age(&s, &options, &mut |_, _| {}).unwrap_or_else(|e| panic!("{e}"))
    };
    let (never, yearly) = (read(""), read("exercise_every = \"1 year\""));
    for (a, b) in never.drift.iter().zip(&yearly.drift) {
        let (slow, quick) = (
            a.trip_time_2x_s().expect("trips"),
            b.trip_time_2x_s().expect("trips"),
        );
        assert!(slow >= quick, "{}: {slow} {quick}", a.years);
        let expected = 1.0 + 2.0 * (1.0 - (-a.years / 5.0).exp());
        let found = a.stuck_factor.expect("a factor");
        assert!((found - expected).abs() < 1e-12, "{found} {expected}");
    }
    let last = |o: &AgeOutcome| {
        o.drift
            .last()
            .and_then(|r| r.trip_time_2x_s())
            .expect("trips")
    };
    assert!(last(&never) > 1.1 * last(&yearly));
}

/// The same seed gives the same bytes, whatever the order in which units are finished.
#[test]
fn the_same_seed_gives_the_same_record() {
    let ageing = LOGARITHMIC.replace("2 %", "2 % +- 10 % of it");
    let s = scenario(
        &ageing,
        &format!("ambient = \"25 degC\"\n{}", shift("work", "8 h", 60.0)),
    );
    let run = |seed| {
        let options = made!(Options {
            units: 64,
            seed,
            ..Options::default()
        });
        let outcome = age(&s, &options, &mut |_, _| {}).unwrap_or_else(|e| panic!("{e}"));
        serde_json::to_string(&outcome).expect("JSON")
    };
    assert_eq!(run(3), run(3));
    assert_ne!(run(3), run(4));
}

/// A blade whose thrust relaxes: the tables in thrust and contact find the same life as its trip
/// points tell, row by row.
#[test]
fn a_snap_blade_ages_by_its_thrust() {
    let text = include_str!("../../../scenarios/04-fog-machine.toml");
    let duty = "ambient = \"30 degC\"\n[[duty.shift]]\nname = \"fog\"\ndaily = \"4 h\"\ncurrent = \"11.8 A\"\n";
    let text = format!(
        "{text}\n{}\n[duty]\n{duty}",
        LOGARITHMIC.replace("2 %", "4 %")
    );
    let s = read_text("blade.toml", &text).unwrap_or_else(|e| panic!("{e}"));
    let options = made!(Options {
        units: 0,
        ..Options::default()
    });
    let outcome = age(&s, &options, &mut |_, _| {}).unwrap_or_else(|e| panic!("{e}"));
    let date = &outcome.dates.trips_in_service;
    let life = date.years().expect("a life");
    let error = date.error_years().expect("an error");
    assert!(life > 0.0 && error < 0.02 * life, "{life} {error}");
    for row in &outcome.drift {
        let point = row.trip_point_in_service_a().expect("a trip point");
        assert_eq!(
            point > 11.8,
            row.years < life,
            "{}: {point} A, life {life}",
            row.years
        );
    }
}

/// A record with dates of every kind: lives are drawn, friction makes it late, its own load trips
/// it.
fn rich(accuracy: &str, units: u64) -> AgeOutcome {
    let text = include_str!("../../../scenarios/06-irrigation-pump-new.toml");
    let text = match text.contains("[ask]") {
        true => text.replace("[ask]", &format!("[ask]\naccuracy = {accuracy}")),
        false => format!("{text}\n[ask]\naccuracy = {accuracy}\n"),
    };
    let s = read_text("pump.toml", &text).unwrap_or_else(|e| panic!("{e}"));
    let options = made!(Options {
        units,
        ..Options::default()
    });
    age(&s, &options, &mut |_, _| {}).unwrap_or_else(|e| panic!("{e}"))
}

/// What is written can be read back, as the library writes it and as the program does with its
/// words beside it.
#[test]
fn a_record_is_read_back_from_its_json() {
    let outcome = rich("1e-5", 40);
    assert!(outcome.cautions.contains(&Caution::FindCause));
    let plain = serde_json::to_string(&outcome).expect("JSON");
    let worded = relatch::internals::present::age_json(&outcome).expect("JSON");
    for text in [plain, worded] {
        let back: AgeOutcome = serde_json::from_str(&text).unwrap_or_else(|e| panic!("{e}"));
        assert_eq!(back, outcome);
    }
}

/// The accuracy asked for reaches the years, and the error that is stated holds against a run a
/// thousand times finer.
#[test]
fn dates_are_as_accurate_as_they_say() {
    let exact = rich("1e-8", 0);
    let life = |o: &AgeOutcome| o.dates.trips_in_service.years().expect("a life");
    let mut errors = Vec::new();
    for accuracy in ["1e-3", "1e-4", "1e-5"] {
        let rough = rich(accuracy, 0);
        let apart = (life(&rough) - life(&exact)).abs();
        let stated = rough
            .dates
            .trips_in_service
            .error_years()
            .expect("an error");
        assert!(apart <= stated, "{accuracy}: {apart} beyond {stated} years");
        assert!(stated < 0.25 * life(&exact), "{accuracy}: {stated} years");
        errors.push(rough.error_estimate.rows_relative.expect("an error"));
    }
    assert!(errors[0] > errors[2], "{errors:?}");
}

/// An accuracy that is not reached is said.
#[test]
fn an_accuracy_that_cannot_be_reached_is_said() {
    let said = |o: &AgeOutcome| {
        let warnings = o.warnings.iter();
        warnings
            .filter(|w| matches!(w, AgeWarning::AccuracyNotReached { .. }))
            .count()
    };
    assert_eq!(said(&rich("1e-5", 0)), 0);
    let fine = rich("1e-8", 0);
    assert!(fine.error_estimate.rows_relative > Some(1e-8));
    assert_eq!(said(&fine), 1);
}

/// A part that leaves its limits and never trips in service is not said to have no end.
#[test]
fn no_sensitivity_says_which_life_does_not_end() {
    let outcome = aged(
        LOGARITHMIC,
        &format!("ambient = \"25 degC\"\n{}", shift("work", "8 h", 25.0)),
    );
    let searched_years = outcome.searched_years;
    let never = NoDate::NotWithin { searched_years };
    assert_eq!(outcome.sensitivity.missing, Some(never));
    let screen = relatch::internals::present::block::terminal(
        &relatch::internals::present::age_blocks(&outcome),
        relatch::internals::present::block::Screen::PLAIN,
    );
    assert!(!screen.contains("no life ends"), "{screen}");
    let said = "it does not trip its own load within 200 years";
    assert!(screen.contains(said), "{screen}");
}
