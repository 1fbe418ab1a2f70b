//! Failures per year.

use super::years;
use crate::present::number::{plain, significant};
use crate::statistics::importance::RareShare;
use crate::study::failures::{Failure, FailuresWarning, ReturnedRecord, WayRecord};

/// The question a way of failing answers.
pub(crate) fn failure_asked(failure: Failure) -> &'static str {
    match failure {
        Failure::LeavesLimitsLate => word!("LATE: trips later than its limits allow, or never"),
        Failure::TripsInService => word!("EARLY: trips at a load of its duty"),
        Failure::LeavesLimitsEarly => word!("EARLY: does not hold as long as its limits demand"),
    }
}

/// A way of failing, in a word or two.
pub(crate) fn failure_short(failure: Failure) -> &'static str {
    match failure {
        Failure::LeavesLimitsLate => word!("late"),
        Failure::TripsInService => word!("trips in service"),
        Failure::LeavesLimitsEarly => word!("outside its early limit"),
    }
}

/// A share as so many of a million, with its interval.
pub(crate) fn of_a_million(of: &RareShare) -> String {
    if of.share == 0.0 {
        return say!("none ({} at most)", million(of.high));
    }
    say!(
        "{} ({} to {})",
        million(of.share),
        million(of.low),
        million(of.high)
    )
}

/// A share as a number of a million.
pub(crate) fn million(share: f64) -> String {
    significant(1e6 * share, 2)
}

/// How far the middle of everything is from failing.
pub(crate) fn nearest_failing(way: &WayRecord, horizon_years: f64) -> String {
    match way.nearest_deviations {
        Some(0.0) => say!(
            "The middle of everything itself fails within {}.",
            years(horizon_years)
        ),
        Some(far) => say!(
            "The nearest unit that fails within {} is {} standard deviations from the middle.",
            years(horizon_years),
            significant(far, 3)
        ),
        None => say!(
            "No unit within 7.5 standard deviations of the middle fails within {}.",
            years(horizon_years)
        ),
    }
}

/// Parts that came back against what was expected.
pub(crate) fn returned(record: &ReturnedRecord) -> String {
    let [low, middle, high] = record.expected.map(|e| significant(e, 3));
    let verdict = if record.chance < 0.001 {
        word!("the rates do NOT explain it").to_owned()
    } else if record.chance < 0.05 {
        say!(
            "chance {} %: doubtful",
            significant(100.0 * record.chance, 2)
        )
    } else {
        word!("as predicted").to_owned()
    };
    say!(
        "{} of {} seen, {middle} expected ({low} to {high}); {verdict}",
        record.seen, record.parts
    ; middle, low, high, verdict)
}

/// A warning.
pub(crate) fn failures_warning(warning: &FailuresWarning) -> String {
    match warning {
        FailuresWarning::NotDrawn { path } => {
            say!("the tolerance of {path} is not drawn: all units have its stated value"; path)
        }
        FailuresWarning::NothingVaries => {
            word!("no number carries a tolerance: all units fail together, or none").to_owned()
        }
        FailuresWarning::OnlyFailed => word!(
            "every part that came back had failed; how many in service had not is not known, so \
             that shares say nothing: add the sound ones"
        )
        .to_owned(),
        FailuresWarning::FewDraws { failure } => say!(
            "{}: the interval is wide; ask for more units, or see how wrong the polynomial is",
            failure_short(*failure)
        ),
    }
}

/// How units were computed.
pub(crate) fn failures_computed(outcome: &crate::study::failures::FailuresOutcome) -> String {
    let c = &outcome.computed;
    let off = c.off_m.map(|m| format!("{} µm", significant(1e6 * m, 2)));
    say!(
        "{} units, seed {}, drawn plainly and about {} places where parts fail; a polynomial through \
         {} parts of the engine; {} units close to failing asked of the engine again: margins off by \
         at most {} late, {} in service, {} early, which the intervals hold",
        outcome.units,
        outcome.seed,
        c.centres,
        c.parts_asked,
        c.checked,
        off[0],
        off[1],
        off[2]
    )
}

/// What a table of years is of.
pub(crate) fn failures_caption(confidence: f64) -> String {
    say!(
        "Of a million units, in parentheses the {} % interval",
        plain(100.0 * confidence)
    )
}
