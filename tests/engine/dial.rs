//! A dial and a strip that follows the air: what holds whatever the numbers of the part.

use crate::support::{apart, case, made, shipped, worked};
use relatch::internals::device::{Device, Fineness, Model};
use relatch::internals::predict::{
    Case, Dial, LimitCheck, Options, check_all, check_rows, predict, trip_point, turned,
};
use relatch::internals::scenario::{self, Scenario};
use relatch::internals::standards::{self, PublishedLimits};

/// The worked strip in a housing, with lines of its own in `[latch]` and tables after it.
fn part(latch: &str, tables: &str) -> Scenario {
    let file = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/scenarios/08-worked-strip.toml"
    );
    let text = std::fs::read_to_string(file).expect("the worked strip");
    let at = text.find("[latch]").expect("its latch") + "[latch]".len();
    let text = format!(
        "{}\n{latch}\n{}\n[housing]\nheat_capacity = \"4 J/K\"\nconductance = \"0.06 W/K\"\n{tables}",
        &text[..at],
        &text[at..]
    );
    scenario::read_text("dial.toml", &text).unwrap_or_else(|e| panic!("{e}"))
}

fn point_a(s: &Scenario, air_k: f64) -> f64 {
    let device = Device::new(s).expect("device");
    let point = trip_point(&device, air_k, 9.0, 1e-8).expect("point");
    point.value.current_a().expect("a trip point")
}

fn dial_of(s: &Scenario) -> Dial {
    let options = made!(Options {
        without_course: true,
        ..Options::default()
    });
    let outcome = predict(s, &options, &mut |_, _| {}).expect("outcome");
    outcome.dial.expect("a dial")
}

/// What a document asks of three poles whose currents differ.
fn unbalanced(device: &Device, case: &Case, table: &PublishedLimits) -> Vec<LimitCheck> {
    let mut checks = check_all(device, case, Some(table)).expect("checks");
    checks.retain(|check| check.demand.poles.is_some());
    checks
}

/// A mark means that the part trips at a multiple of it: found again by the search for trip points,
/// which knows nothing of the dial.
#[test]
fn every_mark_trips_at_its_multiple() {
    for (lowest, highest, trips_at) in [("6 A", "9 A", 1.12), ("7 A", "10 A", 1.05)] {
        let s = part(
            "",
            &format!(
                "[dial]\nlowest = \"{lowest}\"\nhighest = \"{highest}\"\ntrips_at = {trips_at}\n"
            ),
        );
        let dial = dial_of(&s);
        assert_eq!(dial.marks.len(), 5);
        for mark in &dial.marks {
            let found = mark.trip_point.current_a().expect("a trip point");
            assert!(apart(found, trips_at * mark.mark_a) < 1e-5, "{mark:?}");
        }
        let widens = dial
            .marks
            .windows(2)
            .all(|w| w[0].travel_mm < w[1].travel_mm);
        assert!(widens, "{dial:?}");
    }
}

/// A dial whose mark says what the part does without one leaves its latch where it is.
#[test]
fn a_mark_that_is_true_already_moves_nothing() {
    let plain = part("", "");
    let own_a = point_a(&plain, plain.protector.reference_ambient_k);
    let trips_at = own_a / plain.protector.rated_current_a;
    let s = part(
        "",
        &format!("[dial]\nlowest = \"6 A\"\nhighest = \"9 A\"\ntrips_at = {trips_at:.12}\n"),
    );
    let turned = turned(&s).expect("turned");
    let [was, is] = [&s, &*turned].map(|s| *s.release.mechanism.latch().expect("a latch"));
    assert!((is.release_travel_m - was.release_travel_m).abs() < 1e-9);
    assert!((is.relatch_travel_m - was.relatch_travel_m).abs() < 1e-9);
}

/// The way between release and relatch is the latch's own; lost preload is not made good by the
/// cam, which was cut for the part as new.
#[test]
fn a_cam_moves_release_and_relatch_alike_and_knows_no_wear() {
    let tables = "[dial]\nlowest = \"6 A\"\nhighest = \"9 A\"\n";
    let mut s = part("preload = \"0.1 N\"", tables);
    let new = turned(&s).expect("turned").into_owned();
    s.release = s.release.with_loss(0.5);
    let worn = turned(&s).expect("turned").into_owned();
    let latch = |s: &Scenario| *s.release.mechanism.latch().expect("a latch");
    let ways = [&s, &new, &worn].map(|s| latch(s).release_travel_m - latch(s).relatch_travel_m);
    assert!((ways[0] - ways[1]).abs() < 1e-12 && (ways[0] - ways[2]).abs() < 1e-12);
    assert_eq!(latch(&new).release_travel_m, latch(&worn).release_travel_m);
    let air_k = s.protector.reference_ambient_k;
    assert!(point_a(&worn, air_k) < 0.99 * point_a(&new, air_k));
}

/// What a mark would need below nothing is refused, with the mark.
#[test]
fn a_dial_that_reaches_too_low_says_so() {
    let s = part(
        "preload = \"30 N\"",
        "[dial]\nlowest = \"2 A\"\nhighest = \"12 A\"\n",
    );
    let mut low = s.clone();
    low.protector.rated_current_a = 2.0;
    let error = turned(&low).expect_err("no travel").to_string();
    assert!(error.contains("at its mark of 2.000 A"), "{error}");
}

/// A mark at which the strip would glow is not made possible by a higher beginning.
#[test]
fn a_dial_that_reaches_too_high_says_so() {
    let s = part("", "[dial]\nlowest = \"6 A\"\nhighest = \"60 A\"\n");
    let mut high = s.clone();
    high.protector.rated_current_a = 60.0;
    let error = turned(&high).expect_err("no travel").to_string();
    assert!(error.contains("end the dial lower"), "{error}");
}

/// Free deflection of a clamped strip that is warm all over: kappa l^2 / 2 (S. Timoshenko, 1925).
/// With a compensating strip as long as itself nothing of it is left, whatever the warmth; with one
/// of half the length three quarters are.
#[test]
fn a_strip_that_follows_the_air_takes_away_its_own_deflection() {
    let distance = |latch: &str, warmer_k: f64| {
        let s = part(latch, "");
        let device = Device::new(&s).expect("device");
        let fineness = Fineness {
            order: 10,
            end_element_m: device.length_m,
        };
        let model = Model::new(&device, fineness);
        let flat_k = s.strip.flat_temperature_k;
        model.release_excess_m(&model.uniform(flat_k + warmer_k), 0.0)
            - model.release_excess_m(&model.uniform(flat_k), 0.0)
    };
    let length_mm = 1e3 * worked(|_| {}).strip.push_point_m;
    let whole = format!("compensating_strip = \"{length_mm} mm\"");
    let half = format!("compensating_strip = \"{} mm\"", 0.5 * length_mm);
    for warmer_k in [20.0, 60.0, 100.0] {
        let alone = distance("", warmer_k);
        // The section softens as it warms, and with it what the latch force takes.
        let stays = distance(&whole, warmer_k);
        assert!(stays.abs() < 0.02 * alone, "{stays} of {alone}");
        let left = distance(&half, warmer_k);
        let taken = apart(alone - left, 0.25 * (alone - stays));
        assert!(taken < 1e-9, "{left} of {alone}: {taken}");
    }
}

/// With it the trip point hardly goes with the air.
#[test]
fn a_strip_that_follows_the_air_keeps_the_trip_point() {
    let moves = |latch: &str| {
        let s = part(latch, "");
        point_a(&s, 313.15) / point_a(&s, 273.15)
    };
    let (plain, follows) = (moves(""), moves("compensating_strip = \"25 mm\""));
    assert!(plain < 0.80, "{plain}");
    assert!((0.95..1.05).contains(&follows), "{follows}");
}

/// Three worked strips on a differential bar.
fn three() -> Scenario {
    let pole = "[[poles.pole]]\nhousing_conductance = \"0.06 W/K\"\n";
    part(
        "",
        &format!(
            "[poles]\nbar = \"differential\"\nlever = 0.5\nwall = \"0.1 W/K\"\n{pole}{pole}{pole}"
        ),
    )
}

/// Rows of motor classes for a lost phase (IEC 60947-4-1, from memory): 1, 1 and 0.9 times the
/// setting are carried for two hours, then 1.15, 1.15 and 0 trip within two more, whichever pole
/// has the odd current. The judgement turns where the row says: at the trip point of those
/// currents, least favourable pole.
#[test]
fn judgements_of_a_lost_phase_turn_at_the_rows() {
    let s = three();
    let table = standards::find("motor class 10").expect("a table");
    let air_k = table.ambient_c + 273.15;
    let device = Device::new(&s).expect("device");
    let point = |poles: [f64; 3]| {
        let device = device.with_pole_currents(&poles);
        let point = trip_point(&device, air_k, 9.0, 1e-8).expect("point");
        point.value.current_a().expect("a trip point")
    };
    let met = |rated_a: f64, k: usize| {
        let mut case = case(&s);
        case.rated_current_a = rated_a;
        let checks = unbalanced(&device, &case, table);
        assert_eq!(checks.len(), 2);
        assert!(checks.iter().all(|c| c.demand.from_memory));
        checks[k].met
    };
    let odd = |a: f64| [[1.0, 1.0, a], [1.0, a, 1.0], [a, 1.0, 1.0]];
    let least = odd(0.9)
        .map(point)
        .into_iter()
        .fold(f64::INFINITY, f64::min);
    assert!(met(0.9995 * least, 0) && !met(1.0005 * least, 0), "{least}");
    let most = odd(0.0).map(point).into_iter().fold(0.0, f64::max) / 1.15;
    assert!(!met(0.9995 * most, 1) && met(1.0005 * most, 1), "{most}");
}

/// A document serves what it covers: parts of other numbers of poles have no such rows, and those
/// that do not notice a lost phase have one of their own.
#[test]
fn lost_phase_rows_are_for_three_poles() {
    let table = standards::find("motor class 20").expect("a table");
    let rows = |s: &Scenario| {
        let device = Device::new(s).expect("device");
        unbalanced(&device, &case(s), table)
    };
    assert!(rows(&worked(|_| {})).is_empty());
    let mut sum = three();
    if let Some(poles) = &mut sum.poles {
        poles.bar = scenario::BarKind::Sum;
        poles.lever = f64::NAN;
    }
    let checks = rows(&sum);
    let asked: Vec<f64> = checks.iter().map(|c| c.demand.multiple).collect();
    assert_eq!(asked, [1.32]);
    assert_eq!(checks[0].demand.poles, Some([1.0, 1.0, 0.0]));
}

/// A part that follows the air is held to the rule for such parts, at 20 degC, and carries 1.05
/// times its setting there; others 1.0 times at 40 degC (from memory).
#[test]
fn the_rule_goes_by_the_compensating_strip() {
    let named = |latch: &str| {
        let mut s = part(latch, "");
        s.protector.limits = Some("motor class 20".into());
        s.limits().expect("a table")
    };
    let rule = |table: &PublishedLimits| (table.ambient_c, table.rows[0].multiple);
    assert_eq!(rule(named("")), (40.0, 1.0));
    assert_eq!(rule(named("compensating_strip = \"30 mm\"")), (20.0, 1.05));
}

/// The shipped part of class 20 meets every row at both ends of its scale, and its highest mark is
/// the hottest.
#[test]
fn the_conveyor_part_is_of_class_20_along_its_dial() {
    let s = shipped("18-conveyor-class-20.toml");
    let dial = dial_of(&s);
    let ends: Vec<_> = dial.ends().collect();
    assert_eq!(ends.len(), 2);
    for end in &ends {
        // Four rows and two in frost and two in heat, two of a lost phase.
        assert_eq!(end.limits.len(), 10);
        let missed: Vec<_> = end.limits.iter().filter(|l| !l.met).collect();
        assert!(missed.is_empty(), "{missed:?}");
    }
    assert!(ends[0].winding_c < ends[1].winding_c && ends[0].strip_c < ends[1].strip_c);
    assert!(ends[1].winding_c < dial.winding_limit_c);
    // The rows hold the part that is turned, not what stands in the file.
    let turned = turned(&s).expect("turned");
    let device = Device::new(&turned).expect("device");
    let table = s.limits().expect("a table");
    let checks = check_rows(&device, &case(&s), table, table.rows).expect("checks");
    let airs: Vec<f64> = checks.iter().map(|c| c.ambient_c).collect();
    assert_eq!(airs, [20.0, 20.0, 20.0, 20.0, -5.0, -5.0, 40.0, 40.0]);
}
