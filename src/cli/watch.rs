//! `relatch diagnose --watch`: follows a log and says what it does to the strip.

use super::Failure;
use super::failure::say;
use super::output::{columns, print};
use crate::diagnose::{Feed, Line, SoundParts, Watch};
use crate::evidence::{Air, AirPlace, Flags, LogQuestions, before_a_log};
use crate::family::Family;
use crate::logs::{LogError, LogReader, Options};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::{
    assumed_words, cautions, log_assumption, watch_head, watch_line, watch_status,
};
use std::fs::File;
use std::io::{BufReader, IsTerminal, stdout};
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// Parts that follow the log.
const PARTS: u64 = 24;
/// Designs of the family.
const DESIGNS: usize = 32;
/// How often a growing log is looked at.
const POLL: Duration = Duration::from_millis(500);
/// How often the state is printed, at most.
const STATUS: Duration = Duration::from_secs(1);
/// Rows taken before anything else is looked at.
const ROWS: usize = 2000;

/// How a log is followed.
#[derive(Debug, Clone, Copy, Default)]
pub struct How {
    /// Read to the end of the log, and stop there.
    pub until_end: bool,
    /// A JSON object a line, without the state in between.
    pub json: bool,
    /// Nothing on standard error.
    pub quiet: bool,
}

/// Follows a log with the protector of some flags.
pub fn from_flags(path: &Path, flags: &Flags, how: How) -> Result<(), Failure> {
    let case = before_a_log(flags).map_err(|problems| {
        let lines: Vec<String> = problems.iter().map(|p| format!("error: {p}")).collect();
        Failure::Input(lines.join("\n"))
    })?;
    if !how.quiet {
        for assumed in case.all_assumed() {
            say(&format!("assumed: {}", assumed_words(assumed)));
        }
    }
    // Air at the part counts before that of the room, which is cooler than a housing.
    let at_part = |a: &&Air| a.place == AirPlace::AtThePart;
    let air = case.air.iter().find(at_part).or(case.air.first());
    let questions = LogQuestions {
        air_k: air.map(|a| a.temperature_k),
        ..LogQuestions::default()
    };
    if !how.quiet {
        match air {
            None => say(
                "assumed: the air at the part is that of its rating; --air \"52 degC\" says otherwise",
            ),
            Some(a) if a.place != AirPlace::AtThePart => {
                say(
                    "assumed: the air at the part is that of the room; --air \"52 degC\" says otherwise",
                );
            }
            Some(_) => {}
        }
    }
    file(path)?;
    let family = Family::new(&case.nameplate, DESIGNS)
        .map_err(|e| Failure::Failed(format!("error: {e}")))?;
    watch(path, &questions, &family, how)
}

/// Follows the log at `path` with sound parts of a family, in the air of the questions or that of
/// the rating, until interrupted.
pub fn watch(
    path: &Path,
    questions: &LogQuestions,
    family: &Family,
    how: How,
) -> Result<(), Failure> {
    let stop = Arc::new(AtomicBool::new(false));
    let (seen, name) = (stop.clone(), path.display().to_string());
    ctrlc::set_handler(move || seen.store(true, Ordering::Relaxed))
        .map_err(|e| Failure::Failed(format!("error: cannot listen for Ctrl-C: {e}")))?;
    let stopped = || stop.load(Ordering::Relaxed);
    let options = Options {
        growing: !how.until_end,
        ..questions.options.clone()
    };
    let Some(log) = opened(path, &name, &options, how, &stopped)? else {
        return Ok(());
    };
    let plate = family.nameplate();
    let air_k = questions
        .air_k
        .map_or(plate.reference_ambient_k, |m| m.value);
    let sound = SoundParts::of(family, PARTS, air_k);
    if !how.quiet {
        for assumption in &log.layout().assumptions {
            say(&format!("assumed: {}", log_assumption(assumption)));
        }
        if log.layout().ambient.is_some() {
            say(
                "note: the temperatures in the log are not followed; --air says what the air at the part is",
            );
        }
    }
    let mut screen = Screen::new(how.json);
    screen.head(plate.rated_current_a, air_k, sound.count())?;
    let mut watch = Watch::new(&sound);
    let mut feed = Feed::new(log);
    let mut last_row = Instant::now();
    while !stopped() {
        let mut lines: Vec<Line> = Vec::new();
        let rows = feed
            .poll(&mut watch, ROWS, &mut |line| lines.push(*line))
            .map_err(failure)?;
        if rows > 0 {
            last_row = Instant::now();
        }
        let ended = how.until_end && rows < ROWS;
        if ended {
            feed.finish(&mut watch, &mut |line| lines.push(*line));
        }
        for line in &lines {
            screen.line(line)?;
        }
        if ended {
            return screen.last(&mut watch, 0.0);
        }
        let silent_s = last_row.elapsed().as_secs_f64();
        let silent_s = if rows == 0 && silent_s > 2.0 {
            silent_s
        } else {
            0.0
        };
        screen.status(&mut watch, silent_s)?;
        if rows < ROWS {
            std::thread::sleep(POLL);
        }
    }
    let silent_s = last_row.elapsed().as_secs_f64();
    screen.last(&mut watch, silent_s)
}

/// The log, once there is enough of it; `None` when interrupted before.
fn opened(
    path: &Path,
    name: &str,
    options: &Options,
    how: How,
    stopped: &dyn Fn() -> bool,
) -> Result<Option<LogReader<BufReader<File>>>, Failure> {
    let mut waiting = false;
    while !stopped() {
        let file = file(path)?;
        let short = file.metadata().map_or(0, |m| m.len()) < ENOUGH;
        match LogReader::new(name, BufReader::new(file), options.clone()) {
            Ok(log) => return Ok(Some(log)),
            // The first rows may still be missing.
            Err(LogError::Empty { .. } | LogError::Layout(_)) if !how.until_end && short => {
                if !waiting && !how.quiet {
                    say(&format!("{name}: waiting for its first rows"));
                }
                waiting = true;
                std::thread::sleep(POLL);
            }
            Err(error) => return Err(failure(error)),
        }
    }
    Ok(None)
}

fn file(path: &Path) -> Result<File, Failure> {
    crate::logs::open(path, &path.display().to_string()).map_err(|error| match error {
        LogError::Io { error, .. } => Failure::Input(format!(
            "error: cannot open {}: {error}\n  = help: check the name, and that the logger has begun to write",
            path.display()
        )),
        other => failure(other),
    })
}

/// A log whose layout cannot be found from this many bytes will not get clearer, bytes.
const ENOUGH: u64 = 2000;

fn failure(error: LogError) -> Failure {
    Failure::Input(error.to_string())
}

/// Lines and the state below them: over one another on a terminal, plain lines elsewhere.
struct Screen {
    json: bool,
    terminal: bool,
    /// Columns of the state that stands on the terminal.
    shown: usize,
    printed: Option<Instant>,
    state: String,
}

impl Screen {
    fn new(json: bool) -> Screen {
        Screen {
            json,
            terminal: stdout().is_terminal(),
            shown: 0,
            printed: None,
            state: String::new(),
        }
    }

    fn head(&mut self, rated_current_a: f64, air_k: f64, parts: usize) -> Result<(), Failure> {
        if !self.json {
            return self.tell(&watch_head(rated_current_a, air_k, parts, columns()));
        }
        let cautions = cautions::over_a_watch()
            .into_iter()
            .chain(cautions::after_a_fall());
        let head = serde_json::json!({
            "format": 1,
            "rated_current_a": rated_current_a,
            "ambient_c": air_k - ZERO_CELSIUS_K,
            "parts": parts,
            "cautions": cautions.collect::<Vec<_>>(),
        });
        print(&format!("{}\n", json_line(&head)?))
    }

    fn tell(&mut self, text: &str) -> Result<(), Failure> {
        if self.json {
            return Ok(());
        }
        let wiped = self.wiped();
        print(&format!("{wiped}{text}"))
    }

    fn line(&mut self, line: &Line) -> Result<(), Failure> {
        if self.json {
            return print(&format!("{}\n", json_line(line)?));
        }
        self.tell(&watch_line(line, columns()))
    }

    fn wiped(&mut self) -> String {
        let columns = std::mem::take(&mut self.shown);
        if columns == 0 {
            return String::new();
        }
        format!("\r{}\r", " ".repeat(columns))
    }

    fn status(&mut self, watch: &mut Watch<'_>, silent_s: f64) -> Result<(), Failure> {
        if self.json || self.printed.is_some_and(|at| at.elapsed() < STATUS) {
            return Ok(());
        }
        self.printed = Some(Instant::now());
        let state = watch_status(&watch.status(silent_s), columns());
        if !self.terminal {
            if state == self.state {
                return Ok(());
            }
            self.state = state;
            return print(&format!("{}\n", self.state));
        }
        let wiped = self.wiped();
        self.shown = state.chars().count();
        print(&format!("{wiped}{state}"))
    }

    /// The state at the end.
    fn last(&mut self, watch: &mut Watch<'_>, silent_s: f64) -> Result<(), Failure> {
        let status = watch.status(silent_s);
        if self.json {
            return print(&format!("{}\n", json_line(&status)?));
        }
        self.tell(&format!("{}\n", watch_status(&status, columns())))
    }
}

fn json_line(value: &impl serde::Serialize) -> Result<String, Failure> {
    Ok(serde_json::to_string(value)?)
}
