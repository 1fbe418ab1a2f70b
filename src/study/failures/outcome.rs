//! The record of failures per year. Early and late are three questions and are never added up.

use crate::answer::Caution;
use crate::predict::MechanismKind;
use crate::scenario::{Reset, UsedFor};
use crate::statistics::importance::RareShare;
use crate::study::ageing::{AgeNotModelled, Drawn};
use serde::{Deserialize, Serialize};

/// Layout of the record.
pub const FORMAT: u32 = 1;

/// A way of failing.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Failure {
    /// Late: it does not trip as soon as its published limits demand.
    LeavesLimitsLate,
    /// Early: it trips at a load of its duty.
    TripsInService,
    /// Early: it does not hold as long as its published limits demand.
    LeavesLimitsEarly,
}

impl Failure {
    /// In the order in which they are told.
    pub const ALL: [Self; 3] = [
        Self::LeavesLimitsLate,
        Self::TripsInService,
        Self::LeavesLimitsEarly,
    ];
}

/// Failures of units that differ, over the years.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct FailuresOutcome {
    /// Layout of this record.
    pub format: u32,
    /// Version of the program.
    pub version: String,
    /// Title of the scenario.
    pub scenario: String,
    /// Its story.
    pub shows: String,
    /// Whether equipment depends on the part.
    #[serde(default, skip_serializing_if = "UsedFor::is_equipment")]
    pub used_for: UsedFor,
    /// What was set in the scenario since it was written, as `path = value`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub changed: Vec<String>,
    /// Where the constants of wear come from, in the author's words.
    pub constants_from: String,
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Latch or snap blade.
    pub mechanism: MechanismKind,
    /// By hand or automatic.
    pub reset: Reset,
    /// Years looked at.
    pub years: f64,
    /// Units drawn, most of them where parts fail.
    pub units: u64,
    /// Seed of the draws.
    pub seed: u64,
    /// Confidence of every interval; it holds the error of the polynomial beside that of the draws.
    pub confidence: f64,
    /// Name of the published limits, if any.
    pub limits: Option<String>,
    /// What differs from unit to unit.
    pub drawn: Vec<Drawn>,
    /// Each way of failing that can be told.
    pub ways: Vec<WayRecord>,
    /// How the units were computed.
    pub computed: Computed,
    /// Parts taken back, held against the rates.
    pub returned: Option<Vec<ReturnedRecord>>,
    /// Warnings.
    pub warnings: Vec<FailuresWarning>,
    /// What the model leaves out.
    pub not_modelled: Vec<AgeNotModelled>,
    /// Cautions.
    pub cautions: Vec<Caution>,
    /// Sources.
    pub citations: Vec<String>,
}

/// One way of failing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct WayRecord {
    /// Which.
    pub failure: Failure,
    /// Standard deviations from the middle of everything to the nearest unit that fails within the
    /// years; 0: the middle itself fails; `None`: there is none within 7.5.
    pub nearest_deviations: Option<f64>,
    /// Year by year.
    pub by_year: Vec<YearRecord>,
    /// Which spread to halve, the one that saves most first.
    pub saved: Vec<SavedRecord>,
}

/// Failures by one year.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct YearRecord {
    /// Years from new.
    pub years: f64,
    /// Share of all units that have failed by then.
    pub failed: RareShare,
    /// Share of all units that fail a year, since the row before; `None` when new.
    pub per_year: Option<RareShare>,
    /// Of the units that still served, those that fail a year, since the row before.
    pub hazard_per_year: Option<f64>,
}

/// What half the spread of one number saves.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct SavedRecord {
    /// Path in the file.
    pub path: String,
    /// Share of all units that then do not fail within the years; below 0: more do.
    pub saved: RareShare,
}

/// How the units were computed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Computed {
    /// Parts that the engine was asked for, to make the polynomial.
    pub parts_asked: usize,
    /// Places to which draws were moved.
    pub centres: usize,
    /// Units close to failing that the engine was asked for again.
    pub checked: usize,
    /// Largest difference of their margins from the polynomial's, m, late, in service and early.
    pub off_m: [f64; 3],
}

/// Parts taken back in one state, held against the rates.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct ReturnedRecord {
    /// Way of failing.
    pub failure: Failure,
    /// Parts that were looked at.
    pub parts: u64,
    /// Parts that had failed so.
    pub seen: u64,
    /// As many were expected at their ages: least, middle, most.
    pub expected: [f64; 3],
    /// Chance of a number as far from what is expected, of the rates within their intervals the
    /// greatest.
    pub chance: f64,
}

/// Where rates should not be trusted blindly.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum FailuresWarning {
    /// A tolerance of wear or duty that is not drawn.
    NotDrawn {
        /// Its path.
        path: String,
    },
    /// Nothing differs from unit to unit: all fail together, or none.
    NothingVaries,
    /// All parts that came back had failed: how many had not is not known.
    OnlyFailed,
    /// So many draws were failing that the interval is wide: more units are needed.
    FewDraws {
        /// Of which way.
        failure: Failure,
    },
}
