//! A lesson of a scenario: a sheet for each pupil with numbers of their own, and what a teacher
//! needs beside it.
//!
//! A sheet asks for steps of the computation by hand ([`by_hand`](super::by_hand)): what is shown is
//! what was evaluated, and the full model stands beside it. No sheet is handed out whose answers
//! depend on how somebody rounds, and no two have the same answer.
//!
//! ```
//! use relatch::internals::scenario::starter;
//! use relatch::internals::study::lesson::{Level, Plan, lesson};
//! let plan = Plan { level: Level::Curvature, minutes: 45, variants: 2, seed: 7 };
//! let starter = ("starter", starter("latch").unwrap());
//! let lesson = lesson(starter, &plan, &mut |_, _| {}).unwrap();
//! let [a, b] = &lesson.sheets[..] else { panic!("two sheets") };
//! assert_ne!(a.goal().result.value_si, b.goal().result.value_si);
//! ```

mod bench;
mod error;
mod graph;
mod level;
mod numbers;
mod sheet;

pub use bench::{Bench, Reading};
pub use error::LessonError;
pub use graph::{Graph, Point};
pub use level::{LEAST_MINUTES, Level, MOST_MINUTES, MOST_VARIANTS, Plan};
pub use sheet::{MOST_BY_ROUNDING, Sheet, Task};

use super::by_hand::worked;
use crate::predict::{Progress, parallel};
use crate::scenario::{Scenario, read_text, set};

/// Candidates that are worked side by side.
const BATCH: u64 = 8;

/// A lesson.
#[derive(Debug, Clone, PartialEq)]
pub struct Lesson {
    /// Title of the scenario.
    pub title: String,
    /// Its story.
    pub shows: String,
    /// What was set in it since it was written.
    pub changed: Vec<String>,
    /// What was asked for.
    pub plan: Plan,
    /// One a pupil, or a group that measures.
    pub sheets: Vec<Sheet>,
}

/// Makes a lesson of the text of a scenario; `name` stands for it in messages. The same plan makes
/// the same lesson.
///
/// # Errors
/// The scenario, or why it makes no such lesson.
pub fn lesson(
    (name, text): (&str, &str),
    plan: &Plan,
    progress: &mut Progress<'_>,
) -> Result<Lesson, LessonError> {
    plan.check()?;
    let scenario = read_text(name, text).map_err(LessonError::Read)?;
    progress("the scenario itself", 0.0);
    let (explanation, full) = worked(&scenario, &mut |_, _| {})?;
    plan.level.suits(&full)?;
    let sheets = match plan.level {
        Level::Bench => bench::sheets(plan, &explanation, &full)?,
        _ => computed((name, text), plan, &scenario, progress)?,
    };
    Ok(Lesson {
        title: explanation.title,
        shows: explanation.shows,
        changed: explanation.changed,
        plan: *plan,
        sheets,
    })
}

/// Sheets whose numbers differ, in the order in which they are drawn, whoever is done first.
fn computed(
    source: (&str, &str),
    plan: &Plan,
    scenario: &Scenario,
    progress: &mut Progress<'_>,
) -> Result<Vec<Sheet>, LessonError> {
    let mut sheets: Vec<Sheet> = Vec::new();
    let most = 12 * plan.variants as u64 + 4 * BATCH;
    let mut next = 0;
    while sheets.len() < plan.variants && next < most {
        let missing = (plan.variants - sheets.len()) as u64;
        let batch: Vec<u64> = (next..next + missing.min(BATCH)).collect();
        next += batch.len() as u64;
        let one = |candidate: &u64| {
            let settings = numbers::drawn(scenario, plan, *candidate);
            posed(source, plan, settings)
        };
        for sheet in parallel::map(&batch, one, &mut |_| {})
            .into_iter()
            .flatten()
        {
            if sheets.iter().all(|other| other.differs_from(&sheet)) {
                sheets.push(sheet);
            }
        }
        progress("sheets", sheets.len() as f64 / plan.variants as f64);
    }
    if sheets.len() < plan.variants {
        return Err(LessonError::TooFew {
            found: sheets.len(),
            wanted: plan.variants,
        });
    }
    for (sheet, number) in sheets.iter_mut().zip(1..) {
        sheet.number = number;
    }
    Ok(sheets)
}

/// The sheet of a candidate; `None` where its numbers make no good one.
fn posed(source: (&str, &str), plan: &Plan, settings: Vec<(String, String)>) -> Option<Sheet> {
    let values: Vec<(&str, &str)> = settings
        .iter()
        .map(|(path, value)| (path.as_str(), value.as_str()))
        .collect();
    let (_, scenario) = set(source, "a sheet", &values).ok()?;
    let (explanation, full) = worked(&scenario, &mut |_, _| {}).ok()?;
    let graph = Graph::of(plan.level, &explanation, &full).ok()??;
    Sheet::posed(plan, explanation, graph, settings)
}
