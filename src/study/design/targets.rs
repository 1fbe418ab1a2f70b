//! What is free and what is wanted.

use super::cost::Cost;
use super::want::Want;
use crate::quantity::{Dimension, Quantity, format_in_file};
use crate::scenario::Scenario;
use crate::standards::{Limit, PublishedLimits};

/// A task: a scenario, what may be changed in it, and what is wanted of it.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Targets {
    /// What the task is called.
    pub title: String,
    /// The scenario that everything else is taken from, as the file names it.
    pub name: String,
    /// Its text.
    pub text: String,
    /// What it says.
    pub scenario: Scenario,
    /// What may be changed.
    pub free: Vec<Free>,
    /// What is wanted; the rows of documents stand last, a document after the other.
    pub wants: Vec<Want>,
    /// Documents that are to be met.
    pub documents: Vec<Document>,
    /// The formula of the cost.
    pub cost: Option<Cost>,
}

impl Targets {
    /// The want that is to go as far as it can.
    pub(super) fn aim(&self) -> Option<usize> {
        self.wants.iter().position(|want| want.aim.is_some())
    }

    /// Whether a share of the units of a lot is wanted.
    pub(super) fn asks_for_units(&self) -> bool {
        self.documents.iter().any(|d| d.share.is_some())
    }
}

/// Published limits that are to be met.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Document {
    /// The document.
    pub limits: &'static PublishedLimits,
    /// Its rows for such a part.
    pub rows: Vec<Limit>,
    /// By which share of the units of a lot; `None`: by the part as it is drawn.
    pub share: Option<f64>,
}

/// Something that may be changed.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Free {
    /// Path in the scenario.
    pub path: String,
    /// What it may be.
    pub choice: Choice,
    /// How its value scatters in the scenario, as it stands there behind the number.
    pub tolerance: String,
}

impl Free {
    /// What stands in the scenario at a place of the choice.
    pub(super) fn text(&self, at: f64) -> String {
        self.choice.text(at) + &self.tolerance
    }
}

/// What a free thing may be.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Choice {
    /// Any number from the first to the second, SI.
    Between([f64; 2], Dimension),
    /// One of these numbers, SI, in rising order.
    Stock(Vec<f64>, Dimension),
    /// One of these words.
    Words(Vec<String>),
}

impl Choice {
    /// What stands in the scenario at a place of the choice, 0..=1; words go by their number.
    pub(super) fn text(&self, at: f64) -> String {
        match self {
            Self::Words(words) => words[at as usize].clone(),
            Self::Between(_, dimension) | Self::Stock(_, dimension) => {
                format_in_file(self.si(at), *dimension)
            }
        }
    }

    /// The number at a place, SI.
    pub(super) fn si(&self, at: f64) -> f64 {
        self.ends()
            .map_or(0.0, |[low, high]| low + at * (high - low))
    }

    /// The number as a text says it at a place, SI.
    pub(super) fn said(&self, at: f64) -> f64 {
        let read = match self {
            Self::Words(_) => None,
            Self::Between(_, dimension) | Self::Stock(_, dimension) => {
                Quantity::read(&self.text(at), *dimension).ok()
            }
        };
        read.map_or(self.si(at), |read| read.value_si)
    }

    /// The place of a number.
    pub(super) fn place(&self, si: f64) -> f64 {
        self.ends().map_or(0.0, |[low, high]| {
            ((si - low) / (high - low).max(f64::MIN_POSITIVE)).clamp(0.0, 1.0)
        })
    }

    /// Least and most, SI.
    pub(super) fn ends(&self) -> Option<[f64; 2]> {
        match self {
            Self::Between(ends, _) => Some(*ends),
            Self::Stock(list, _) => Some([*list.first()?, *list.last()?]),
            Self::Words(_) => None,
        }
    }
}
