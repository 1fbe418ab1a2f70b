//! A log from its file: read with the questions answered, or refused with the words of a problem.

use super::{FromLog, FromLogError, LogQuestions, from_log};
use crate::diagnostic::Problem;
use crate::logs::{LogError, LogReader};
use std::cell::RefCell;
use std::fs::File;
use std::io::{BufReader, Read};
use std::ops::Range;
use std::path::Path;

/// Reads the log at `path`, called `name`; `progress` is told how far it is (0 to 1).
///
/// # Errors
/// The file or its content cannot be read, or a question has to be answered first.
pub(super) fn recorded(
    path: &Path,
    name: &str,
    questions: &LogQuestions,
    progress: &mut dyn FnMut(&str, f64),
) -> Result<FromLog, FromLogError> {
    let length = std::fs::metadata(path).map_or(1, |m| m.len().max(1));
    let mut round = 0.0;
    let shown = RefCell::new(progress);
    let open = || {
        let file = crate::logs::open(path, name)?;
        let counted = Counted {
            file,
            read: 0,
            length,
            round,
            name,
            tell: &shown,
        };
        round += 1.0;
        LogReader::new(
            name,
            BufReader::with_capacity(1 << 16, counted),
            questions.options.clone(),
        )
    };
    from_log(name, questions, open)
}

/// The problem of a log, at the place that names it.
pub(super) fn refused(error: &FromLogError, name: &str, at: Range<usize>) -> Problem {
    match error {
        FromLogError::Log(LogError::Layout(report)) => {
            let mut problem = Problem::new(at, format!("the log {name} cannot be read as it stands"));
            for p in report.problems() {
                let found = match p.label.as_str() {
                    "" => String::new(),
                    label => format!(" ({label})"),
                };
                problem = problem.note(format!("line {}: {}{found}", report.line_of(p), p.message));
                for help in &p.help {
                    problem = problem.help(help.clone());
                }
            }
            problem.help("the keys of [[log]] say how it is laid out: current_column, time_column, dates, values, amperes_per_unit, interval")
        }
        FromLogError::Log(error) => {
            let mut problem = Problem::new(at, format!("the log {name} cannot be used"));
            for line in error.to_string().lines() {
                let line = line.trim();
                problem = match line.strip_prefix("= help: ") {
                    Some(help) => problem.help(help),
                    None => problem.note(line.trim_start_matches("error: ")),
                };
            }
            problem
        }
        FromLogError::NoCurrent => Problem::new(at, format!("{name}: {error}"))
            .help("is it the right column? `current_column = \"...\"` names another"),
        FromLogError::WhichFalls(..) => Problem::new(at, format!("{name}: {error}")).help(
            "`trips = \"every fall\"`, `trips = \"the last fall\"`, `trips = [\"8.3 min\"]` (times \
             since the first row), `trips = [\"at 14:10\"]` (by its clock), or `trips = \"none\"` \
             for a hand at the switch",
        ),
        FromLogError::NoFall => Problem::new(at, format!("{name}: {error}"))
            .help("leave `trips` out: the log then says how long the part has held"),
        FromLogError::NotNear(..) => Problem::new(at, format!("{name}: {error}"))
            .help("`within = \"10 min\"` allows notes that are farther off; is the clock of the \
                   log an hour ahead?"),
        FromLogError::NoClock => Problem::new(at, format!("{name}: {error}"))
            .help("note trips by the time since its first row: `trips = [\"8.3 min\"]`"),
        FromLogError::TooMany(_) => Problem::new(at, format!("{name}: {error}"))
            .help("name those that are trips: `trips = [\"8.3 min\", \"at 14:10\"]`, or \"the last fall\""),
    }
}

/// Told which log is read, and how far it is (0 to 1).
type Progress<'p> = &'p mut dyn FnMut(&str, f64);

/// A file that tells how far it has been read.
struct Counted<'a, 'p> {
    file: File,
    name: &'a str,
    read: u64,
    length: u64,
    round: f64,
    tell: &'a RefCell<Progress<'p>>,
}

/// How often a log is read.
const ROUNDS: f64 = 3.0;

impl Read for Counted<'_, '_> {
    fn read(&mut self, buffer: &mut [u8]) -> std::io::Result<usize> {
        let n = self.file.read(buffer)?;
        self.read += n as u64;
        let share = (self.read as f64 / self.length as f64).min(1.0);
        (self.tell.borrow_mut())(self.name, (self.round + share) / ROUNDS);
        Ok(n)
    }
}
