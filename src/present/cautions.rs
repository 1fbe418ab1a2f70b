//! Cautions for the person at the machine, chosen by what the outcome holds. They cannot be
//! switched off. The wording is our own; where a rule stands behind a caution it is named.

use super::words;
use crate::answer::{Caution as Which, Place};
use crate::predict::Outcome;

/// One caution in words, and its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// Where it stands.
    pub place: Place,
    /// In words.
    pub text: String,
}

impl From<Which> for Caution {
    fn from(which: Which) -> Caution {
        Caution {
            place: which.place(),
            text: words::caution(which).to_owned(),
        }
    }
}

/// The cautions for `outcome`, each at its place, most urgent first.
pub fn cautions(outcome: &Outcome) -> Vec<Caution> {
    in_words(&of(outcome))
}

/// Those of the record, and those that its numbers call for although the record was emptied of
/// them.
pub(in crate::present) fn of(outcome: &Outcome) -> Vec<Which> {
    let mut list = crate::predict::cautions(outcome);
    list.extend(&outcome.cautions);
    list.sort();
    list.dedup();
    list
}

/// Those of a record that go with each of its figures, which may travel alone: that parts are late,
/// how a bench is kept safe, that it starts by itself, to find the cause; and what its numbers are
/// worth, by the caution that says most of it.
pub(in crate::present) fn with_figures(record: &[Which]) -> Vec<Which> {
    let goes = |which: &&Which| {
        matches!(
            which,
            Which::NotProtected
                | Which::LateInTime
                | Which::LatePerhaps
                | Which::LateUnits
                | Which::Teaching
                | Which::StartsByItself
                | Which::FindCause
        )
    };
    let worth = [
        Which::OneOfMany,
        Which::ModelledScatter,
        Which::ReplaceBefore,
        Which::ModelEstimate,
    ];
    let worth = worth.into_iter().find(|which| record.contains(which));
    let mut list: Vec<Which> = record.iter().filter(goes).copied().chain(worth).collect();
    list.sort();
    list.dedup();
    list
}

/// Cautions of a record with their words, in its order.
pub(in crate::present) fn in_words(list: &[Which]) -> Vec<Caution> {
    list.iter().copied().map(Caution::from).collect()
}

/// The cautions beside the waits after a fall to zero in a log that is followed, most urgent first.
pub fn after_a_fall() -> [&'static str; 4] {
    [
        Which::FindCause,
        Which::StartsByItself,
        Which::NeverHold,
        Which::WindingCoolsLonger,
    ]
    .map(words::caution)
}

/// What stands over a log that is followed.
pub fn over_a_watch() -> [&'static str; 2] {
    [Which::NeverRaise, Which::ModelEstimate].map(words::caution)
}
