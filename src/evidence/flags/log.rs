//! A recorded log named on a command line, with what a person can say about it: the questions of a
//! case file's `[[log]]`, asked by the same code.

use crate::diagnostic::{Problem, Report};
use crate::document::Document;
use crate::evidence::log_file::{recorded, refused};
use crate::evidence::read::log;
use crate::evidence::{FromLog, LogQuestions};
use std::fmt::Write;
use std::path::PathBuf;

/// A log and what was said about it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct FlagLog {
    /// The file.
    pub path: PathBuf,
    /// Answers as they were typed: one of [`FlagLog::KEYS`] each, `trips` as often as there were
    /// some.
    pub answers: Vec<(&'static str, String)>,
}

impl FlagLog {
    /// What can be said about a log, by the keys of `[[log]]`.
    pub const KEYS: [&'static str; 17] = [
        "trips",
        "within",
        "from",
        "meter",
        "accuracy",
        "digit",
        "air",
        "air_at",
        "current_column",
        "time_column",
        "air_column",
        "values",
        "dates",
        "amperes_per_unit",
        "offset",
        "interval",
        "hour_jumps",
    ];
    /// Keys whose answer may be a bare number: a column, a factor.
    const NUMBERS: [&'static str; 4] = [
        "current_column",
        "time_column",
        "air_column",
        "amperes_per_unit",
    ];

    /// The flag of a key: `--log-current-column`.
    ///
    /// ```
    /// assert_eq!(relatch::internals::evidence::FlagLog::flag("air_at"), "--log-air-at");
    /// ```
    pub fn flag(key: &str) -> String {
        format!("--log-{}", key.replace('_', "-"))
    }

    /// The name of the log in messages and labels.
    fn name(&self) -> String {
        let name = self.path.file_name().unwrap_or(self.path.as_os_str());
        name.to_string_lossy().into_owned()
    }

    /// Reads the log; `progress` is told how far it is (0 to 1).
    ///
    /// # Errors
    /// Every problem, a sentence or more each.
    pub(super) fn read(&self, progress: &mut dyn FnMut(&str, f64)) -> Result<FromLog, Vec<String>> {
        let questions = self.questions()?;
        let shown = self.path.display();
        match std::fs::metadata(&self.path) {
            Ok(found) if found.is_dir() => {
                return Err(vec![format!(
                    "--log \"{shown}\": this is a folder\n  = help: name the log itself"
                )]);
            }
            Ok(_) => {}
            Err(e) if e.kind() == std::io::ErrorKind::NotFound => {
                return Err(vec![format!(
                    "--log \"{shown}\": there is no such file\n  = help: check the name and the folder"
                )]);
            }
            Err(e) => return Err(vec![format!("--log \"{shown}\": it cannot be read: {e}")]),
        }
        let name = self.name();
        recorded(&self.path, &name, &questions, progress).map_err(|error| {
            vec![told(
                &format!("--log \"{shown}\""),
                &refused(&error, &name, 0..0),
            )]
        })
    }

    /// The answers, as a case file's table would be read.
    fn questions(&self) -> Result<LogQuestions, Vec<String>> {
        let (text, typed) = self.table();
        let document = Document::parse("--log", &text);
        let draft = log(&document.root());
        match (document.finish(), draft) {
            (Ok(_), Some(draft)) => Ok(draft.questions),
            (Err(report), _) => Err(problems(&report, &typed)),
            (Ok(_), None) => Err(vec!["--log: its answers could not be understood".into()]),
        }
    }

    /// The table that a case file would have, a key a line, and beside each line what was typed for
    /// it.
    fn table(&self) -> (String, Vec<(String, String)>) {
        let quoted = |text: &str| {
            let plain: String = text
                .chars()
                .map(|c| if c.is_control() { ' ' } else { c })
                .collect();
            toml_edit::Value::from(plain).to_string()
        };
        let mut text = format!("file = {}\n", quoted(&self.name()));
        let mut typed = vec![("--log".to_owned(), self.path.display().to_string())];
        for key in Self::KEYS {
            let given: Vec<&str> = self
                .answers
                .iter()
                .filter(|(k, _)| *k == key)
                .map(|(_, answer)| answer.trim())
                .collect();
            let value = match given[..] {
                [] => continue,
                [one] if Self::NUMBERS.contains(&key) && one.parse::<f64>().is_ok() => {
                    one.trim_start_matches('+').to_owned()
                }
                [one] if key != "trips" || !is_a_moment(one) => quoted(one),
                _ => {
                    let times: Vec<String> = given.iter().map(|t| quoted(t)).collect();
                    format!("[{}]", times.join(", "))
                }
            };
            let _ = writeln!(text, "{key} = {value}");
            typed.push((Self::flag(key), given.join("\", \"")));
        }
        (text, typed)
    }
}

/// Whether an answer of `trips` is a moment rather than a word.
fn is_a_moment(answer: &str) -> bool {
    answer.contains(|c: char| c.is_ascii_digit())
}

/// Problems of the table as problems of the flags.
fn problems(report: &Report, typed: &[(String, String)]) -> Vec<String> {
    let of = |p: &Problem| {
        let (flag, answer) = &typed[(report.line_of(p) - 1).min(typed.len() - 1)];
        told(&format!("{flag} \"{answer}\""), p)
    };
    report.problems().iter().map(of).collect()
}

/// A problem of a flag, with its notes and its help.
fn told(flag: &str, problem: &Problem) -> String {
    let mut text = format!("{flag}: {}", as_flags(&problem.message));
    if !problem.label.is_empty() {
        text += &format!(" ({})", as_flags(&problem.label));
    }
    for note in &problem.notes {
        text += &format!("\n  = note: {}", as_flags(note));
    }
    for help in &problem.help {
        text += &format!("\n  = help: {}", as_flags(help));
    }
    text
}

/// A sentence about the keys of a table as one about flags: `` `trips = ["8.3 min"]` `` becomes
/// `` `--log-trips "8.3 min"` ``.
fn as_flags(text: &str) -> String {
    if let Some(keys) = text.strip_prefix("the keys of [[log]] say how it is laid out: ") {
        let flags: Vec<String> = keys.split(", ").map(FlagLog::flag).collect();
        return format!("these say how it is laid out: {}", flags.join(", "));
    }
    let code = |(k, part): (usize, &str)| {
        if k % 2 == 0 {
            return part.replace("[\"", "\"").replace("\"]", "\"");
        }
        let (key, value) = part.split_once(" = ").unwrap_or((part, ""));
        if !FlagLog::KEYS.contains(&key) {
            return part.to_owned();
        }
        let flag = FlagLog::flag(key);
        let value = value.trim_matches(['[', ']']);
        // A list is the flag as often as it has entries.
        let each = value.replace("\", \"", &format!("\" {flag} \""));
        format!("{flag} {each}").trim_end().to_owned()
    };
    let parts: Vec<String> = text.split('`').enumerate().map(code).collect();
    parts.join("`")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_key_is_one_of_a_case_file() {
        for key in FlagLog::KEYS {
            let log = FlagLog {
                path: "current.csv".into(),
                answers: vec![(key, "no such answer at all".into())],
            };
            let problems = log.questions().err().unwrap_or_default().join("\n");
            // A column may have any name; everything else knows what it allows.
            assert_eq!(
                problems.is_empty(),
                key.ends_with("column"),
                "{key}: {problems}"
            );
            assert!(!problems.contains("unknown key"), "{problems}");
            assert!(
                problems.is_empty() || problems.contains(&FlagLog::flag(key)),
                "{problems}"
            );
        }
    }

    #[test]
    fn help_about_a_table_becomes_help_about_flags() {
        assert_eq!(
            as_flags("`trips = [\"8.3 min\"]` (times), or leave `trips` out; `relatch new case`"),
            "`--log-trips \"8.3 min\"` (times), or leave `--log-trips` out; `relatch new case`"
        );
        assert_eq!(
            as_flags("`trips = [\"8.3 min\", \"at 14:10\"]`, or \"the last fall\""),
            "`--log-trips \"8.3 min\" --log-trips \"at 14:10\"`, or \"the last fall\""
        );
    }

    #[test]
    fn any_text_is_an_answer_and_never_breaks_the_table() {
        for odd in [
            "\"",
            "a\nb = 1",
            "\u{1b}",
            "nan",
            "1e999",
            "'''",
            "8.3 min\"]\n#",
        ] {
            for key in FlagLog::KEYS {
                let log = FlagLog {
                    path: "a \"b\".csv".into(),
                    answers: vec![(key, odd.into())],
                };
                let _ = log.questions();
            }
        }
    }
}
