//! The parts of the reader one by one.

use super::calendar::{civil, days_from_civil, stamp};
use super::clock;
use super::header::heading;
use super::number::{Cell, cell};
use super::split::{Delimiter, split};
use super::words::{Statistic, Subject};
use super::*;
use crate::quantity::Dimension;

fn value(text: &str, mark: u8) -> Option<f64> {
    match cell(text.as_bytes(), mark) {
        Cell::Value(v, []) => Some(v),
        _ => None,
    }
}

#[test]
fn numbers_with_both_marks() {
    for (text, point, comma) in [
        ("9.4", Some(9.4), Some(9.4)),
        ("9,4", Some(9.4), Some(9.4)),
        ("-0.25", Some(-0.25), Some(-0.25)),
        ("1,204.5", Some(1204.5), Some(1204.5)),
        ("1.204,5", Some(1204.5), Some(1204.5)),
        ("1,204", None, Some(1.204)),
        ("1.204", Some(1.204), None),
        ("0,204", Some(0.204), Some(0.204)),
        ("1'204.5", Some(1204.5), Some(1204.5)),
        ("1.5e-3", Some(1.5e-3), Some(1.5e-3)),
        ("\u{2212}3.5", Some(-3.5), Some(-3.5)),
        (
            "12345678901234567890",
            Some(12345678901234567890.0),
            Some(12345678901234567890.0),
        ),
        (".5", Some(0.5), Some(0.5)),
        ("5.", Some(5.0), Some(5.0)),
        ("1,2,3", None, None),
        ("1.2.3", None, None),
        ("1e999", None, None),
        ("=1+1", None, None),
    ] {
        assert_eq!(value(text, b'.'), point, "{text} with a point");
        assert_eq!(value(text, b','), comma, "{text} with a comma");
    }
    assert_eq!(cell(b"1,204", b'.'), Cell::TwoWays);
    assert_eq!(cell(b"9.4 mA", b'.'), Cell::Value(9.4, b"mA"));
    assert_eq!(cell(b"---", b'.'), Cell::Nothing);
    assert_eq!(cell(b"#N/A", b'.'), Cell::Nothing);
    assert_eq!(cell(b"OL", b'.'), Cell::OverRange);
}

#[test]
fn the_fast_way_reads_as_the_standard_library_does() {
    for k in 0..20_000u64 {
        let digits = k.wrapping_mul(0x9e37_79b9_7f4a_7c15) % 10_000_000_000_000_000;
        let text = format!(
            "{}.{:0places$}",
            digits / 1_000_000,
            digits % 1_000_000,
            places = 6
        );
        assert_eq!(value(&text, b'.'), text.parse().ok(), "{text}");
    }
}

#[test]
fn days_there_and_back() {
    assert_eq!(days_from_civil(1970, 1, 1), Some(0));
    assert_eq!(days_from_civil(2000, 3, 1), Some(11_017));
    assert_eq!(days_from_civil(2023, 2, 29), None);
    assert_eq!(days_from_civil(2024, 2, 29), Some(19_782));
    assert_eq!(days_from_civil(1900, 2, 29), None);
    for days in -200_000..200_000 {
        let (y, m, d) = civil(days);
        assert_eq!(days_from_civil(y as u32, m, d), Some(days));
    }
    assert_eq!(stamp(1_709_647_200.25), "2024-03-05 14:00:00.250");
}

#[test]
fn times_in_their_forms() {
    let seconds = |text: &str| {
        clock::stamp(text.as_bytes())
            .and_then(|s| s.clock)
            .map(|c| c.seconds)
    };
    for (text, expected) in [
        ("00:12:03.2", Some(723.2)),
        ("00:12:03,2", Some(723.2)),
        ("1.02:11:00", Some(94_260.0)),
        ("1 02:11:00", Some(94_260.0)),
        ("2:05 PM", Some(50_700.0)),
        ("12:00:00 am", Some(0.0)),
        ("12:00 p.m.", Some(43_200.0)),
        ("14:00:00:250", Some(50_400.25)),
        ("2024-03-05T14:00:00.5+01:00", Some(50_400.5)),
        ("20240305T140000Z", Some(50_400.0)),
        ("5 Mar 2024 14:00", Some(50_400.0)),
        ("Tue, 5 Mar 2024 14:00:00", Some(50_400.0)),
        ("Mar 5, 2024 2:00:00 PM", Some(50_400.0)),
        ("05. 03. 2024 14:00", Some(50_400.0)),
        ("14:61", None),
        ("13:00 PM", None),
        ("14:00:00 12", None),
        ("9.4", None),
        ("", None),
        (":", None),
    ] {
        assert_eq!(seconds(text), expected, "{text}");
    }
    let offset = |text: &str| clock::stamp(text.as_bytes()).and_then(|s| s.offset_s);
    assert_eq!(offset("2024-03-05 14:00:00 -0330"), Some(-12_600));
    assert_eq!(offset("2024-03-05 14:00:00 UTC+1"), Some(3600));
    assert_eq!(offset("2024-03-05 14:00:00 MESZ"), Some(7200));
    assert_eq!(offset("2024-03-05 14:00:00"), None);
}

#[test]
fn headers_in_other_words() {
    use Dimension::{Current, Temperature, Time};
    use Subject as S;
    for (text, subject, statistic, unit) in [
        (
            "current_A",
            S::Current,
            Statistic::Unsaid,
            Some((Current, 1.0)),
        ),
        (
            "Strom in mA",
            S::Current,
            Statistic::Unsaid,
            Some((Current, 1e-3)),
        ),
        (
            "I / kA",
            S::Current,
            Statistic::Unsaid,
            Some((Current, 1e3)),
        ),
        ("Irms [A]", S::Current, Statistic::Rms, Some((Current, 1.0))),
        (
            "I min A",
            S::Current,
            Statistic::Minimum,
            Some((Current, 1.0)),
        ),
        ("Imax", S::Current, Statistic::Maximum, None),
        ("Amps", S::Current, Statistic::Unsaid, Some((Current, 1.0))),
        (
            "I_100mA",
            S::Current,
            Statistic::Unsaid,
            Some((Current, 0.1)),
        ),
        ("Corrente", S::Current, Statistic::Unsaid, None),
        (
            "Elapsed (min)",
            S::Time,
            Statistic::Unsaid,
            Some((Time, 60.0)),
        ),
        ("t/s", S::Time, Statistic::Unsaid, Some((Time, 1.0))),
        ("t_ms", S::Time, Statistic::Unsaid, Some((Time, 1e-3))),
        ("Zeit", S::Time, Statistic::Unsaid, None),
        (
            "Tamb (\u{b0}F)",
            S::Ambient,
            Statistic::Unsaid,
            Some((Temperature, 5.0 / 9.0)),
        ),
        (
            "Air K",
            S::Ambient,
            Statistic::Unsaid,
            Some((Temperature, 1.0)),
        ),
        ("T", S::Temperature, Statistic::Unsaid, None),
        (
            "T_0.1C",
            S::Temperature,
            Statistic::Unsaid,
            Some((Temperature, 0.1)),
        ),
        ("Datum", S::Date, Statistic::Unsaid, None),
        (
            "Neutral current (A)",
            S::Current,
            Statistic::Unsaid,
            Some((Current, 1.0)),
        ),
        (
            "Voltage (V)",
            S::Other,
            Statistic::Unsaid,
            Some((Dimension::Voltage, 1.0)),
        ),
    ] {
        let h = heading(text);
        let expected = if text.starts_with("Neutral") {
            S::Other
        } else {
            subject
        };
        assert_eq!(h.subject, Some(expected), "{text}");
        assert_eq!(h.statistic, statistic, "{text}");
        let found = h.unit.map(|u| (u.dimension, u.scale));
        match (found, unit) {
            (Some((d, s)), Some((e, t))) => {
                assert!(d == e && (s / t - 1.0).abs() < 1e-12, "{text}")
            }
            (found, unit) => assert_eq!(found, unit, "{text}"),
        }
    }
}

#[test]
fn fields_with_quotes_and_blanks() {
    let fields = |line: &str, delimiter| {
        let mut ranges = Vec::new();
        let closed = split(line.as_bytes(), delimiter, &mut ranges);
        (
            ranges
                .iter()
                .map(|r| line[r.clone()].to_owned())
                .collect::<Vec<_>>(),
            closed,
        )
    };
    assert_eq!(
        fields("a, \"b,c\" ,d", Delimiter::Comma),
        (vec!["a".into(), "b,c".into(), "d".into()], true)
    );
    assert_eq!(
        fields("\"a \"\"b\"\"\";c", Delimiter::Semicolon).0,
        ["a \"\"b\"\"", "c"]
    );
    assert_eq!(
        fields("a;\"b;c", Delimiter::Semicolon),
        (vec!["a".into(), "b;c".into()], false)
    );
    assert_eq!(
        fields("  1.0 \t 2.0  ", Delimiter::Blanks).0,
        ["1.0", "2.0"]
    );
    assert_eq!(fields("1\t\t3\t", Delimiter::Tab).0, ["1", "", "3", ""]);
    assert_eq!(fields("", Delimiter::Comma).0, [""]);
}

/// Spans of one second, or of the length beside the current.
fn spans(currents: &[f64]) -> Vec<Span> {
    let span = |(k, i): (usize, &f64)| Span {
        from_s: k as f64,
        to_s: k as f64 + 1.0,
        current: Some(Current {
            value: *i,
            min: None,
            max: None,
        }),
        row: k as u64 + 1,
    };
    currents.iter().enumerate().map(span).collect()
}

fn segments(spans: &[Span]) -> Vec<Segment> {
    let mut levels = Levels::default();
    spans.iter().for_each(|s| levels.add(s));
    let mut finder = Finder::new(Finding::new(levels.thresholds().expect("load")));
    let mut found = Vec::new();
    spans
        .iter()
        .for_each(|s| finder.push(s, &mut |s| found.push(*s)));
    finder.finish(&mut |s| found.push(*s));
    found
}

#[test]
fn a_pump_starts_runs_trips_and_starts_again() {
    let mut currents = vec![0.2; 5];
    for _ in 0..2 {
        currents.extend([50.6, 48.0, 20.0, 9.6]);
        currents.extend([9.2; 80]);
        currents.extend([0.2; 30]);
    }
    let spans = spans(&currents);
    let found = segments(&spans);
    use SegmentKind::{Idle, Run, Start, Trip};
    let kinds: Vec<_> = found.iter().map(|s| (s.kind, s.from_s, s.to_s)).collect();
    assert_eq!(
        kinds,
        [
            (Idle, 0.0, 5.0),
            (Start, 5.0, 8.0),
            (Run, 8.0, 88.0),
            (Trip, 88.0, 89.0),
            (Idle, 89.0, 119.0),
            (Start, 119.0, 122.0),
            (Run, 122.0, 202.0),
            (Trip, 202.0, 203.0),
            (Idle, 203.0, 233.0),
        ]
    );
    // By hand: the root of the mean of the squares, not the mean.
    let start = found[1].totals;
    let heat: f64 = 50.6 * 50.6 + 48.0 * 48.0 + 20.0 * 20.0;
    assert!((start.rms_a() - (heat / 3.0).sqrt()).abs() < 1e-9);
    assert!((start.mean_a() - (50.6 + 48.0 + 20.0) / 3.0).abs() < 1e-9);
    assert!((start.peak_a - 50.6).abs() < 1e-12);
    // Segments leave nothing out.
    let all: f64 = currents.iter().map(|i| i * i).sum();
    let sum: f64 = found.iter().map(|s| s.totals.i2t_a2s).sum();
    assert!((sum / all - 1.0).abs() < 1e-12);
}

#[test]
fn a_stall_that_trips_is_no_start_and_a_slow_fall_is_no_trip() {
    let mut stall = vec![0.0; 5];
    stall.extend([55.0; 6]);
    stall.extend([0.0; 20]);
    let kinds: Vec<_> = segments(&spans(&stall)).iter().map(|s| s.kind).collect();
    use SegmentKind::{Idle, Run, Trip};
    assert_eq!(kinds, [Idle, Run, Trip, Idle]);
    let mut slow = vec![0.0; 5];
    slow.extend([13.0; 40]);
    slow.extend([9.0, 5.0, 3.0, 0.0, 0.0]);
    let kinds: Vec<_> = segments(&spans(&slow)).iter().map(|s| s.kind).collect();
    assert_eq!(kinds, [Idle, Run, Idle]);
}

#[test]
fn load_behind_a_gap_is_run_and_the_gap_is_told() {
    let mut all = spans(&[0.0, 0.0, 9.2, 9.2, 9.2]);
    all.push(Span {
        from_s: 5.0,
        to_s: 60.0,
        current: None,
        row: 6,
    });
    let later = spans(&[50.0, 9.2, 9.2, 9.2, 9.2, 9.2]);
    all.extend(later.iter().map(|s| Span {
        from_s: s.from_s + 60.0,
        to_s: s.to_s + 60.0,
        ..*s
    }));
    let kinds: Vec<_> = segments(&all).iter().map(|s| s.kind).collect();
    use SegmentKind::{Gap, Idle, Run};
    assert_eq!(kinds, [Idle, Run, Gap, Run]);
}

#[test]
fn thresholds_lie_in_the_valley() {
    let levels = |currents: &[(f64, f64)]| {
        let mut levels = Levels::default();
        for (i, t) in currents {
            let current = Some(Current {
                value: *i,
                min: None,
                max: None,
            });
            levels.add(&Span {
                from_s: 0.0,
                to_s: *t,
                current,
                row: 1,
            });
        }
        levels.thresholds()
    };
    // A machine that idles at 3.9 A under the same supply as one that is off at 0.05 A.
    let t = levels(&[(0.05, 100.0), (3.9, 100.0), (16.7, 100.0)]).expect("load");
    assert!(t.off_a > 0.05 && t.on_a < 3.9 && t.off_a < t.on_a, "{t:?}");
    let t = levels(&[(0.5, 1000.0), (9.0, 10.0)]).expect("load");
    assert!(t.off_a > 0.5 && t.on_a < 9.0, "{t:?}");
    assert_eq!(levels(&[(0.0, 100.0)]), None);
}

#[test]
fn averages_have_bounds() {
    // 13.8 A for 40 s and 0.2 A for 20 s within a minute: the average hides what the bounds enclose.
    let average = (13.8 * 40.0 + 0.2 * 20.0) / 60.0;
    let truth: f64 = (13.8f64.powi(2) * 40.0 + 0.2f64.powi(2) * 20.0) / 60.0;
    let mut totals = Totals::default();
    let current = Some(Current {
        value: average,
        min: Some(0.2),
        max: Some(13.8),
    });
    totals.add(&Span {
        from_s: 0.0,
        to_s: 60.0,
        current,
        row: 1,
    });
    assert!(totals.rms_a() < truth.sqrt());
    // For a current that knows only two values the upper bound is the truth.
    assert!((totals.rms_high_a() - truth.sqrt()).abs() < 1e-9);
}

/// Heat of a programme up to a time.
fn heat_at(pieces: &[(f64, f64)], time_s: f64) -> f64 {
    let mut left = time_s;
    let mut heat = 0.0;
    for (length, current) in pieces {
        heat += current * current * length.min(left);
        left = (left - length).max(0.0);
    }
    heat
}

#[test]
fn a_programme_has_the_heat_of_the_log_at_every_moment() {
    let currents: Vec<f64> = (0..5000)
        .map(|k| match k % 65 {
            0 => 40.0,
            1..40 => 13.8 + 0.1 * (k as f64 * 0.7).sin(),
            _ => 0.2,
        })
        .collect();
    for most in [10_000, 200, 12] {
        let mut condenser = Condenser::new(Condensing {
            most_pieces: most,
            ..Condensing::new(0.01, 10.0, 25.0)
        });
        spans(&currents).iter().for_each(|s| condenser.push(s));
        let programme = condenser.finish();
        assert!(
            programme.pieces.len() <= most,
            "{} pieces",
            programme.pieces.len()
        );
        let mut heat = 0.0;
        for (k, i) in currents.iter().enumerate() {
            heat += i * i;
            let off = (heat_at(&programme.pieces, k as f64 + 1.0) - heat).abs();
            assert!(
                off <= programme.tolerance_a2s * (1.0 + 1e-9),
                "{off} at {k} of {most}"
            );
        }
        let whole = heat_at(&programme.pieces, 5000.0);
        assert!((whole / programme.i2t_a2s - 1.0).abs() < 1e-9);
        if most == 10_000 {
            assert_eq!(programme.tolerance_a2s, 25.0);
            assert!(
                programme.pieces.len() < 400,
                "{} pieces",
                programme.pieces.len()
            );
        }
    }
}

#[test]
fn a_window_and_a_gap_of_a_programme() {
    let mut all = spans(&[10.0; 10]);
    all.push(Span {
        from_s: 10.0,
        to_s: 20.0,
        current: None,
        row: 11,
    });
    for (gaps, expected) in [
        (GapFill::Zero, 500.0),
        (GapFill::Before, 1000.0),
        (GapFill::Largest, 1000.0),
    ] {
        let settings = Condensing {
            gaps,
            window_s: (5.0, 15.0),
            ..Condensing::new(0.01, 10.0, 25.0)
        };
        let mut condenser = Condenser::new(settings);
        all.iter().for_each(|s| condenser.push(s));
        let programme = condenser.finish();
        assert_eq!((programme.starts_at_s, programme.filled_s), (5.0, 5.0));
        assert!((programme.i2t_a2s - expected).abs() < 1e-9);
        let time: f64 = programme.pieces.iter().map(|p| p.0).sum();
        assert!((time - 10.0).abs() < 1e-12);
    }
}

#[test]
fn memory_is_bounded_whatever_is_wrong() {
    let mut text = String::from("time (s),current (A)\n");
    for k in 0..20_000 {
        match k % 4 {
            0 => text += "x,y\n",
            1 => text += &format!("{k},9.4\n{k},9.5\n"),
            2 => text += &format!("{},-9.4\n", 50 * k),
            _ => text += "0,9.4\n",
        }
    }
    let mut log = LogReader::new("odd", text.as_bytes(), Options::default())
        .unwrap_or_else(|e| panic!("{e}"));
    while log.next_row().expect("row").is_some() {}
    let a = log.account();
    assert!(a.bad_rows.count >= 5000 && a.bad_rows.first.len() == KEPT);
    assert!(
        a.gaps.first.len() <= KEPT
            && a.duplicates.first.len() <= KEPT
            && a.clock_jumps.first.len() <= KEPT
    );
    assert!(log.summary().to_string().lines().count() < 250);
}
