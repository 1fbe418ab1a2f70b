//! The parts of the reader one by one.

use relatch::internals::logs::parts::*;
use relatch::internals::logs::{Delimiter, Statistic};
use relatch::internals::quantity::Dimension;

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
        time_stamp(text.as_bytes())
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
    let offset = |text: &str| time_stamp(text.as_bytes()).and_then(|s| s.offset_s);
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
