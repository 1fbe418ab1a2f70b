//! Answers and curves beside each other, and the cause of each difference.

use super::differences::{Difference, differences, taken_over};
use crate::answer::{Caution, Failed, TripTime, Wait, WhyNotAsked};
use crate::predict::{PredictError, Progress, currents, parallel, under};
use crate::scenario::{ReadError, Scenario, read_text};
use crate::study::summary::{Summary, cautions_of};
use serde::{Deserialize, Serialize};
use std::error::Error;
use std::fmt;

/// Currents of a curve.
const CURRENTS: usize = 24;
/// Largest of them over the rating.
const LARGEST: f64 = 10.0;

/// Scenarios beside each other.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct CompareOutcome {
    /// Layout of the record.
    pub format: u32,
    /// Version of the program.
    pub version: String,
    /// The scenarios in the order given.
    pub scenarios: Vec<Compared>,
    /// For every scenario after the first: what makes it differ from the first.
    pub causes: Vec<Cause>,
    /// Cautions for whoever reads it.
    pub cautions: Vec<Caution>,
}

/// One of the scenarios.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Compared {
    /// What it is called here.
    pub name: String,
    /// Its title.
    pub title: String,
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Its answers.
    pub summary: Summary,
    /// Trip time and wait for the reset against the current.
    pub curve: Vec<CurveAt>,
}

/// A point of the curves.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct CurveAt {
    /// A.
    pub current_a: f64,
    /// When it trips.
    pub trip_time: TripTime,
    /// How long it must cool then.
    pub relatch_wait: Wait,
}

/// What makes a scenario differ from the first.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Cause {
    /// Number of the scenario, from 0.
    pub scenario: usize,
    /// Each difference of the files alone, in the first scenario. What they add up to less than the
    /// whole is interaction.
    pub changes: Vec<Change>,
}

/// A difference of the files alone.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Change {
    /// Path, value in the first and value in the other; several where they only go together.
    pub keys: Vec<(String, Option<String>, Option<String>)>,
    /// What the first then answers; `None`: there is no such part, or no prediction.
    pub summary: Option<Summary>,
}

/// Why scenarios cannot be compared.
#[derive(Debug)]
#[non_exhaustive]
pub enum CompareError {
    /// One cannot be read.
    Read {
        /// Its name.
        name: String,
        /// Why not.
        why: ReadError,
    },
    /// One cannot be predicted.
    Predict {
        /// Its name.
        name: String,
        /// Why not.
        why: PredictError,
    },
}

impl CompareError {
    /// Which scenario, and why not.
    pub fn parts(&self) -> (&str, &(dyn Error + 'static)) {
        match self {
            Self::Read { name, why } => (name, why),
            Self::Predict { name, why } => (name, why),
        }
    }
}

impl fmt::Display for CompareError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let (name, why) = self.parts();
        write!(f, "{name}: {why}")
    }
}

impl Error for CompareError {}

/// Compares scenarios, each with its name and its text; `metals`: what is known of them is asked even
/// where that takes long.
///
/// # Errors
/// One of them cannot be predicted.
pub fn compare(
    jobs: &[(String, String, Scenario)],
    metals: bool,
    progress: &mut Progress<'_>,
) -> Result<CompareOutcome, CompareError> {
    let mut scenarios = Vec::new();
    for (k, (name, _, scenario)) in jobs.iter().enumerate() {
        progress(name, 0.5 * k as f64 / jobs.len() as f64);
        let compared = compared(name, scenario, metals).map_err(|why| CompareError::Predict {
            name: name.clone(),
            why,
        })?;
        scenarios.push(compared);
    }
    let mut causes = Vec::new();
    if let Some(((_, first, _), others)) = jobs.split_first() {
        for (k, (name, text, _)) in others.iter().enumerate() {
            progress(name, 0.5 + 0.5 * k as f64 / others.len() as f64);
            causes.push(Cause {
                scenario: k + 1,
                changes: changes(first, text),
            });
        }
    }
    let cautions = cautions_of(scenarios.iter().map(|s| &s.summary));
    Ok(CompareOutcome {
        format: 1,
        version: env!("CARGO_PKG_VERSION").into(),
        scenarios,
        causes,
        cautions,
    })
}

fn compared(name: &str, scenario: &Scenario, metals: bool) -> Result<Compared, PredictError> {
    let summary = Summary::with_metals(scenario, metals)?;
    let rated_a = scenario.protector.rated_current_a;
    let list = summary
        .trip_point
        .current_a()
        .map_or_else(Vec::new, |a| currents(a, rated_a, LARGEST, CURRENTS));
    let point = |current_a: &f64| -> Result<CurveAt, PredictError> {
        let (trip_time, relatch_wait) = match under(scenario, *current_a) {
            Ok(answers) => answers,
            Err(error) => failed(error)?,
        };
        Ok(CurveAt {
            current_a: *current_a,
            trip_time,
            relatch_wait,
        })
    };
    let curve = parallel::map(&list, point, &mut |_| {});
    Ok(Compared {
        name: name.to_owned(),
        title: scenario.name(),
        rated_current_a: rated_a,
        summary,
        curve: curve.into_iter().collect::<Result<_, _>>()?,
    })
}

fn failed(error: PredictError) -> Result<(TripTime, Wait), PredictError> {
    let why: Failed = error.in_a_row()?;
    let wait = Wait::NotAsked {
        why: WhyNotAsked::Failed,
    };
    Ok((TripTime::Failed { why }, wait))
}

/// Each difference alone; those that do not make a scenario alone, with all of their table; what is
/// left, together.
fn changes(first: &str, second: &str) -> Vec<Change> {
    let all = differences(first, second);
    let scenario = |group: &[&Difference]| {
        let text = taken_over(first, second, group)?;
        read_text("compared", &text).ok()
    };
    let mut groups: Vec<(Vec<&Difference>, Option<Scenario>)> = Vec::new();
    let mut left: Vec<&Difference> = Vec::new();
    for difference in &all {
        match scenario(&[difference]) {
            Some(scenario) => groups.push((vec![difference], Some(scenario))),
            None => left.push(difference),
        }
    }
    let mut names: Vec<String> = left.iter().map(|d| d.table()).collect();
    names.dedup();
    for name in names {
        let of_table = |d: &&&Difference| d.table() == name;
        let group: Vec<&Difference> = left.iter().filter(of_table).copied().collect();
        if let Some(scenario) = scenario(&group) {
            left.retain(|d| !group.contains(d));
            groups.push((group, Some(scenario)));
        }
    }
    if !left.is_empty() {
        let together = scenario(&left);
        groups.push((left, together));
    }
    let predicted = |(_, scenario): &(Vec<&Difference>, Option<Scenario>)| {
        scenario.as_ref().and_then(|s| Summary::predict(s).ok())
    };
    let summaries = parallel::map(&groups, predicted, &mut |_| {});
    let keys = |d: &&Difference| (d.path(), d.from.clone(), d.to.clone());
    groups
        .iter()
        .zip(summaries)
        .map(|((group, _), summary)| Change {
            keys: group.iter().map(keys).collect(),
            summary,
        })
        .collect()
}

impl Change {
    /// By how much an answer differs from that of the first scenario.
    pub fn effect(&self, first: &Summary, answer: impl Fn(&Summary) -> Option<f64>) -> Option<f64> {
        Some(answer(self.summary.as_ref()?)? - answer(first)?)
    }
}
