//! What can be asked, one function a task.

use crate::diagnose::Diagnosis;
use crate::evidence::{self, Case, Datasheet};
use crate::family::{self, FamilyError, FitAnswer, FitError, WaitAnswer, WaitQuestion};
use crate::material::{Alloy, library};
use crate::predict::{self, Curve, Options, Outcome, PredictError, Progress};
use crate::scenario::{self, ReadError, Scenario};
use crate::standards::{LIMITS, PublishedLimits};
use crate::study::ageing::{self, AgeError, AgeOutcome};
use crate::study::by_hand::{self, ByHandError, Explanation};
use crate::study::compare::{self, CompareError, CompareOutcome};
use crate::study::design::{self, Asked, DesignError, DesignOutcome, Targets};
use crate::study::failures::{self, FailuresError, FailuresOutcome};
use crate::study::population::{Design, Settings, VaryError, VaryOutcome, in_memory};
use crate::study::sweep::{Sweep, SweepError, SweepOutcome};
use std::path::Path;
use std::sync::Arc;

/// Reads a scenario: the protector, its place, its load and what is asked of it.
///
/// # Errors
/// The file cannot be read; or every problem of its content at once, each with line and caret.
pub fn load(path: &Path) -> Result<Scenario, ReadError> {
    scenario::read(path)
}

/// Reads a scenario from text; `name` stands in messages.
///
/// # Errors
/// Every problem at once.
///
/// ```
/// let wrong = relatch::parse("mine.toml", "title = \"a part without a strip\"").unwrap_err();
/// assert!(wrong.to_string().contains("strip"));
/// ```
pub fn parse(name: &str, text: &str) -> Result<Scenario, ReadError> {
    scenario::read_text(name, text)
}

/// The text of a scenario with values set in it, each by the path at which it stands in the file;
/// comments stay, and the key `changed` tells what was set. What stands instead of something (a
/// constant current instead of steps) takes it out.
///
/// ```
/// let text = relatch::starter("latch").expect("a starter");
/// let longer = relatch::set(text, &[("strip.length", "38 mm"), ("load.current", "30 A")])?;
/// assert_eq!(relatch::parse("longer", &longer)?.strip.length_m, 0.038);
/// # Ok::<(), relatch::ReadError>(())
/// ```
///
/// # Errors
/// The problems of the text as it was; else what is wrong with the values, by the bounds of the
/// file.
pub fn set(text: &str, values: &[(&str, &str)]) -> Result<String, ReadError> {
    Ok(scenario::set(("the scenario", text), "values to be set", values)?.0)
}

impl Case {
    /// Reads what was read, timed, recorded and seen at a tripping machine. Its logs lie beside the
    /// file.
    ///
    /// # Errors
    /// As [`load`].
    pub fn load(path: &Path) -> Result<Case, ReadError> {
        evidence::read(path)
    }

    /// Reads a case without logs from text; `name` stands in messages.
    ///
    /// # Errors
    /// Every problem at once.
    pub fn parse(name: &str, text: &str) -> Result<Case, ReadError> {
        evidence::read_text(name, text)
    }
}

impl Datasheet {
    /// Reads what a maker publishes of a protector.
    ///
    /// # Errors
    /// As [`load`].
    pub fn load(path: &Path) -> Result<Datasheet, ReadError> {
        evidence::read_datasheet(path)
    }

    /// Reads a datasheet from text; `name` stands in messages.
    ///
    /// # Errors
    /// Every problem at once.
    pub fn parse(name: &str, text: &str) -> Result<Datasheet, ReadError> {
        evidence::read_datasheet_text(name, text)
    }
}

/// A commented file to begin with: the scenarios "latch", "heater-wound", "snap-blade", "disc"
/// and "bench-strip", and "case", "datasheet" and "targets".
pub fn starter(kind: &str) -> Option<&'static str> {
    match kind {
        "case" => Some(evidence::starter()),
        "datasheet" => Some(evidence::datasheet_starter()),
        "targets" => Some(design::starter()),
        _ => scenario::starter(kind),
    }
}

/// Predicts trip, waits, trip point and what lost preload does, each with its numerical error.
///
/// # Errors
/// A property outside its range, a hot start beyond release, an impossible history, or a failure of
/// the integration.
pub fn predict(scenario: &Scenario) -> Result<Outcome, PredictError> {
    predict_with(scenario, &Options::default(), &mut |_, _| {})
}

/// As [`predict()`], with a choice of what is computed; `progress` is told what, and how far (0 to
/// 1).
///
/// # Errors
/// As [`predict()`].
///
/// ```
/// let scenario = relatch::load("scenarios/08-worked-strip.toml".as_ref())?;
/// let mut options = relatch::Options::default();
/// options.without_tables = true;
/// let mut told = 0;
/// let outcome = relatch::predict_with(&scenario, &options, &mut |_, _| told += 1)?;
/// assert!(outcome.preload_shift.is_empty() && told > 0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
pub fn predict_with(
    scenario: &Scenario,
    options: &Options,
    progress: &mut Progress<'_>,
) -> Result<Outcome, PredictError> {
    predict::predict(scenario, options, progress)
}

/// The time-current characteristic, cold and hot, at these currents in A (or at currents that are
/// chosen), with the published limits that the scenario names, its warnings and the cautions that
/// concern it.
///
/// # Errors
/// As [`predict()`].
pub fn curve(scenario: &Scenario, currents_a: Option<&[f64]>) -> Result<Curve, PredictError> {
    let options = Options {
        characteristic: true,
        currents_a: currents_a.map(<[f64]>::to_vec),
        without_tables: true,
        without_course: true,
        ..Options::default()
    };
    let outcome = predict_with(scenario, &options, &mut |_, _| {})?;
    // It was asked for: only who gave up has none.
    let characteristic = outcome.characteristic.ok_or(PredictError::Halted)?;
    Ok(Curve {
        characteristic,
        warnings: outcome.warnings,
        cautions: outcome.cautions,
    })
}

/// How long to wait before the reset and before the start, from what is printed on a protector:
/// ranges over the parts that it may stand for.
///
/// # Errors
/// No protector keeps the published limits.
pub fn wait(question: &WaitQuestion) -> Result<WaitAnswer, FamilyError> {
    family::wait(question)
}

/// What is wrong with a machine that keeps tripping, how sure that is, and what to measure next.
/// The same seed gives the same bytes.
///
/// # Errors
/// No protector keeps the published limits of the case.
pub fn diagnose(case: &Case, seed: u64) -> Result<Diagnosis, FamilyError> {
    crate::diagnose::diagnose(case, seed)
}

/// What years of duty do to a part: drift of its trip point, late and early life, what moves them.
///
/// # Errors
/// A scenario without ageing, options out of range, or a failure of the engine.
pub fn age(scenario: &Scenario, options: &ageing::Options) -> Result<AgeOutcome, AgeError> {
    ageing::age(scenario, options, &mut |_, _| {})
}

/// Failures per year of units that differ as made, wear and carry their duty each in its own way:
/// late and early, and which spread to halve.
///
/// ```
/// let scenario = relatch::load("scenarios/14-kiln-lot-set.toml".as_ref())?;
/// let mut options = relatch::FailuresOptions::default();
/// (options.years, options.units) = (5.0, 512);
/// let outcome = relatch::failures(&scenario, &options)?;
/// let early = outcome.ways.iter().find(|way| way.by_year.iter().any(|y| y.failed.share > 0.0));
/// assert!(early.is_some_and(|way| way.by_year.len() == 6));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// A scenario without ageing, options out of range, tolerances of impossible parts, or a failure of
/// the engine.
pub fn failures(
    scenario: &Scenario,
    options: &failures::Options,
) -> Result<FailuresOutcome, FailuresError> {
    failures::failures(scenario, options, &mut |_, _| {})
}

/// A population of units from the tolerances of a scenario, in memory: scatter, rates outside
/// limits, and (with at least 2 `sensitivity_rows`; 0 leaves it out) which tolerance matters most.
///
/// # Errors
/// Nothing varies, impossible parts, fewer than two units, or a failure of the engine.
pub fn population(
    scenario: &Scenario,
    units: u64,
    sensitivity_rows: u64,
    seed: u64,
) -> Result<VaryOutcome, VaryError> {
    let settings = Settings::new(units, seed, Design::Sobol, sensitivity_rows, false, None)?;
    in_memory(scenario, &settings)
}

/// One scenario, from its text, over one to three of its paths: every point in order, answered as
/// [`predict()`] answers it. Each path comes with its values, in words: a list, a range, or a range
/// in equal ratios. `together` moves the paths first with first, instead of each value with each.
///
/// ```
/// let text = std::fs::read_to_string("scenarios/08-worked-strip.toml")?;
/// let swept = relatch::sweep(&text, &["load.current=12 A to 48 A in 3 by ratio"], false)?;
/// let time_s = |k: usize| swept.points[k].summary().and_then(|s| s.trip_time.time_s());
/// assert!(time_s(0) > time_s(1) && time_s(1) > time_s(2));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # Errors
/// The problems of the text, of a path (with the nearest) or of a value; more points than are
/// computed, with their number.
pub fn sweep(text: &str, over: &[&str], together: bool) -> Result<SweepOutcome, SweepError> {
    Ok(Sweep::new(("the scenario", text), over, together)?.run(&mut |_| {}))
}

/// Scenarios, each with a name and its text: answers and curves beside each other, and for every
/// one after the first which difference of the texts does what.
///
/// # Errors
/// One cannot be read or predicted: which, and why.
pub fn compare(scenarios: &[(&str, &str)]) -> Result<CompareOutcome, CompareError> {
    let read = |(name, text): &(&str, &str)| match scenario::read_text(name, text) {
        Ok(scenario) => Ok((String::from(*name), String::from(*text), scenario)),
        Err(why) => Err(CompareError::Read {
            name: String::from(*name),
            why,
        }),
    };
    let jobs: Vec<_> = scenarios.iter().map(read).collect::<Result<_, _>>()?;
    compare::compare(&jobs, false, &mut |_, _| {})
}

impl Targets {
    /// Reads what is free in a scenario and what is wanted of it; the scenario lies beside the
    /// file.
    ///
    /// # Errors
    /// As [`load`].
    #[cfg(feature = "files")]
    pub fn load(path: &Path) -> Result<Targets, ReadError> {
        design::read(path)
    }

    /// Reads targets from text, with the text of the scenario that they name; `name` stands in
    /// messages.
    ///
    /// # Errors
    /// Every problem at once.
    pub fn parse(name: &str, text: &str, scenario: &str) -> Result<Targets, ReadError> {
        let found = |named: &str| Ok((named.to_owned(), scenario.to_owned()));
        design::read_text(name, text, &found)
    }
}

/// The part that meets targets, or misses them least, as a scenario; which wants fight; and what is
/// asked beside it.
///
/// # Errors
/// Nowhere within the bounds is a part that can be predicted.
pub fn design(targets: &Targets, asked: &Asked) -> Result<DesignOutcome, DesignError> {
    design::design(targets, asked, &mut |_, _| {})
}

/// Parts that follow a published characteristic, what the sheet leaves open, and the best of them
/// as a scenario.
///
/// # Errors
/// No design keeps the limits, or nothing follows what is published.
pub fn fit(sheet: &Datasheet, effort: family::Effort, seed: u64) -> Result<FitAnswer, FitError> {
    let mut answer = family::fit_with(&sheet.nameplate, seed, effort, &mut |_, _| {})?;
    answer.title.clone_from(&sheet.title);
    Ok(answer)
}

/// A scenario worked by hand: every formula, the numbers put in, and the full model's number beside
/// it.
///
/// # Errors
/// Where the full model has no answer to stand beside.
pub fn explain(scenario: &Scenario) -> Result<Explanation, ByHandError> {
    by_hand::explain(scenario, &mut |_, _| {})
}

impl Alloy {
    /// Names of the strip alloys that are known.
    pub fn names() -> Vec<&'static str> {
        library::alloy_names()
    }

    /// The strip alloy of a name or alias, whatever its capitals.
    pub fn named(name: &str) -> Option<Arc<Alloy>> {
        library::alloy(name)
    }
}

impl PublishedLimits {
    /// Published limits of time-current characteristics that can be named.
    pub fn all() -> &'static [PublishedLimits] {
        LIMITS
    }
}
