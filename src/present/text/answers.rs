//! The three answers: does it trip and when, how long to wait, what lost preload does.

use super::page::Page;
use super::{cautions_at, tables};
use crate::answer::Place;
use crate::predict::Outcome;
use crate::present::cautions::Caution;
use crate::present::sentences;

/// Answer 1.
pub(super) fn trip(page: &mut Page, outcome: &Outcome) {
    page.heading("1  Does it trip?");
    for sentence in sentences::trip(outcome) {
        page.wrap("  ", &sentence);
    }
}

/// Answer 2.
pub(super) fn waits(page: &mut Page, outcome: &Outcome, cautions: &[Caution]) {
    page.heading("2  How long to wait?  (counted from open contacts)");
    cautions_at(page, cautions, Place::BeforeWaits);
    for (name, value) in sentences::waits(outcome) {
        page.item(name, &value);
    }
    tables::premature_reset(page, outcome);
    cautions_at(page, cautions, Place::BesideWaits);
}

/// Answer 3.
pub(super) fn preload(page: &mut Page, outcome: &Outcome) {
    page.heading("3  What does lost spring preload do?");
    page.wrap("  ", &sentences::preload(outcome).join(" "));
    tables::preload_shift(page, outcome);
}
