//! Case files: the shipped ones say what they should; wrong ones (`tests/wrong_cases/NAME.toml`)
//! get reviewed messages (`NAME.txt`). `RELATCH_BLESS=1 cargo test --test inputs cases::` rewrites
//! the messages; read what it wrote.

use crate::reviewed::{every_file_gets_its_message, names};
use proptest::prelude::*;
use relatch::internals::evidence::{
    AirPlace, Before, Case, Event, LogNote, LogQuestions, Meter, Noted, Outcome, Setting, Taken,
    TripsAre, Unit, Waveform, from_log, read, read_text, read_time, starter,
};
use relatch::internals::logs::LogReader;
use relatch::internals::present::assumed_words;
use std::path::Path;

const SHIPPED: &str = "scenarios/cases";
const WRONG: &str = "tests/wrong_cases";

fn shipped(name: &str) -> Case {
    read(Path::new(&format!("{SHIPPED}/{name}.toml"))).unwrap_or_else(|e| panic!("{e}"))
}

/// Least and largest time of a trip, s.
fn bounds(event: &Event) -> (f64, f64) {
    match event.outcome {
        Outcome::Tripped { after_s } => (
            after_s.value - 2.0 * after_s.standard_uncertainty,
            after_s.value + 2.0 * after_s.standard_uncertainty,
        ),
        Outcome::TrippedWithin { from_s, to_s } => (from_s, to_s),
        Outcome::Held { for_s } => (for_s, f64::INFINITY),
    }
}

#[test]
fn every_shipped_case_reads_and_says_that_it_is_invented() {
    let names = names(SHIPPED);
    assert!(names.len() >= 8, "{names:?}");
    for name in names {
        let case = shipped(&name);
        assert!(case.shows.contains("invented"), "{name}");
        assert!(!case.title.is_empty() && !case.events.is_empty(), "{name}");
        assert!(case.nameplate.rated_current_a != 8.0, "{name}");
        for reading in &case.readings {
            let u = reading.current_a.relative();
            assert!(u > 0.005 && u < 0.25, "{name}: {reading:?}");
        }
        for event in &case.events {
            let (from_s, to_s) = bounds(event);
            assert!(from_s >= 0.0 && to_s > 0.0, "{name}: {event:?}");
            assert!(!event.label.is_empty());
        }
    }
}

/// What is said of dial, poles, load and switch is used, or what became of it is said.
#[test]
fn words_of_the_machine_are_used_or_noted() {
    let text = r#"
format = 1
kind = "case"
title = "Two heats"
[protector]
rating = "14 A"
setting = "11 A"
poles = 3
pole = "L2"
[machine]
load = "heater"
position = "high"
[[reading]]
current = "14.2 A"
position = "low"
[[reading]]
current = "10.8 A"
position = "High"
[supply]
at_rest = "229 V"
running = "196 V"
"#;
    let case = read_text("two heats", text).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(case.nameplate.rated_current_a, 11.0);
    assert_eq!(
        (case.has_start, case.waveform),
        (Some(false), Waveform::Sine)
    );
    assert_eq!(case.readings.len(), 1);
    assert!(
        case.readings[0].label.contains("switch at High"),
        "{:?}",
        case.readings
    );
    let over = case.supply_over_nominal().expect("from rest to running");
    assert!((over - 196.0 / 229.0).abs() < 1e-12);
    let noted: Vec<String> = case.all_assumed().map(assumed_words).collect();
    for note in [
        "the dial's setting, 11 A",
        "pole L2 of 3",
        "left out, because it trips with the switch at high",
    ] {
        assert!(noted.iter().any(|n| n.contains(note)), "{note}: {noted:?}");
    }
    // A part that compares its poles takes one without current for a lost phase.
    let asked = |phases: &str| {
        let text = text
            .replace("poles = 3", "poles = 3\nnotices_lost_phase = true")
            .replace(
                "load = \"heater\"",
                &format!("load = \"heater\"\nphases = {phases}"),
            );
        let case = read_text("phases", &text).unwrap_or_else(|e| panic!("{e}"));
        let noted: Vec<String> = case.all_assumed().map(assumed_words).collect();
        let looped = "looped through all poles in series?";
        noted.iter().any(|n| n.contains(looped))
    };
    assert!(asked("1") && !asked("3"));
    // What is said of the load in so many words comes before what is usual for its kind.
    let surge = text.replace(
        "load = \"heater\"",
        "load = \"heater\"\nstarts_with_a_surge = true",
    );
    assert_eq!(
        read_text("surge", &surge)
            .unwrap_or_else(|e| panic!("{e}"))
            .has_start,
        Some(true)
    );
}

#[test]
fn the_pug_mill_is_read_as_it_is_written() {
    let case = shipped("01-pug-mill");
    assert_eq!(case.nameplate.rated_current_a, 13.0);
    assert_eq!(
        case.nameplate.limits.as_deref(),
        Some("equipment breaker window")
    );
    // The limits bring their own reference air.
    assert!((case.nameplate.reference_ambient_k - 298.15).abs() < 1e-9);
    assert_eq!(case.waveform, Waveform::Distorted);
    assert_eq!(case.has_start, Some(false));
    assert_eq!(case.marking_agrees, Some(true));
    assert_eq!((case.age_years, case.trips_so_far), (Some(6.0), Some(30)));
    let reading = &case.readings[0];
    assert_eq!(reading.meter, Meter::AverageResponding);
    assert_eq!(reading.taken, Taken::UpToTheTrip);
    // 2 % of 11.3 A and five digits of 0.1 A, evenly spread, and 1 % for the jaw.
    let sheet = (0.02 * 11.3 + 0.5) / 3f64.sqrt();
    assert!((reading.current_a.standard_uncertainty - sheet.hypot(0.113)).abs() < 1e-12);
    assert!(reading.label.ends_with("(line 21)"), "{}", reading.label);
    assert_eq!(case.air[0].place, AirPlace::InTheRoom);
    assert_eq!(case.events[0].before, Before::Cold);
    assert_eq!(case.events[1].before, Before::Hot { current_a: 3.9 });
    let Outcome::Tripped { after_s } = case.events[0].outcome else {
        panic!("{:?}", case.events[0]);
    };
    // 0.1 min as the last digit: 3 s to either side.
    assert!((after_s.value - 474.0).abs() < 1e-9);
    assert!((after_s.standard_uncertainty - 0.25f64.hypot(3.0 / 3f64.sqrt())).abs() < 1e-12);
}

#[test]
fn the_worn_part_keeps_its_label_and_its_bench_trips_apart() {
    let case = shipped("06-foyer-heater");
    let on_bench = |e: &&Event| matches!(e.setting, Setting::Bench { .. });
    let bench: Vec<&Event> = case.events.iter().filter(on_bench).collect();
    assert_eq!(bench.len(), 4);
    assert_eq!(bench[0].unit, Unit::AsNew);
    assert!(bench[1..].iter().all(|e| e.unit == Unit::ThisPart));
    let Setting::Bench { current_a } = &bench[1].setting else {
        unreachable!()
    };
    assert!((current_a.standard_uncertainty - 0.8).abs() < 1e-12);
    assert!(matches!(case.events[3].outcome, Outcome::Held { for_s } if for_s == 10_800.0));
    assert_eq!(case.drops[0].sister_v.map(|v| v.value), Some(0.040));
}

#[test]
fn the_least_case_has_a_trip_at_a_time_that_is_not_known() {
    let case = shipped("08-kiln-fan");
    assert_eq!(bounds(&case.events[0]), (0.0, f64::INFINITY));
    assert_eq!(case.waveform, Waveform::Unknown);
    assert_eq!(case.readings[0].meter, Meter::Unknown);
    // Whatever was not said is listed.
    assert!(
        case.assumed
            .iter()
            .any(|a| assumed_words(a).contains("2 % + 5 digits")),
        "{:?}",
        case.assumed
    );
    assert!(
        case.nameplate
            .assumed
            .iter()
            .any(|a| assumed_words(a).contains("reference air"))
    );
}

#[test]
fn a_true_rms_log_through_a_trip_gives_the_current_and_the_event() {
    let case = shipped("09-pug-mill-recorded");
    let log = &case.logs[0];
    assert_eq!(
        (log.trips.len(), log.runs.len(), log.account.gaps.count),
        (1, 1, 0)
    );
    assert!(!log.too_slow() && log.account.interval_s == 1.0);
    let reading = case.readings.last().expect("a reading");
    // In truth 3.9 A for 25 s and 16.7 A for 473 s; the meter is within its own uncertainty of it.
    let truth_a = ((25.0 * 3.9f64.powi(2) + 473.0 * 16.7f64.powi(2)) / 498.0).sqrt();
    let off = (reading.current_a.value - truth_a).abs();
    assert!(
        off < 2.0 * reading.current_a.standard_uncertainty,
        "{reading:?}"
    );
    assert_eq!(reading.meter, Meter::TrueRms);
    let event = case.events.last().expect("an event");
    assert_eq!(event.before, Before::Cold);
    let Setting::Recorded(programme) = &event.setting else {
        panic!("{event:?}")
    };
    assert!(programme.segments.len() <= 200);
    // 90 s of rest before it and 498 s to the trip.
    let (from_s, to_s) = bounds(event);
    assert!(
        from_s < 588.5 && to_s > 587.5 && to_s - from_s < 3.0,
        "{from_s} {to_s}"
    );
    // The programme carries the heat of the log.
    let heat: f64 = programme.rms_a().powi(2) * programme.pass_s();
    let of_trip = log.trips[0].rms_a.powi(2) * (log.trips[0].not_before_s - log.trips[0].from_s);
    assert!((heat / of_trip - 1.0).abs() < 0.01, "{heat} {of_trip}");
}

#[test]
fn averages_of_a_minute_give_bounds_and_no_event() {
    let case = shipped("04-fog-machine");
    let log = &case.logs[0];
    assert!(log.too_slow() && log.account.interval_s == 60.0);
    let recorded = |e: &&Event| matches!(&e.setting, Setting::Recorded(p) if p.segments.len() > 2);
    assert_eq!(
        case.events.iter().filter(recorded).count(),
        0,
        "no event from the log"
    );
    // The trip that it shows is told beside it already.
    assert_eq!(case.events.len(), 2, "{:?}", case.events);
    let trip = &log.trips[0];
    // What really flowed: 13.8 A for 40 s of 65 s, an RMS current of 10.83 A.
    let truth_a = (13.8f64.powi(2) * 40.0 / 65.0 + 0.2f64.powi(2) * 25.0 / 65.0).sqrt();
    assert!(
        trip.window_mean_a < 9.0,
        "the average looks harmless: {trip:?}"
    );
    assert!(
        trip.window_rms_a < truth_a && truth_a < 1.02 * trip.window_rms_high_a,
        "{trip:?}"
    );
    let reading = &case.readings[0];
    assert!(
        (reading.current_a.value - truth_a).abs() < 2.0 * reading.current_a.standard_uncertainty
    );
    assert!(
        log.notes.contains(&LogNote::HiddenHeat { bounded: true }),
        "{:?}",
        log.notes
    );
}

#[test]
fn a_pump_log_keeps_its_starts_and_the_air_in_the_box() {
    let case = shipped("05-irrigation-pump");
    let log = &case.logs[0];
    assert!(log.runs_in_all >= 5 && log.trips.len() == 1, "{log:#?}");
    assert!(log.trips[0].peak_a > 40.0);
    assert!((log.trips[0].air_k.expect("air") - 328.15).abs() < 4.0);
    let event = case.events.last().expect("an event");
    assert!(matches!(&event.setting, Setting::Recorded(p) if p.largest_a() > 35.0));
    assert!(event.air_k.is_some());
    assert!(
        case.supply
            .as_ref()
            .is_some_and(|s| s.running_v.is_some_and(|v| v.value == 196.0))
    );
}

#[test]
fn trips_and_holds_stand_in_the_order_of_the_file() {
    let text = "format = 1\nkind = \"case\"\ntitle = \"order\"\n[protector]\nrating = \"10 A\"\n\
                [[trip]]\nafter = \"1 min\"\n[[held]]\nfor = \"2 min\"\n[[trip]]\nafter = \"3 min\"\n\
                [[trip]]\nafter = \"20 s\"\nfrom = \"12 s after the trip\"\n";
    let case = read_text("order", text).unwrap_or_else(|e| panic!("{e}"));
    let times: Vec<f64> = case
        .events
        .iter()
        .map(|e| match e.outcome {
            Outcome::Tripped { after_s } => after_s.value,
            Outcome::Held { for_s } => for_s,
            Outcome::TrippedWithin { from_s, .. } => from_s,
        })
        .collect();
    assert_eq!(times, [60.0, 120.0, 180.0, 20.0]);
    assert_eq!(case.events[3].before, Before::AfterTrip { wait_s: 12.0 });
}

/// `up to the trip` says that it tripped, also where no trip is listed.
#[test]
fn a_reading_up_to_the_trip_implies_one() {
    let text = "format = 1\nkind = \"case\"\ntitle = \"implied\"\n[protector]\nrating = \"10 A\"\n\
                [[reading]]\ncurrent = \"9.0 A\"\ntaken = \"up to the trip\"\n";
    let case = read_text("implied", text).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(case.events.len(), 1);
    assert_eq!(bounds(&case.events[0]), (0.0, f64::INFINITY));
    assert!(
        case.assumed
            .iter()
            .any(|a| assumed_words(a).contains("not known")),
        "{:?}",
        case.assumed
    );
    let running = read_text("running", &text.replace("up to the trip", "while running"));
    assert!(running.is_ok_and(|c| c.events.is_empty()));
}

#[test]
fn a_swap_is_an_event_of_the_twin() {
    let text = |fault: &str| {
        format!(
            "format = 1\nkind = \"case\"\ntitle = \"swap\"\n[protector]\nrating = \"10 A\"\n[swap]\n{fault}\n"
        )
    };
    let follows = read_text(
        "swap",
        &text("fault = \"follows the protector\"\nwatched = \"2 h\""),
    )
    .expect("a case");
    assert_eq!(follows.events[0].unit, Unit::Twin);
    assert_eq!(follows.events[0].outcome, Outcome::Held { for_s: 7200.0 });
    let stays = read_text("swap", &text("fault = \"stays at the place\"")).expect("a case");
    assert_eq!(bounds(&stays.events[0]), (0.0, 3600.0));
}

#[test]
fn the_starter_reads() {
    let case = read_text("starter", starter()).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(case.events.len(), 1);
    // With every example made real it still reads, but for the log that is not there.
    let all: String = starter()
        .lines()
        .map(|line| match line.strip_prefix("# ") {
            Some(rest) if rest.contains(" = ") || rest.starts_with('[') => {
                let key = rest.split([' ', '=', '[']).next().unwrap_or("");
                let example = rest.starts_with('[')
                    || (!key.is_empty()
                        && key.bytes().all(|b| b.is_ascii_lowercase() || b == b'_'));
                if example {
                    format!("{rest}\n")
                } else {
                    format!("{line}\n")
                }
            }
            _ => format!("{line}\n"),
        })
        .collect();
    let message = read_text("all", &all)
        .expect_err("the log is not there")
        .to_string();
    for line in message.lines().filter(|l| l.starts_with("error")) {
        let known = [
            "a log can be read only beside a case file",
            // Examples that exclude each other.
            "if the twin trips here, the fault stays at the place",
            "give `duty` or `start`, not both",
        ];
        assert!(known.iter().any(|k| line.contains(k)), "{message}");
    }
}

#[test]
fn the_program_prints_the_starter_and_writes_it_once() {
    let folder = tempfile::tempdir().expect("folder");
    let relatch = |arguments: &[&str]| {
        std::process::Command::new(env!("CARGO_BIN_EXE_relatch"))
            .args(arguments)
            .current_dir(folder.path())
            .output()
            .expect("run")
    };
    let printed = relatch(&["new", "case"]);
    assert!(printed.status.success());
    assert_eq!(String::from_utf8(printed.stdout).expect("text"), starter());
    assert!(
        relatch(&["new", "case", "--out", "mine.toml"])
            .status
            .success()
    );
    assert!(read(&folder.path().join("mine.toml")).is_ok());
    let again = relatch(&["new", "case", "--out", "mine.toml"]);
    assert_eq!(again.status.code(), Some(2));
    // A case is no scenario.
    let run = relatch(&["run", "mine.toml"]);
    assert_eq!(run.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&run.stderr).contains("this is no scenario"));
}

#[test]
fn every_wrong_case_gets_its_reviewed_message() {
    every_file_gets_its_message(WRONG, 60, &["NaN", "report this file"], read);
}

/// A log may lie in a folder below the case and nowhere else, whatever way leads out.
#[test]
fn no_path_leads_out_of_the_folder_of_the_case() {
    let folder = tempfile::tempdir().expect("folder");
    let inner = folder.path().join("case");
    std::fs::create_dir_all(inner.join("logs")).expect("folder");
    let log = "time (s),current RMS (A)\n0,0\n1,9.1\n2,9.0\n3,9.1\n4,9.0\n5,0\n6,0\n";
    std::fs::write(folder.path().join("secret.csv"), log).expect("write");
    std::fs::write(inner.join("logs/good.csv"), log).expect("write");
    let case = |file: &str| {
        let text = format!(
            "format = 1\nkind = \"case\"\ntitle = \"paths\"\n[protector]\nrating = \"10 A\"\n[[log]]\nfile = '{file}'\n"
        );
        let path = inner.join("case.toml");
        std::fs::write(&path, text).expect("write");
        read(&path)
    };
    assert!(case("logs/good.csv").is_ok_and(|c| c.logs.len() == 1));
    assert!(case("./logs/good.csv").is_ok());
    let absolute = folder.path().join("secret.csv").display().to_string();
    #[cfg(unix)]
    std::os::unix::fs::symlink(folder.path().join("secret.csv"), inner.join("link.csv"))
        .expect("link");
    for way_out in [
        "../secret.csv",
        "logs/../../secret.csv",
        "..\\secret.csv",
        absolute.as_str(),
        "link.csv",
        "C:\\secret.csv",
        "",
        ".",
        "logs",
    ] {
        let refused = case(way_out).expect_err(way_out).to_string();
        assert!(!refused.contains("9.1"), "{refused}");
    }
}

/// A gap before the trip: the moment is uncertain by the gap, and both fillings are stated.
#[test]
fn a_gap_at_the_trip_is_said() {
    let mut text = String::from("time (s),current RMS (A)\n");
    for s in 0..900 {
        if (500..560).contains(&s) {
            continue;
        }
        let amperes = if (60..530).contains(&s) { 15.0 } else { 0.0 };
        text += &format!("{s},{amperes}\n");
    }
    let open = || LogReader::new("gap", text.as_bytes(), Default::default());
    let found = from_log("gap", &LogQuestions::default(), open).unwrap_or_else(|e| panic!("{e}"));
    let Outcome::TrippedWithin { from_s, to_s } = found.events[0].outcome else {
        panic!("{:?}", found.events)
    };
    assert!(
        (from_s - 500.0).abs() <= 1.0 && (to_s - 560.0).abs() <= 1.0,
        "{from_s} {to_s}"
    );
    assert_eq!(found.findings.account.gaps.count, 1);
}

/// A load that came and went within one row of a log, or within two that show unlike parts of it, was
/// stronger than they show: it is a start that the trip ended, not a current that was carried.
#[test]
fn a_load_within_one_row_was_stronger_than_the_row_shows() {
    let is_a_start = |event: &Event, within_s: f64| {
        let Outcome::TrippedWithin { from_s, to_s } = event.outcome else {
            panic!("{event:?}")
        };
        assert!(from_s == 0.0 && (to_s - within_s).abs() < 1e-9, "{event:?}");
        event.setting == Setting::InService { with_start: true }
    };
    let field = |name: &str| read(Path::new(&format!("tests/field/{name}.toml"))).unwrap();
    let of_log = |case: &Case| {
        let readings = case.readings.iter();
        let shown = readings.filter(|r| r.label.contains("log-"));
        shown.map(|r| r.current_a).collect::<Vec<_>>()
    };
    // A row of one second that a start trips: nothing is told of the running current.
    let start = field("08-start");
    assert_eq!((start.readings.len(), of_log(&start).len()), (2, 0));
    assert!(is_a_start(&start.events[0], 1.0));
    // 9.7 A on average over the minute in which it tripped, 14.2 A at most: anything between.
    let worn = of_log(&field("38-worn"))[0];
    let most_a = worn.value + 3f64.sqrt() * worn.standard_uncertainty;
    assert!(worn.value > 11.5 && most_a > 14.1, "{worn:?}");
    let two_rows = |first: &str, second: &str| {
        let rest = "\n0,0\n10,0\n".to_owned();
        let zeros: String = (4..20).map(|k| format!("{}0,0\n", k)).collect();
        let text = format!("time (s),current RMS (A){rest}20,{first}\n30,{second}\n{zeros}");
        let open = || LogReader::new("two", text.as_bytes(), Default::default());
        from_log("two", &LogQuestions::default(), open).unwrap_or_else(|e| panic!("{e}"))
    };
    let unlike = two_rows("31", "17");
    assert!(is_a_start(&unlike.events[0], 20.0) && unlike.readings.is_empty());
    assert!(matches!(
        unlike.findings.notes[..],
        [LogNote::TooShort { .. }]
    ));
    let alike = two_rows("24", "23.9");
    assert!(matches!(alike.events[0].setting, Setting::Recorded(_)));
    assert_eq!(alike.readings.len(), 1);
}

/// Notes by the clock find their falls, and say how far off they are.
#[test]
fn notes_by_the_clock_find_their_falls() {
    let mut text = String::from("time;current RMS (A)\n");
    for s in 0..7200u32 {
        let amperes = if s % 900 < 600 { 15.0 } else { 0.0 };
        let clock = 13 * 3600 + 1800 + s;
        text += &format!(
            "2025-03-18 {:02}:{:02}:{:02};{amperes}\n",
            clock / 3600,
            clock / 60 % 60,
            clock % 60
        );
    }
    let ask = |note: Noted, within_s: f64| {
        let questions = LogQuestions {
            trips: TripsAre::At(vec![note]),
            within_s,
            ..LogQuestions::default()
        };
        from_log("clock", &questions, || {
            LogReader::new("clock", text.as_bytes(), Default::default())
        })
    };
    // Falls at 13:40, 13:55, 14:10 and so on; the note says 14:12.
    let noted = Noted::OfTheDay(14.2 * 3600.0);
    let found = ask(noted, 180.0).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(found.findings.trips.len(), 1);
    assert!((found.findings.trips[0].not_before_s - 2400.0).abs() < 2.0);
    let [
        LogNote::FarNote {
            noted: said,
            late_s,
            ..
        },
    ] = found.findings.notes[..]
    else {
        panic!("{:?}", found.findings.notes)
    };
    assert!(said == noted && (late_s + 120.0).abs() < 2.0, "{late_s}");
    let refused = ask(noted, 60.0).expect_err("two minutes off").to_string();
    assert!(
        refused.contains("14:12:00") && refused.contains("2 min"),
        "{refused}"
    );
    assert!(ask(Noted::Since(2400.0), 60.0).is_ok());
}

/// Two trips: the second begins when it is closed again, so long after the first.
#[test]
fn a_second_trip_follows_the_first() {
    let mut text = String::from("time (s),current RMS (A)\n");
    for s in 0..900 {
        let on = (60..400).contains(&s) || (460..600).contains(&s);
        text += &format!("{s},{}\n", if on { 15.0 } else { 0.0 });
    }
    let questions = LogQuestions {
        trips: TripsAre::EveryFall,
        before: Some(Before::Cold),
        ..LogQuestions::default()
    };
    let open = || LogReader::new("twice", text.as_bytes(), Default::default());
    let found = from_log("twice", &questions, open).unwrap_or_else(|e| panic!("{e}"));
    assert_eq!(found.events.len(), 2);
    assert_eq!(found.events[0].before, Before::Cold);
    let Before::AfterTrip { wait_s } = found.events[1].before else {
        panic!("{:?}", found.events[1])
    };
    assert!((wait_s - 60.0).abs() < 1.5, "{wait_s}");
    let (from_s, to_s) = bounds(&found.events[1]);
    assert!(from_s < 140.5 && to_s > 139.0, "{from_s} {to_s}");
}

const RIGHT: &str = include_str!("../../scenarios/cases/06-foyer-heater.toml");

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is done to a right file, it is read or refused with a message: never a panic.
    #[test]
    fn damaged_cases_never_panic(at in 0usize..4000, length in 0usize..60, put in "[ -~\\n]{0,8}") {
        let at = at % RIGHT.len();
        let end = (at + length).min(RIGHT.len());
        let damaged = format!("{}{put}{}", &RIGHT[..at], &RIGHT[end..]);
        if let Err(e) = read_text("damaged.toml", &damaged) {
            let message = e.to_string();
            prop_assert!(!message.is_empty() && !message.contains("report this file"), "{message}\n{damaged}");
        }
    }

    /// The same with the starter, where every table stands.
    #[test]
    fn damaged_starters_never_panic(at in 0usize..6000, length in 0usize..60, put in "[ -~\\n]{0,8}") {
        let text = starter().replace("# ", "");
        let at = (0..=at % text.len()).rev().find(|i| text.is_char_boundary(*i)).unwrap_or(0);
        let end = (at + length).min(text.len());
        let end = (end..=text.len()).find(|i| text.is_char_boundary(*i)).unwrap_or(text.len());
        let damaged = format!("{}{put}{}", &text[..at], &text[end..]);
        if let Err(e) = read_text("damaged.toml", &damaged) {
            prop_assert!(!e.to_string().contains("report this file"), "{e}\n{damaged}");
        }
    }

    /// Any text where a time belongs.
    #[test]
    fn any_time_is_read_or_refused(text in "\\PC{0,24}") {
        if let Ok(time) = read_time(&text) {
            prop_assert!(time.value >= 0.0 && time.value.is_finite() && time.standard_uncertainty >= 0.0, "{text}");
        }
    }

    /// A time that is written is the time that is read.
    #[test]
    fn a_time_that_is_written_is_read(minutes in 0u32..600, seconds in 0u32..60) {
        let expected = f64::from(60 * minutes + seconds);
        for text in [
            format!("{minutes}:{seconds:02}"),
            format!("{minutes}m{seconds:02}"),
            format!("{minutes} min {seconds} s"),
            format!("about {} s", 60 * minutes + seconds),
        ] {
            prop_assert_eq!(read_time(&text).map(|t| t.value), Ok(expected), "{}", text);
        }
    }

    /// Any bytes as a log.
    #[test]
    fn any_log_is_read_or_refused(rows in prop::collection::vec("[0-9;,.: \\-eA]{0,20}", 0..40)) {
        let text = format!("time (s),current (A)\n{}\n", rows.join("\n"));
        let questions = LogQuestions { trips: TripsAre::EveryFall, ..LogQuestions::default() };
        let open = || LogReader::new("any", text.as_bytes(), Default::default());
        if let Ok(found) = from_log("any", &questions, open) {
            for r in &found.readings {
                prop_assert!(r.current_a.value.is_finite() && r.current_a.standard_uncertainty.is_finite(), "{r:?}");
            }
            for e in &found.events {
                let (from_s, to_s) = bounds(e);
                prop_assert!(from_s >= 0.0 && !to_s.is_nan(), "{e:?}");
            }
        }
    }
}
