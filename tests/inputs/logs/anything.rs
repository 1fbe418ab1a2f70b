//! Whatever a file holds, it is read or refused with a message.

use super::line;
use proptest::prelude::*;
use relatch::internals::logs::{LogReader, Options};
use relatch::internals::present::log_import;

const RIGHT: &str = include_str!("../../logs/german_minutes_bom_crlf.csv");

fn try_to_read(bytes: &[u8], options: Options) {
    let report = match LogReader::new("any", bytes, options) {
        Err(e) => e.to_string(),
        Ok(mut log) => loop {
            match log.next_row() {
                Ok(Some(row)) => {
                    assert!(
                        row.time_s.is_finite() && row.current_a.value.is_finite(),
                        "{}",
                        line(&row)
                    );
                    assert!(row.current_a.value >= 0.0);
                }
                Ok(None) => break log_import("any", log.layout(), log.account()),
                Err(e) => break e.to_string(),
            }
        },
    };
    let control = |c: char| c.is_control() && c != '\n';
    assert!(
        !report.is_empty() && !report.contains(control),
        "{report:?}"
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 600, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_bytes(bytes in prop::collection::vec(any::<u8>(), 0..2000)) {
        try_to_read(&bytes, Options::default());
    }

    #[test]
    fn anything_like_a_log(text in "([0-9.,;:/TZ +\"A-Ca-e\u{b0}-]{0,12}[;,\t| \n\r]){0,80}") {
        try_to_read(text.as_bytes(), Options::default());
        try_to_read(text.as_bytes(), Options { interval_s: Some(1.0), ..Options::default() });
    }

    /// A right log with a hole or something foreign in it.
    #[test]
    fn a_damaged_log(at in 0usize..1300, length in 0usize..60, put in prop::collection::vec(any::<u8>(), 0..8)) {
        let bytes = RIGHT.as_bytes();
        let (at, end) = (at.min(bytes.len()), (at + length).min(bytes.len()));
        let damaged = [&bytes[..at], &put, &bytes[end.max(at)..]].concat();
        try_to_read(&damaged, Options::default());
    }

    /// Any number in any way of writing it comes out as it went in.
    #[test]
    fn numbers_come_out_as_they_went_in(currents in prop::collection::vec(0.0f64..90_000.0, 3..40), comma in any::<bool>()) {
        let mut text = String::from("Zeit (s);Strom (A)\n");
        for (k, i) in currents.iter().enumerate() {
            let row = format!("{k};{i:.4}\n");
            text += &if comma { row.replace('.', ",") } else { row };
        }
        let mut log = LogReader::new("numbers", text.as_bytes(), Options::default()).expect("layout");
        for i in &currents {
            let row = log.next_row().expect("row").expect("as many rows");
            let written: f64 = format!("{i:.4}").parse().expect("number");
            prop_assert_eq!(row.current_a.value, written);
        }
    }
}
