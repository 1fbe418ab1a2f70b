//! What a lot shows: the setting takes scatter out, designs agree, indices and rates are what they
//! claim to be.

use crate::support::shipped;
use relatch::internals::answer::Caution;
use relatch::internals::predict::trip_point;
use relatch::internals::study::population::{
    Design, Plan, Settings, VaryOutcome, VaryWarning, chunk, tally::Tally,
};

fn outcome(file: &str, units: u64, seed: u64, design: Design, rows: u64) -> (Plan, VaryOutcome) {
    let scenario = shipped(file);
    let settings = Settings::new(units, seed, design, rows, false, None).expect("settings");
    let plan = Plan::new(&scenario, &settings).expect("a plan");
    let mut whole = Tally::new(&plan).expect("a tally");
    for k in settings.own_chunks() {
        let (part, lines) = chunk::compute(&plan, k).expect("a chunk");
        assert!(lines.is_empty());
        whole.merge(&part).expect("merged");
    }
    let outcome = VaryOutcome::new(&plan, &whole).expect("an outcome");
    (plan, outcome)
}

/// The setting at 20 A leaves little of the scatter of the trip time there, and less of that of the
/// trip point.
#[test]
fn set_parts_scatter_less() {
    let (_, free) = outcome("13-kiln-lot.toml", 2048, 1, Design::Sobol, 0);
    let (_, set) = outcome("14-kiln-lot-set.toml", 2048, 1, Design::Sobol, 0);
    assert_eq!((free.failed, set.failed), (0, 0));
    // Who calls the library gets the cautions, too.
    for lot in [&free, &set] {
        let late = lot.load.fails_to_protect.iter().any(|rate| rate.units > 0);
        assert!(!late || lot.cautions[0] == Caution::LateUnits);
        assert!(lot.cautions.contains(&Caution::NeverRaise));
    }
    let relative = |s: &relatch::internals::study::population::SpreadRecord| {
        s.deviation.expect("a spread") / s.mean.expect("a mean")
    };
    let (time, point) = (relative(&free.trip_time_s), relative(&free.trip_point_a));
    let (set_time, set_point) = (relative(&set.trip_time_s), relative(&set.trip_point_a));
    assert!(set_time < 0.5 * time, "{set_time} {time}");
    assert!(set_point < 0.6 * point, "{set_point} {point}");
    // At the setting's current nearly nothing but the setting's own 3 % is left.
    assert!((0.028..0.033).contains(&set_time), "{set_time}");
}

/// Three designs estimate the same mean, median and deviation, within what random draws of this
/// number allow: four standard errors (of a median 1.25 times that of a mean).
#[test]
fn designs_agree() {
    let n = 2048.0_f64;
    let all: Vec<VaryOutcome> = [Design::Sobol, Design::Latin, Design::Random]
        .into_iter()
        .map(|d| outcome("13-kiln-lot.toml", n as u64, 3, d, 0).1)
        .collect();
    let reference = &all[0].trip_point_a;
    let deviation = reference.deviation.expect("a spread");
    // Coils and spring lots are few: their draws are shared by all designs.
    let error = deviation / n.sqrt();
    for other in &all[1..] {
        let other = &other.trip_point_a;
        let mean = other.mean.expect("a mean") - reference.mean.expect("a mean");
        assert!(mean.abs() < 4.0 * error, "{mean} {error}");
        let median = other.quantiles[1].value.expect("a median")
            - reference.quantiles[1].value.expect("a median");
        // A median is enclosed by a bin of 0.1 %.
        assert!(median.abs() < 5.0 * error + 1e-3 * 12.3, "{median} {error}");
        let spread = other.deviation.expect("a spread") / deviation;
        // Both are estimates, each to one part in the root of 2 n.
        assert!((spread - 1.0).abs() < 4.0 / n.sqrt(), "{spread}");
    }
}

/// First-order indices add up to less than all, totals to more, and the input that moves the trip
/// point most one at a time has the largest index.
#[test]
fn indices_and_bars_tell_the_same() {
    let (_, o) = outcome("13-kiln-lot.toml", 512, 1, Design::Sobol, 256);
    let point = &o.sensitivity[0];
    assert_eq!((point.rows, point.left_out), (256, 0));
    let first: f64 = point.indices.iter().map(|i| i.first).sum();
    let total: f64 = point.indices.iter().map(|i| i.total).sum();
    assert!((0.9..1.05).contains(&first), "{first}");
    assert!((0.98..1.1).contains(&total), "{total}");
    assert_eq!(point.indices[0].path, o.tornado[0].path);
    for index in &point.indices {
        assert!(index.total > -0.01 && index.total <= 1.0, "{index:?}");
        let (low, high) = index.total_interval;
        assert!(low <= index.total && index.total <= high);
    }
}

/// Early and late stand apart, and neither swallows the other: rates of a lot that is late at one
/// row and early at another.
#[test]
fn early_and_late_stand_apart() {
    let (_, o) = outcome("13-kiln-lot.toml", 1024, 1, Design::Latin, 0);
    for limit in &o.limits {
        for rate in [&limit.sides.late, &limit.sides.early] {
            assert!(
                rate.low <= rate.share && rate.share <= rate.high,
                "{rate:?}"
            );
            assert_eq!(rate.of, 1024);
        }
        assert!(limit.sides.late.units + limit.sides.early.units <= 1024);
    }
    let load = &o.load;
    assert_eq!(
        (load.trips_within_s, load.holds_for_s),
        (Some(40.0), Some(4.0))
    );
    assert!(load.fails_to_protect.is_some() && load.nuisance.is_some());
}

/// What the record holds as data stands beside it in words.
#[test]
fn the_json_says_in_words_what_its_data_are() {
    let (_, set) = outcome("14-kiln-lot-set.toml", 256, 1, Design::Sobol, 0);
    let text = relatch::internals::present::vary_json(&set).expect("JSON");
    let value: serde_json::Value = serde_json::from_str(&text).expect("JSON");
    let says = |path: &str, words: &str| {
        let text = value.pointer(path).and_then(|v| v.as_str()).unwrap_or("");
        assert!(text.contains(words), "{path}: {text}");
    };
    says("/setting/text", "clearance set so that it trips at 20 A");
    says("/load/demand/from", "limits");
    says("/load/demand/text", "must have tripped within 40 s");
    says("/load/demand/text", "the published limits at 2 times rated");
    says("/limits/1/text", "1.35 times rated trips within 1 h");
    says("/inputs/0/text", " +- ");
    says("/tornado/0/texts/0", " %");
    let mut inputs = set.inputs.iter();
    let film = inputs.position(|i| i.path == "contact.film_resistance");
    says(&format!("/inputs/{}/text", film.expect("an input")), "µΩ");
    assert_eq!(value["design"], "sobol");
    assert_eq!(value["format"], 3);
}

#[test]
fn a_lot_reads_back() {
    let (_, lot) = outcome("13-kiln-lot.toml", 64, 1, Design::Sobol, 16);
    let text = serde_json::to_string(&lot).expect("JSON");
    let again: VaryOutcome = serde_json::from_str(&text).expect("the record");
    assert_eq!(serde_json::to_string(&again).expect("JSON"), text);
    assert!(!again.sensitivity.is_empty() && again.cautions == lot.cautions);
}

/// A figure of a lot may travel alone: it says of what its rates are.
#[test]
fn every_figure_of_a_lot_carries_its_caution() {
    let (_, lot) = outcome("13-kiln-lot.toml", 256, 1, Design::Sobol, 0);
    let figures = relatch::internals::present::plot::population_figures(&lot);
    assert_eq!(figures.len(), 4);
    for figure in figures {
        let caution = "Rates are those of the tolerances written in the scenario";
        assert!(figure.description.contains(caution), "{}", figure.stem);
        let brief = "Rates are of modelled tolerances, as new";
        assert!(figure.svg.contains(brief), "{}", figure.stem);
        let late = lot.cautions.contains(&Caution::LateUnits);
        assert_eq!(
            figure.svg.contains(">! LATE: some"),
            late,
            "{}",
            figure.stem
        );
    }
}

/// Units may differ in numbers for which they are asked one by one: each of them moves its answer.
#[test]
fn units_differ_in_numbers_that_are_asked_alone() {
    let text = include_str!("../../../scenarios/13-kiln-lot.toml");
    let text = text
        .replace(
            "\"8 ms\"",
            "\"8 ms +- 10 %\"\npreload_loss = \"10 % +- 2 points\"",
        )
        .replace("[cooling]", "[cooling]\naltitude = \"900 m +- 200 m\"");
    let scenario = relatch::parse("a lot", &text).expect("a scenario");
    let settings = Settings::new(2, 1, Design::Sobol, 0, false, None).expect("settings");
    let plan = Plan::new(&scenario, &settings).expect("a plan");
    assert!(plan.examiner.is_none());
    let whole = Tally::new(&plan).expect("a tally");
    let outcome = VaryOutcome::new(&plan, &whole).expect("an outcome");
    for (path, higher) in [("cooling.altitude", false), ("latch.preload_loss", false)] {
        let own = outcome.tornado.iter().find(|t| t.path == path);
        let [low, high] = own
            .expect("it differs")
            .trip_points_a
            .map(|a| a.expect("a number"));
        assert_eq!(high > low, higher, "{path}: {low} {high}");
    }
    assert!(
        outcome
            .inputs
            .iter()
            .any(|i| i.path == "latch.opening_time")
    );
}

/// Elements differ: a stiffer preload picks up later, and what is found of a lot holds the part as
/// drawn.
#[test]
fn instantaneous_elements_differ_from_unit_to_unit() {
    let text = include_str!("../../../scenarios/15-theatre-saw.toml");
    let text = text.replace("preload = \"2.3 N\"", "preload = \"2.3 N +- 5 %\"");
    let scenario = relatch::parse("a lot", &text).expect("a scenario");
    let lot = relatch::population(&scenario, 64, 0, 1).expect("a lot");
    let found = lot.instantaneous.as_ref().expect("elements that differ");
    assert!(
        !lot.warnings
            .iter()
            .any(|w| matches!(w, VaryWarning::StripsAlone))
    );
    let [low, middle, high] = found.pick_up_a.map(|a| a.expect("a pick-up"));
    let drawn = found.nominal_a.expect("a pick-up");
    assert!(low < middle && middle < high && low < drawn && drawn < high);
    // The pull goes with the square of the current far from saturation: 5 % of a force of 2.3 N, of
    // 4.7 N with the trigger's, is 1.2 % of it at most 2.5 %.
    let relative = (high - low) / (3.29 * drawn);
    assert!((0.005..0.025).contains(&relative), "{relative}");
    let (path, share) = found.most.as_ref().expect("a cause");
    assert!(
        path == "magnetic.preload" && *share > 0.99,
        "{path} {share}"
    );
    let with = |preload: &str| {
        let text = text.replace("2.3 N +- 5 %", preload);
        let scenario = relatch::parse("a part", &text).expect("a scenario");
        let outcome = relatch::predict(&scenario).expect("a prediction");
        outcome
            .magnetic
            .expect("an element")
            .pick_up_rms_a
            .expect("a pick-up")
    };
    assert!((drawn / with("2.3 N") - 1.0).abs() < 1e-5 && with("2.4 N") > drawn);
}

/// A unit whose own multiple of its mark is higher has the travel that belongs to it: its trip point
/// is that much higher.
#[test]
fn the_multiple_of_a_mark_differs_from_unit_to_unit() {
    let text = include_str!("../../../scenarios/18-conveyor-class-20.toml");
    let text = text.replace("trips_at = 1.12", "trips_at = \"1.12 +- 1 %\"");
    let scenario = relatch::parse("a lot", &text).expect("a scenario");
    let settings = Settings::new(2, 1, Design::Sobol, 0, false, None).expect("settings");
    let plan = Plan::new(&scenario, &settings).expect("a plan");
    let at = plan
        .inputs
        .list
        .iter()
        .position(|i| i.path == "dial.trips_at");
    let mut values: Vec<f64> = plan.inputs.list.iter().map(|i| i.nominal).collect();
    let mut point_a = |trips_at: f64| {
        values[at.expect("it differs")] = trips_at;
        let mut unit = plan.scenario.clone();
        plan.inputs.apply(&values, &mut unit);
        let device = relatch::internals::device::Device::new(&unit).expect("a device");
        let air_k = unit.protector.reference_ambient_k;
        let rated_a = unit.protector.rated_current_a;
        let point = trip_point(&device, air_k, rated_a, 1e-6).expect("a trip point");
        point.value.current_a().expect("a current") / rated_a
    };
    for trips_at in [1.12, 1.10, 1.145] {
        let found = point_a(trips_at);
        assert!((found / trips_at - 1.0).abs() < 1e-4, "{found} {trips_at}");
    }
}

/// Every unit of a lot with three poles is asked for the rows of a lost phase: the nominal one
/// answers as it does by itself, whichever pole has the odd current.
#[test]
fn a_lost_phase_is_asked_of_every_unit() {
    use relatch::internals::device::Device;
    use relatch::internals::predict::check_all;
    let mut s = shipped("16-pump-lost-phase.toml");
    s.protector.limits = Some("motor class 10".into());
    let settings = Settings::new(8, 1, Design::Random, 0, false, None).expect("settings");
    let plan = Plan::new(&s, &settings).expect("a plan");
    let device = Device::new(&s).expect("device");
    let table = s.limits().expect("a table");
    let mut alone = check_all(&device, &crate::support::case(&s), Some(table)).expect("checks");
    alone.retain(|check| check.demand.poles.is_some());
    let asked: Vec<_> = (plan.limits.iter())
        .filter(|row| row.limit.unequal.is_some())
        .collect();
    assert_eq!((plan.limits.len(), asked.len(), alone.len()), (6, 2, 2));
    for (row, alone) in asked.iter().zip(&alone) {
        assert_eq!(row.missed, !alone.met);
        let here_s = plan.nominal.times_s[row.carry];
        match alone.time.time_s() {
            Some(s) => assert!((here_s / s - 1.0).abs() < 1e-3, "{here_s} {s}"),
            None => assert!(here_s.is_infinite() || here_s == 0.0, "{here_s}"),
        }
    }
}
