//! Wrong use of `relatch diagnose --log`: what was typed (`tests/wrong_log_flags/NAME.toml`, a key
//! for each flag) and the reviewed message it gets (`NAME.txt`). `RELATCH_BLESS=1 cargo test --test
//! inputs wrong_log_flags` rewrites the messages; read what it wrote.

use crate::reviewed::{every_file_gets_its_message, names};
use relatch::internals::evidence::{Case, FlagLog, Flags, Outcome, from_flags, read};
use std::path::{Path, PathBuf};

const WRONG: &str = "tests/wrong_log_flags";
const LOGS: &str = "tests/wrong_cases/logs";

/// The flags that a file stands for; its log lies among those of the wrong cases.
fn typed(path: &Path) -> Flags {
    let text = std::fs::read_to_string(path).expect("a file");
    let table: toml::Table = text.parse().expect("TOML");
    let mut flags = Flags::default();
    let mut log = FlagLog::default();
    for (key, value) in table {
        let texts: Vec<String> = match value {
            toml::Value::Array(items) => items
                .into_iter()
                .map(|i| i.as_str().expect("a text").to_owned())
                .collect(),
            one => vec![one.as_str().expect("a text").to_owned()],
        };
        match key.as_str() {
            "rating" => flags.rating = texts[0].clone(),
            "log" => log.path = PathBuf::from(LOGS).join(&texts[0]),
            key => {
                let known = FlagLog::KEYS.into_iter().find(|k| *k == key);
                let known = known.unwrap_or_else(|| panic!("{key}"));
                log.answers.extend(texts.into_iter().map(|t| (known, t)));
            }
        }
    }
    flags.log = Some(log);
    flags
}

#[test]
fn every_wrong_use_gets_its_reviewed_message() {
    assert!(names(WRONG).len() >= 16);
    // Keys of a case file are no help on a command line.
    let never = [
        "NaN",
        "[[log]]",
        "trips =",
        "current_column",
        "could not be understood",
    ];
    every_file_gets_its_message(WRONG, 16, &never, |path| {
        from_flags(&typed(path)).map_err(|problems| {
            let lines: Vec<String> = problems.iter().map(|p| format!("error: {p}")).collect();
            lines.join("\n")
        })
    });
}

/// What the flags make of a log is what a case file makes of it.
#[test]
fn flags_and_a_case_file_read_a_log_alike() {
    let answers = [
        (
            "09-pug-mill-recorded",
            "09-pug-mill-seed-7.csv",
            vec![("trips", "at 09:22"), ("from", "cold"), ("accuracy", "1 %")],
        ),
        (
            "04-fog-machine",
            "04-fog-machine-scene-seed-11.csv",
            vec![
                ("trips", "the last fall"),
                ("from", "cold"),
                ("accuracy", "1 %"),
            ],
        ),
        (
            "05-irrigation-pump",
            "05-irrigation-pump-afternoon-seed-23.csv",
            vec![
                ("trips", "the last fall"),
                ("from", "unknown"),
                ("accuracy", "1 %"),
                ("air_at", "the part"),
            ],
        ),
    ];
    for (case, log, answers) in answers {
        let file = read(Path::new(&format!("scenarios/cases/{case}.toml"))).expect("a case");
        let flags: Case = from_flags(&Flags {
            rating: format!("{} A", file.nameplate.rated_current_a),
            log: Some(FlagLog {
                path: Path::new("scenarios/cases").join(log),
                answers: answers
                    .into_iter()
                    .map(|(k, a)| (k, a.to_owned()))
                    .collect(),
            }),
            ..Flags::default()
        })
        .unwrap_or_else(|e| panic!("{e:?}"));
        assert_eq!(flags.logs, file.logs, "{case}");
        assert!(!flags.readings.is_empty());
        for reading in &flags.readings {
            assert!(file.readings.contains(reading), "{case}: {reading:?}");
        }
        // A trip in rows that lie minutes apart counts only where a case tells no other.
        let tells_another = file
            .events
            .iter()
            .any(|e| e.is_trip() && !e.label.contains(log));
        for event in &flags.events {
            let is_left_out =
                tells_another && matches!(event.outcome, Outcome::TrippedWithin { .. });
            assert!(
                file.events.contains(event) || is_left_out,
                "{case}: {event:?}"
            );
        }
        assert!(flags.air.iter().all(|a| file.air.contains(a)), "{case}");
        assert!(flags.logs.iter().all(|l| l.file == log));
    }
}
