//! One prediction by hand: the formulas of textbooks with the numbers of a scenario put in, each
//! result beside the one of the full model, and why the two differ.
//!
//! Nothing here is written down beforehand: a [`Step`] holds the formula as a tree, and the printed
//! formula, the printed numbers and the value are three views of that tree.
//!
//! ```
//! use relatch::internals::scenario::{read_text, starter};
//! use relatch::internals::study::by_hand::explain;
//! let scenario = read_text("starter", starter("latch").unwrap()).unwrap();
//! let explanation = explain(&scenario, &mut |_, _| {}).unwrap();
//! let trip = explanation.step("T_rel").unwrap();
//! assert!(trip.difference_percent().unwrap().abs() < 10.0);
//! ```

mod bending;
mod blade;
mod duty;
mod error;
mod expression;
mod faces;
pub mod formulas;
mod full;
mod heating;
mod latch;
mod ledger;
mod parse;
mod record;
mod times;
pub mod unit;
mod wear;

pub use error::ByHandError;
pub use expression::{Expression, Function};
pub use record::{Beside, Block, Chapter, Explanation, Quantity, Remark, Step, Subject, Values};

use crate::answer::Caution;
use crate::predict::Progress;
use crate::scenario::Scenario;
pub(super) use full::{At, Full};
use ledger::Ledger;
pub(super) use ledger::evaluated;

/// Explains a scenario.
///
/// # Errors
/// Several poles, a disc, a compensated latch, or where the full model has no answer to stand beside.
pub fn explain(
    scenario: &Scenario,
    progress: &mut Progress<'_>,
) -> Result<Explanation, ByHandError> {
    Ok(worked(scenario, progress)?.0)
}

/// The same, and the full model that stands beside it.
pub(super) fn worked<'s>(
    scenario: &'s Scenario,
    progress: &mut Progress<'_>,
) -> Result<(Explanation, Full<'s>), ByHandError> {
    if scenario.poles.is_some() {
        return Err(ByHandError::SeveralPoles);
    }
    if scenario.release.mechanism.disc().is_some() {
        return Err(ByHandError::Disc);
    }
    let latch = scenario.release.mechanism.latch();
    if latch.is_some_and(|l| l.compensating_m.is_some()) {
        return Err(ByHandError::Compensated);
    }
    let full = Full::compute(scenario, progress)?;
    let mut ledger = Ledger::default();
    chapters(&full, &mut ledger)?;
    let explanation = Explanation {
        title: scenario.name(),
        shows: scenario.shows.clone(),
        changed: scenario.changed.clone(),
        section: full.device.laws.section,
        releases: full.release.is_some(),
        round_k: ledger.value("T_h").unwrap_or(f64::NAN),
        chapters: ledger.finish(),
        sources: scenario.sources.clone(),
        cautions: CAUTIONS.to_vec(),
    };
    Ok((explanation, full))
}

/// What concerns sheets that are taken into a class room.
pub(crate) const CAUTIONS: [Caution; 4] = [
    Caution::Teaching,
    Caution::DeliberateOverload,
    Caution::ModelEstimate,
    Caution::NeverRaise,
];

/// Stops early where nothing is left to compute, and says why.
fn chapters(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    if !bending::write(full, ledger)? {
        return Ok(());
    }
    if !(blade::write(full, ledger)? && latch::write(full, ledger)?) {
        return Ok(());
    }
    heating::write(full, ledger)?;
    faces::write(full, ledger)?;
    times::write(full, ledger)?;
    duty::write(full, ledger)?;
    wear::write(full, ledger)
}
