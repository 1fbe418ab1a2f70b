//! What matters in single files, said apart from the reviewed texts.

use super::read;
use relatch::internals::logs::{
    Condenser, Condensing, CurrentKind, DateOrder, Finder, Finding, GapFill, HourJumps, Levels,
    LogError, LogReader, Options, Pick, Row, SegmentKind, StampAt, each_span,
};

fn rows(name: &str) -> Vec<Row> {
    read(name, Options::default())
        .unwrap_or_else(|e| panic!("{e}"))
        .0
}

fn near(a: f64, b: f64) -> bool {
    (a - b).abs() < 1e-9 * b.abs().max(1.0)
}

#[test]
fn every_encoding_gives_the_same_rows() {
    let little = rows("utf16_le_tabs.csv");
    assert_eq!(little, rows("utf16_be_tabs.csv"));
    let text = std::fs::read("tests/logs/utf16_le_tabs.csv").expect("file");
    let units: Vec<u16> = text[2..]
        .chunks(2)
        .map(|b| u16::from_le_bytes([b[0], b[1]]))
        .collect();
    let text = String::from_utf16(&units).expect("UTF-16");
    let mut log = LogReader::new("utf8", text.as_bytes(), Options::default()).expect("layout");
    for row in &little {
        assert_eq!(log.next_row().expect("row").as_ref(), Some(row));
    }
    // 80 degF at the first row.
    assert!(
        little[0]
            .ambient_k
            .is_some_and(|k| near(k, 273.15 + 48.0 / 1.8))
    );
}

#[test]
fn time_never_falls_in_any_log() {
    for entry in std::fs::read_dir("tests/logs").expect("folder") {
        let name = entry
            .expect("entry")
            .file_name()
            .into_string()
            .expect("name");
        if !name.ends_with(".csv") {
            continue;
        }
        if let Ok((rows, _)) = read(&name, Options::default()) {
            assert!(rows.windows(2).all(|w| w[1].time_s > w[0].time_s), "{name}");
        }
    }
}

#[test]
fn units_and_columns_may_change_in_the_middle() {
    let rows = rows("header_again_other_units.csv");
    assert!(rows.iter().all(|r| (8.9..9.8).contains(&r.current_a.value)));
    assert!(
        rows.iter()
            .all(|r| r.ambient_k.is_some_and(|k| (297.0..298.0).contains(&k)))
    );
    let rows = super::files::rows("units_line_changes.csv");
    assert!(
        rows.iter()
            .all(|r| (9.39..9.42).contains(&r.current_a.value))
    );
    assert!(
        rows.iter()
            .all(|r| r.ambient_k.is_some_and(|k| (297.0..297.5).contains(&k)))
    );
    let rows = super::files::rows("unit_column.csv");
    assert!(near(rows[0].current_a.value, 0.940) && near(rows[7].current_a.value, 10.1));
}

#[test]
fn the_clock_change_is_mended_or_kept() {
    for name in ["clock_change_spring.csv", "clock_change_autumn.csv"] {
        let rows = rows(name);
        assert!(
            rows.iter()
                .enumerate()
                .all(|(k, r)| near(r.time_s, 10.0 * k as f64)),
            "{name}"
        );
    }
    let kept = Options {
        hour_jumps: HourJumps::Keep,
        ..Options::default()
    };
    let (rows, summary) = read("clock_change_spring.csv", kept).expect("rows");
    assert!(
        near(rows[29].time_s, 3890.0) && summary.contains("1 gap"),
        "{summary}"
    );
}

/// A steady current must not make the repeated hour, or a logger that starts again, look like rows
/// met twice.
#[test]
fn a_steady_current_does_not_hide_a_jump() {
    let mut hour = String::from("time;current (A)\n");
    for k in 0..720 {
        // From 02:00 to 03:00, and once more.
        let s = 10 * (k % 360);
        hour += &format!("2024-10-27 02:{:02}:{:02};0.20\n", s / 60, s % 60);
    }
    let mut again = String::from("elapsed (s);current (A)\n");
    for k in (0..300).chain(0..300) {
        again += &format!("{k};0.20\n");
    }
    for (text, interval) in [(hour, 10.0), (again, 1.0)] {
        let mut log =
            LogReader::new("steady", text.as_bytes(), Options::default()).expect("layout");
        let mut last = 0.0;
        while let Some(row) = log.next_row().expect("row") {
            last = row.time_s;
        }
        let a = log.account();
        assert_eq!(
            (a.clock_jumps.count, a.duplicates.count, a.gaps.count),
            (1, 0, 0)
        );
        assert!(near(last, interval * (a.rows_read - 1) as f64), "{last}");
    }
}

/// A counter of hours, minutes and seconds that begins anew every day.
#[test]
fn days_are_counted_through_midnight() {
    let mut text = String::from("clock;current (A)\n");
    for k in 0..(3 * 96) {
        let min = 15 * k % 1440;
        text += &format!("{:02}:{:02}:00;9.{}\n", min / 60, min % 60, k % 7);
    }
    let mut log = LogReader::new("days", text.as_bytes(), Options::default()).expect("layout");
    let mut last = 0.0;
    while let Some(row) = log.next_row().expect("row") {
        last = row.time_s;
    }
    assert!(
        near(last, 900.0 * (3.0 * 96.0 - 1.0)) && log.account().midnights == 2,
        "{last}"
    );
}

#[test]
fn questions_are_asked_and_answers_are_taken() {
    let ask = |name: &str| match read(name, Options::default()) {
        Err(LogError::Layout(report)) => report.to_string(),
        other => panic!("{name}: {other:?}"),
    };
    assert!(ask("dates_ambiguous.csv").contains("2024-04-03 or the 2024-03-04"));
    for (order, day) in [
        (DateOrder::DayFirst, 19_816.0),
        (DateOrder::MonthFirst, 19_786.0),
    ] {
        let file = std::fs::File::open("tests/logs/dates_ambiguous.csv").expect("file");
        let options = Options {
            date_order: Some(order),
            ..Options::default()
        };
        let mut log =
            LogReader::new("dates", std::io::BufReader::new(file), options).expect("layout");
        log.next_row().expect("row");
        assert_eq!(
            log.account().starts_at_unix_s,
            Some(86_400.0 * day + 32_400.0)
        );
    }

    assert!(ask("six_channels.csv").contains("which column"));
    let third = Options {
        current_column: Some(Pick::Name("ch3 (a)".into())),
        ..Options::default()
    };
    let (found, summary) = read("six_channels.csv", third).expect("rows");
    assert!(
        near(found[0].current_a.value, 9.0) && summary.contains("negative current"),
        "{summary}"
    );
    let none = Options {
        current_column: Some(Pick::Name("Ch9 (A)".into())),
        ..Options::default()
    };
    let message = read("six_channels.csv", none)
        .expect_err("no such column")
        .to_string();
    assert!(
        message.contains("no column is called") && message.contains("did you mean"),
        "{message}"
    );

    assert!(ask("shunt_volts.csv").contains("amperes"));
    let shunt = Options {
        current_column: Some(Pick::Number(2)),
        amperes_per_unit: Some(10.0),
        interval_s: Some(1.0 / 2000.0),
        offset_a: 0.12,
        ..Options::default()
    };
    let (found, _) = read("shunt_volts.csv", shunt).expect("rows");
    assert_eq!(found.len(), 2);
    // 1.3 V of amplitude at 100 mV/A, in tenths of a millivolt.
    let rms = 13.0 / 2f64.sqrt();
    assert!(
        found
            .iter()
            .all(|r| (r.current_a.value / rms - 1.0).abs() < 1e-5),
        "{found:?}"
    );
}

/// A column in percent of a meter's range, with the sign in every cell.
#[test]
fn a_sign_of_percent_is_no_unit_where_the_amperes_of_one_are_told() {
    let text = "time (s),Load %\n0,0%\n1,61 %\n2,60.5%\n3,62%\n";
    let options = Options {
        current_column: Some(Pick::Name("Load %".into())),
        amperes_per_unit: Some(0.2),
        ..Options::default()
    };
    let mut log = LogReader::new("load", text.as_bytes(), options).expect("layout");
    let mut shown = Vec::new();
    while let Some(row) = log.next_row().expect("a row") {
        shown.push(row.current_a.value);
    }
    assert_eq!(shown.len(), 4, "{shown:?}");
    for (a, expected) in shown.iter().zip([0.0, 12.2, 12.1, 12.4]) {
        assert!((a - expected).abs() < 1e-9, "{shown:?}");
    }
}

/// Twelve hours and a month first go together, which is said and not assumed.
#[test]
fn a_question_about_dates_names_its_answers_and_what_clocks_say() {
    let asked = |clock: &str| {
        let text = format!(
            "time,current (A)\n03/04/2024 09:00:00{clock},9.0\n03/04/2024 09:00:01{clock},9.1\n"
        );
        match LogReader::new("dates", text.as_bytes(), Options::default()) {
            Err(LogError::Layout(report)) => report.to_string(),
            other => panic!("{}", other.is_ok()),
        }
    };
    let twelve = asked(" AM");
    assert!(twelve.contains("`dates = \"month first\"`"), "{twelve}");
    assert!(twelve.contains("clocks of twelve hours"), "{twelve}");
    assert!(!asked("").contains("clocks of twelve hours"));
}

#[test]
fn samples_give_true_rms() {
    let (found, _) = read("samples_2khz.csv", Options::default()).expect("rows");
    // An offset of 0.12 A beside 13 A adds in squares.
    let rms = 13.0f64.hypot(0.12);
    assert!(
        found
            .iter()
            .all(|r| (r.current_a.value / rms - 1.0).abs() < 1e-5),
        "{found:?}"
    );
    let raw = Options {
        kind: Some(CurrentKind::MeterRms),
        ..Options::default()
    };
    assert_eq!(read("samples_2khz.csv", raw).expect("rows").0.len(), 2000);
}

#[test]
fn average_least_and_largest_are_all_kept() {
    let rows = rows("german_minutes_bom_crlf.csv");
    assert!(
        rows.iter()
            .all(|r| r.current_a.min == Some(0.2) && r.current_a.max == Some(13.8))
    );
    assert!(rows[1].ambient_k.is_some_and(|k| near(k, 300.65)));
}

#[test]
fn segments_of_a_file() {
    let open = || {
        let file = std::fs::File::open("tests/logs/clean_iso_offset.csv").expect("file");
        LogReader::new("clean", std::io::BufReader::new(file), Options::default())
    };
    // Thresholds from a first reading, segments from a second.
    let mut levels = Levels::default();
    let mut log = open().expect("a log");
    each_span(&mut log, StampAt::Start, |span| levels.add(span)).expect("rows");
    let mut finder = Finder::new(Finding::new(levels.thresholds().expect("currents")));
    let mut found = Vec::new();
    let mut log = open().expect("a log");
    each_span(&mut log, StampAt::Start, |span| {
        finder.push(span, &mut |s| found.push(*s))
    })
    .expect("rows");
    finder.finish(&mut |s| found.push(*s));
    use SegmentKind::{Idle, Run, Start, Trip};
    let kinds: Vec<_> = found.iter().map(|s| (s.kind, s.from_s, s.to_s)).collect();
    assert_eq!(
        kinds,
        [
            (Idle, 0.0, 8.0),
            (Start, 8.0, 9.0),
            (Run, 9.0, 49.0),
            (Trip, 49.0, 50.0),
            (Idle, 50.0, 60.0)
        ]
    );
    assert!(near(found[1].totals.peak_a, 50.6));
}

#[test]
fn a_gap_lies_between_nothing_and_the_largest_current() {
    let heat = |gaps| {
        let file = std::fs::File::open("tests/logs/gap_and_block_twice.csv").expect("file");
        let mut log = LogReader::new("gap", std::io::BufReader::new(file), Options::default())
            .expect("layout");
        let mut condenser = Condenser::new(Condensing {
            gaps,
            ..Condensing::new(0.01, 10.0, 25.0)
        });
        each_span(&mut log, StampAt::Start, |s| condenser.push(s)).expect("rows");
        let programme = condenser.finish();
        assert!(near(programme.filled_s, 60.0));
        programme.i2t_a2s
    };
    assert!(near(
        heat(GapFill::Largest) - heat(GapFill::Zero),
        60.0 * 9.6 * 9.6
    ));
}

/// What the meter could not show lies in a gap: the row before it does not stand for it.
#[test]
fn over_range_is_unknown_not_what_it_was_before() {
    let file = std::fs::File::open("tests/logs/value_and_unit.csv").expect("file");
    let mut log =
        LogReader::new("meter", std::io::BufReader::new(file), Options::default()).expect("layout");
    let mut unknown = Vec::new();
    each_span(&mut log, StampAt::Start, |s| {
        if s.current.is_none() {
            unknown.push((s.from_s, s.to_s));
        }
    })
    .expect("rows");
    assert_eq!(unknown, [(20.0, 30.0)]);
}

#[test]
fn a_log_that_grows_is_followed() {
    use std::io::Write;
    let folder = tempfile::tempdir().expect("folder");
    let path = folder.path().join("growing.csv");
    let mut file = std::fs::File::create(&path).expect("file");
    write!(file, "time (s),current (A)\n0,9.1\n1,9.2\n2,9").expect("write");
    let reader = std::io::BufReader::new(std::fs::File::open(&path).expect("file"));
    let mut log = LogReader::new(
        "growing",
        reader,
        Options {
            growing: true,
            ..Options::default()
        },
    )
    .expect("layout");
    let mut values = Vec::new();
    let mut drain = |log: &mut LogReader<_>| {
        while let Some(row) = log.next_row().expect("row") {
            values.push(row.current_a.value);
        }
        values.clone()
    };
    // The last line has no end: it may be the start of 9.4.
    assert_eq!(drain(&mut log), [9.1, 9.2]);
    write!(file, ".4\n3,9.3\n").expect("write");
    assert_eq!(drain(&mut log), [9.1, 9.2, 9.4, 9.3]);
}
