//! Shipped parts against limits that standards and makers print. In our own words; pass or fail, no
//! tolerance.
//!
//! S1, S2: IEC 60898-1 (2015), Table 7, test 9.10 (read: as quoted in an instruction manual and a
//! product page). S6: IEC 60947-2, Table 6 (7.2.1.2.4) (read: a manufacturer's data sheet). S10: UL
//! 489 (read: suppliers' pages; 200 % above 30 A from memory). P2: trip windows of a 10 A thermal
//! equipment breaker at 25 °C, P3: internal resistances of thermal equipment breakers, IEC 60934
//! type TO (both read: a manufacturer's data sheet). The editions are to be checked before a limit
//! decides on a release. The parts are invented; that they meet a table shows that the engine's
//! times are those of real parts, not that any part conforms.

use crate::support::made;
use std::path::Path;
use std::sync::Arc;

use relatch::internals::device::Device;
use relatch::internals::load::Programme;
use relatch::internals::material::Law;
use relatch::internals::predict::{Case, Options, check_rows, predict, run, trip_point, turned};
use relatch::internals::scenario::{Before, Scenario};
use relatch::internals::standards::{self, PublishedLimits};

use super::support::{case, shipped, worked};

const HOUR_S: f64 = 3600.0;
const NEVER_S: f64 = f64::INFINITY;

fn table(name: &str) -> &'static PublishedLimits {
    standards::find(name).unwrap_or_else(|| panic!("no limits are called {name}"))
}

/// Every row of a table, at the table's ambient.
#[track_caller]
fn meets(s: &Scenario, limits: &PublishedLimits) {
    assert!(
        missed(s, limits).is_empty(),
        "{}: {:?}",
        s.title,
        missed(s, limits)
    );
}

/// The multiples of the rows that a part misses, each with its time, s.
fn missed(s: &Scenario, limits: &PublishedLimits) -> Vec<(f64, Option<f64>)> {
    let device = Device::new(&turned(s).expect("turned")).expect("device");
    let checks = check_rows(&device, &case(s), limits, limits.rows).expect("checks");
    assert_eq!(checks.len(), limits.rows.len());
    let missed = checks.iter().filter(|check| !check.met);
    missed
        .map(|c| (c.demand.multiple, c.time.time_s()))
        .collect()
}

/// The part before anything wore or dried.
fn as_new(mut s: Scenario) -> Scenario {
    s.release.preload_loss = 0.0;
    s.release.contact_loss = 0.0;
    if let Some(latch) = s.release.mechanism.latch_mut() {
        latch.release_force_factor = 1.0;
    }
    s
}

/// Rows as printed: table, multiple of the rating, multiple that went before, not before (s), not
/// after (s).
///
/// S1, S2: 1.13 is held for an hour (up to 63 A); 1.45, right after, trips within one. S6: 1.05 is
/// held, 1.30, right after, trips; one hour up to 63 A. S10: 100 % is held, 135 % trips within an
/// hour, 200 % within 2 min (up to 30 A) or 4 min (up to 50 A, from memory). P2: 135 % within an
/// hour, 200 % in 4 to 40 s, 400 % in 0.6 to 5 s, 600 % in 0.3 to 1.8 s, 1000 % in 0.12 to 0.4 s.
/// Motor classes of IEC 60947-4-1: 7.2 times from the cold (read in makers' tables but for class
/// 5), and 1.2 and 1.5 times from the warm (from memory).
const PRINTED: [(&str, f64, f64, f64, f64); 30] = [
    ("IEC 60898-1 up to 32 A", 1.13, 0.0, HOUR_S, NEVER_S),
    ("IEC 60898-1 up to 32 A", 1.45, 1.13, 0.0, HOUR_S),
    ("IEC 60947-2 up to 63 A", 1.05, 0.0, HOUR_S, NEVER_S),
    ("IEC 60947-2 up to 63 A", 1.30, 1.05, 0.0, HOUR_S),
    ("UL 489 up to 30 A", 1.00, 0.0, NEVER_S, NEVER_S),
    ("UL 489 up to 30 A", 1.35, 0.0, 0.0, HOUR_S),
    ("UL 489 up to 30 A", 2.00, 0.0, 0.0, 120.0),
    ("UL 489 31 A to 50 A", 1.00, 0.0, NEVER_S, NEVER_S),
    ("UL 489 31 A to 50 A", 1.35, 0.0, 0.0, HOUR_S),
    ("UL 489 31 A to 50 A", 2.00, 0.0, 0.0, 240.0),
    ("equipment breaker window", 1.35, 0.0, 0.0, HOUR_S),
    ("equipment breaker window", 2.00, 0.0, 4.0, 40.0),
    ("equipment breaker window", 4.00, 0.0, 0.6, 5.0),
    ("equipment breaker window", 6.00, 0.0, 0.3, 1.8),
    ("equipment breaker window", 10.00, 0.0, 0.12, 0.4),
    ("motor class 5", 1.20, 1.0, 0.0, 2.0 * HOUR_S),
    ("motor class 5", 1.50, 1.0, 0.0, 120.0),
    ("motor class 5", 7.20, 0.0, 0.5, 5.0),
    ("motor class 10A", 1.20, 1.0, 0.0, 2.0 * HOUR_S),
    ("motor class 10A", 1.50, 1.0, 0.0, 120.0),
    ("motor class 10A", 7.20, 0.0, 2.0, 10.0),
    ("motor class 10", 1.20, 1.0, 0.0, 2.0 * HOUR_S),
    ("motor class 10", 1.50, 1.0, 0.0, 240.0),
    ("motor class 10", 7.20, 0.0, 4.0, 10.0),
    ("motor class 20", 1.20, 1.0, 0.0, 2.0 * HOUR_S),
    ("motor class 20", 1.50, 1.0, 0.0, 480.0),
    ("motor class 20", 7.20, 0.0, 6.0, 20.0),
    ("motor class 30", 1.20, 1.0, 0.0, 2.0 * HOUR_S),
    ("motor class 30", 1.50, 1.0, 0.0, 720.0),
    ("motor class 30", 7.20, 0.0, 9.0, 30.0),
];

/// Ambient of each table, degC.
const PRINTED_AIR_C: [(&str, f64); 10] = [
    ("IEC 60898-1 up to 32 A", 30.0),
    ("IEC 60947-2 up to 63 A", 30.0),
    ("UL 489 up to 30 A", 25.0),
    ("UL 489 31 A to 50 A", 25.0),
    ("equipment breaker window", 25.0),
    ("motor class 5", 40.0),
    ("motor class 10A", 40.0),
    ("motor class 10", 40.0),
    ("motor class 20", 40.0),
    ("motor class 30", 40.0),
];

/// The worked strip with every heat capacity multiplied: all its times are, and nothing else.
fn slowed(factor: f64) -> Scenario {
    worked(|s| {
        for layer in &mut s.strip.layers {
            let mut alloy = (*layer.alloy).clone();
            let Law::Constant(density) = alloy.density.law else {
                panic!("a density that does not depend on temperature");
            };
            alloy.density.law = Law::Constant(factor * density);
            layer.alloy = Arc::new(alloy);
        }
        s.clamped_terminal.heat_capacity_j_per_k *= factor;
        s.moving_contact.heat_capacity_j_per_k *= factor;
    })
}

/// The judgement turns where the printed row says: a part made to trip a thousandth after the last
/// moment allowed, or before the first, misses the row, and one on the other side meets it; and so
/// by the current for what must be held.
#[test]
fn judgements_turn_at_the_printed_rows() {
    for (name, multiple, after, least_s, most_s) in PRINTED {
        let (_, air_c) = PRINTED_AIR_C
            .into_iter()
            .find(|p| p.0 == name)
            .expect("air");
        let limits = table(name);
        let row = limits.rows.iter().position(|r| r.multiple == multiple);
        let row = row.unwrap_or_else(|| panic!("{name} has no row at {multiple}"));
        let limits = made!(PublishedLimits {
            rows: &limits.rows[row..=row],
            ..*limits
        });
        let met = |slower: f64, rated_a: f64| {
            let s = slowed(slower);
            let device = Device::new(&s).expect("device");
            let case = Case {
                rated_current_a: rated_a,
                ..case(&s)
            };
            check_rows(&device, &case, &limits, limits.rows).expect("checks")[0].met
        };
        let s = slowed(1.0);
        let device = Device::new(&s).expect("device");
        let own = case(&s).at_ambient(air_c + 273.15);
        let point = trip_point(&device, own.ambient_k(), 10.0, 1e-8).expect("point");
        let point_a = point.value.current_a().expect("a trip point");
        if least_s == NEVER_S {
            assert!(met(1.0, 0.9995 * point_a / multiple), "{name} {multiple}");
            assert!(!met(1.0, 1.0005 * point_a / multiple), "{name} {multiple}");
            continue;
        }
        // Twice what it just holds; where it is warm before, that is nine tenths of what it just
        // holds.
        let rated_a = if after > 0.0 {
            0.9 * point_a / after
        } else {
            2.0 * point_a / multiple
        };
        let before = if after > 0.0 {
            Before::Hot {
                fraction_of_rated: after,
            }
        } else {
            Before::Cold
        };
        let asked = Case {
            rated_current_a: rated_a,
            ..own.from(before)
        };
        let answer = run(
            &device,
            &asked,
            &Programme::constant(multiple * rated_a),
            false,
        );
        let time_s = answer.expect("run").value.trip_time_s.expect("trips");
        for (limit_s, sooner, later) in [(least_s, false, true), (most_s, true, false)] {
            if limit_s > 0.0 && limit_s < NEVER_S {
                assert_eq!(
                    met(0.999 * limit_s / time_s, rated_a),
                    sooner,
                    "{name} {multiple}"
                );
                assert_eq!(
                    met(1.001 * limit_s / time_s, rated_a),
                    later,
                    "{name} {multiple}"
                );
            }
        }
    }
}

/// Of the motor classes only 7.2 times from the cold was read, and of class 5 nothing; a verdict
/// says so.
#[test]
fn rows_from_memory_say_so() {
    for name in ["5", "10A", "10", "20", "30"] {
        for row in table(&format!("motor class {name}")).rows {
            let was_read = row.multiple == 7.2 && name != "5";
            assert_eq!(row.from_memory, !was_read, "{name} {}", row.multiple);
        }
    }
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let class = table("motor class 20");
    let checks = check_rows(&device, &case(&s), class, class.rows).expect("checks");
    let marked = checks.iter().map(|check| check.demand.from_memory);
    assert_eq!(marked.collect::<Vec<bool>>(), [true, true, true, false]);
}

/// One temperature with one time constant tau, which u times the setting just trips, trips at m
/// times it after tau ln(m^2/(m^2 - u^2)) (textbook). At 7.2 times and u = 1.1 class 20 lies
/// between tau of 254 s and 847 s: a bare strip of half a minute is none of it.
#[test]
fn class_20_asks_for_minutes() {
    let cold = table("motor class 20")
        .rows
        .iter()
        .find(|r| r.multiple == 7.2);
    let cold = cold.expect("a row");
    let (m, u) = (cold.multiple, 1.1f64);
    let tau_s = |time_s: f64| time_s / (m * m / (m * m - u * u)).ln();
    assert!(
        (tau_s(cold.at_least_s) - 254.0).abs() < 0.5,
        "{}",
        tau_s(cold.at_least_s)
    );
    assert!(
        (tau_s(cold.at_most_s) - 847.0).abs() < 0.5,
        "{}",
        tau_s(cold.at_most_s)
    );
}

/// The parts that the tables are for, A.
#[test]
fn tables_are_for_the_printed_ratings() {
    for (name, covers_a) in [
        ("IEC 60947-2 up to 63 A", [0.0, 63.0]),
        ("UL 489 up to 30 A", [0.0, 30.0]),
        ("UL 489 31 A to 50 A", [31.0, 50.0]),
        ("equipment breaker window", [10.0, 10.0]),
    ] {
        assert_eq!(table(name).covers_a, covers_a);
    }
}

/// Every part that names a table meets it as new, or its file says which row it misses.
#[test]
fn parts_meet_the_table_they_name() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios");
    let mut tables = std::collections::BTreeMap::<String, usize>::new();
    for entry in std::fs::read_dir(&folder).expect("scenarios") {
        let file = entry.expect("entry").file_name();
        let file = file.to_string_lossy();
        if !file.ends_with(".toml") {
            continue;
        }
        let s = as_new(shipped(&file));
        if let Some(name) = s.protector.limits.clone() {
            let text = std::fs::read_to_string(folder.join(&*file)).expect("a scenario");
            let limits = s.limits().expect("the limits it names");
            assert!(limits.covers(s.protector.rated_current_a), "{file}");
            for (multiple, time_s) in missed(&s, limits) {
                let time_s = time_s.map(|t| format!("{t:.2} s")).unwrap_or_default();
                let said = format!("at {multiple} times its rating it takes {time_s}");
                assert!(text.contains(&said), "{file} does not say: {said}");
            }
            *tables.entry(name).or_default() += 1;
        }
    }
    // P2 and S1 with S2 are both held by some part; otherwise this test holds nothing.
    for name in ["equipment breaker window", "IEC 60898-1 up to 32 A"] {
        assert!(
            tables.contains_key(name),
            "no part names {name}: {tables:?}"
        );
    }
}

/// P2 tells good parts from bad: worn it trips under the current it should carry, dried out it
/// trips late.
#[test]
fn p2_is_missed_by_parts_that_went_bad() {
    for (file, multiple) in [
        ("07-irrigation-pump-worn.toml", 1.0),
        ("09-late-part.toml", 2.0),
    ] {
        let s = shipped(file);
        let limits = table(s.protector.limits.as_deref().expect("names a table"));
        let device = Device::new(&s).expect("device");
        let checks = check_rows(&device, &case(&s), limits, limits.rows).expect("checks");
        let missed: Vec<f64> = checks
            .iter()
            .filter(|c| !c.met)
            .map(|c| c.demand.multiple)
            .collect();
        assert!(missed.contains(&multiple), "{file} misses {missed:?}");
    }
}

/// S6 on the part that is made like a circuit breaker.
#[test]
fn s6_on_the_deck_oven_part() {
    meets(
        &shipped("03-deck-oven.toml"),
        table("IEC 60947-2 up to 63 A"),
    );
}

/// S10 on parts up to 30 A and above; 100 % also in air of 40 °C, as where so rated.
#[test]
fn s10_on_shipped_parts() {
    for (file, name) in [
        ("01-pug-mill.toml", "UL 489 up to 30 A"),
        ("06-irrigation-pump-new.toml", "UL 489 up to 30 A"),
        ("03-deck-oven.toml", "UL 489 31 A to 50 A"),
    ] {
        let (s, limits) = (shipped(file), table(name));
        meets(&s, limits);
        let carried = &limits.rows[..1];
        assert_eq!(carried[0].multiple, 1.0);
        let in_warm_air = made!(PublishedLimits {
            ambient_c: 40.0,
            rows: carried,
            ..*limits
        });
        meets(&s, &in_warm_air);
    }
}

/// P3: rated current in A, internal resistance in ohm.
const P3: [(f64, f64); 20] = [
    (0.05, 285.0),
    (0.08, 134.0),
    (0.1, 81.0),
    (0.2, 22.0),
    (0.3, 8.7),
    (0.4, 5.5),
    (0.5, 3.3),
    (0.6, 2.45),
    (0.7, 1.6),
    (0.8, 1.45),
    (1.0, 0.9),
    (1.2, 0.6),
    (1.5, 0.4),
    (1.8, 0.28),
    (2.0, 0.25),
    (2.5, 0.18),
    (3.0, 0.11),
    (3.5, 0.076),
    (4.0, 0.067),
    (4.5, 0.051),
];

/// P3: the published parts make 0.71 to 1.13 W at their rating, whatever it is, because all their
/// strips need the same warmth; the shipped part of 2 A makes as much. From 5 to 10 A the sheet
/// only says at most 0.05 ohm.
#[test]
fn p3_heat_and_resistance_at_the_rating() {
    let watts = P3.map(|(amps, ohms)| amps * amps * ohms);
    let least = watts.into_iter().fold(f64::INFINITY, f64::min);
    let most = watts.into_iter().fold(0.0, f64::max);
    assert!((least - 0.7125).abs() < 1e-9 && (most - 1.125).abs() < 1e-9);

    let options = made!(Options {
        without_tables: true,
        ..Options::default()
    });
    let part = |file: &str| {
        let outcome = predict(&shipped(file), &options, &mut |_, _| {});
        outcome.unwrap_or_else(|e| panic!("{file}: {e}")).part
    };
    let small = part("02-curtain-winch.toml");
    assert_eq!(small.rated_current_a, 2.0);
    let power = small.power_at_rated_w.expect("carries its rating");
    assert!((least..=most).contains(&power), "{power} W");

    for file in ["01-pug-mill.toml", "04-fog-machine.toml"] {
        let larger = part(file);
        assert_eq!(larger.rated_current_a, 10.0);
        let ohms = larger.resistance_ohm;
        assert!(ohms <= 0.05, "{file}: {ohms} ohm");
    }
}
