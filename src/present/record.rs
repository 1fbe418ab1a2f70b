//! Every record in words and as JSON, by one name each.

use super::block::{Block, Screen, terminal};
use super::json::{diagnosis_json, run_json};
use super::{age_blocks, age_json, compare_blocks, compare_json, design_blocks, design_json};
use super::{diagnosis_blocks, failures_blocks, failures_json, fit_blocks, fit_json, run_blocks};
use super::{sweep_blocks, sweep_json, vary_blocks, vary_json, wait_blocks, wait_json};
use crate::diagnose::Diagnosis;
use crate::evidence::Case;
use crate::family::{FitAnswer, WaitAnswer};
use crate::predict::Outcome;
use crate::study::ageing::AgeOutcome;
use crate::study::compare::CompareOutcome;
use crate::study::design::DesignOutcome;
use crate::study::failures::FailuresOutcome;
use crate::study::population::VaryOutcome;
use crate::study::sweep::SweepOutcome;

mod sealed {
    /// What is told is decided here.
    pub trait Sealed {}
}

/// A record of answers: what [`text`] and [`json()`] take. A diagnosis is told beside the case that
/// it is of, as `(&diagnosis, &case)`.
pub trait Tellable: sealed::Sealed {
    /// What a person reads of it on one screen.
    #[doc(hidden)]
    fn blocks(&self) -> Vec<Block>;

    /// The record with its words beside what they are of.
    #[doc(hidden)]
    fn worded(&self) -> Result<String, serde_json::Error>;
}

macro_rules! records {
    ($($record:ty: $blocks:ident, $json:ident;)*) => {$(
        impl sealed::Sealed for $record {}
        impl Tellable for $record {
            fn blocks(&self) -> Vec<Block> {
                $blocks(self)
            }

            fn worded(&self) -> Result<String, serde_json::Error> {
                $json(self)
            }
        }
    )*};
}

records! {
    Outcome: run_blocks, run_json;
    WaitAnswer: wait_blocks, wait_json;
    AgeOutcome: age_blocks, age_json;
    FailuresOutcome: failures_blocks, failures_json;
    VaryOutcome: vary_blocks, vary_json;
    SweepOutcome: sweep_blocks, sweep_json;
    CompareOutcome: compare_blocks, compare_json;
    DesignOutcome: design_blocks, design_json;
    FitAnswer: fit_blocks, fit_json;
}

impl sealed::Sealed for (&Diagnosis, &Case) {}
impl Tellable for (&Diagnosis, &Case) {
    fn blocks(&self) -> Vec<Block> {
        diagnosis_blocks(self.0, self.1)
    }

    fn worded(&self) -> Result<String, serde_json::Error> {
        diagnosis_json(self.0)
    }
}

/// What a person reads of a record, on a plain page of 100 columns: times and currents with as many
/// digits as their error leaves standing, and every caution.
pub fn text(record: &impl Tellable) -> String {
    terminal(&record.blocks(), Screen::PLAIN)
}

/// A record as indented JSON with a final newline. JSON has no infinity and no NaN: such a number is
/// written as `null`.
///
/// # Errors
/// When the record cannot be serialised.
pub fn json(record: &impl Tellable) -> Result<String, serde_json::Error> {
    record.worded()
}
