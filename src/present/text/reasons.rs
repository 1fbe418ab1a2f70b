//! Why the answers are what they are, and how sure they are.

use super::page::Page;
use crate::predict::Outcome;
use crate::present::{sentences, words};

/// Sources that take more than this many characters are counted, not listed.
const MOST_SOURCES: usize = 200;

/// Temperatures, travel, drop and power behind the answers.
pub(super) fn why(page: &mut Page, outcome: &Outcome) {
    page.heading("Why");
    for (name, value) in sentences::why(outcome) {
        page.item(name, &value);
    }
}

/// How wrong the numbers may be, and what is behind them.
pub(super) fn sure(page: &mut Page, outcome: &Outcome) {
    page.heading("How sure  (numerical error only; tolerances of a real part come on top)");
    for (name, value) in sentences::sure(outcome) {
        page.item(name, &value);
    }
    if !outcome.citations.is_empty() {
        let all = outcome.citations.join("; ");
        let count = outcome.citations.len();
        let many = format!("{count}, listed under `citations` in result.json");
        page.item(
            "Sources",
            if all.chars().count() <= MOST_SOURCES {
                &all
            } else {
                &many
            },
        );
    }
    if !outcome.not_modelled.is_empty() {
        let list = outcome.not_modelled.iter().map(|n| words::not_modelled(*n));
        page.item("Not modelled", &list.collect::<Vec<_>>().join("; "));
    }
}
