//! The screen: the one next measurement with its outcomes, and the waits.

use super::lines::{one_line, say, together};
use crate::answer::Place;
use crate::diagnose::{Diagnosis, Energise, Verdict, Waits};
use crate::present::cautions::Caution;
use crate::present::text::page::Page;
use crate::present::verdict::{effort, percent, span_of_time, waits_remark};

/// Outcomes that are told.
const OUTCOMES: usize = 3;

/// What to measure next. The caution about live work stands there in any case, because every verdict ends with a
/// reading or a test.
pub(super) fn next(page: &mut Page, diagnosis: &Diagnosis, cautions: &[Caution]) {
    let best = diagnosis.next.first();
    match best {
        None => {
            page.push("5  What to measure next?   Nothing more would change what to do.".to_owned())
        }
        Some(best) => {
            let what = format!("{} ({}).", best.what, effort(best));
            say(page, "5  What to measure next?   ", &what, 2);
        }
    }
    together(page, "!  ", cautions, &[Place::Measuring]);
    let uses_trips = best.is_some_and(|b| b.trips_used > 0.0);
    if uses_trips || diagnosis.verdict == Verdict::ReplaceTheProtector {
        together(page, "!  ", cautions, &[Place::Testing]);
    }
    let Some(best) = best else { return };
    say(page, "   ", &best.how, 2);
    for outcome in best.outcomes.iter().take(OUTCOMES) {
        let probability = percent(outcome.probability);
        let text = format!("{} ({probability}): {}", outcome.outcome, outcome.meaning);
        page.push(one_line("   -> ", &text));
    }
}

/// How long to wait after a trip.
pub(super) fn waits(page: &mut Page, diagnosis: &Diagnosis, cautions: &[Caution]) {
    page.push("6  How long to wait after a trip?   (counted from open contacts)".to_owned());
    let text = match (&diagnosis.waits, diagnosis.energise == Energise::Yes) {
        (Some(waits), true) => told(waits),
        // Numbers would invite to try.
        (Some(_), false) => {
            "Do not reset now. The waits after it is mended and released: --full.".to_owned()
        }
        (None, _) => waits_remark(diagnosis).unwrap_or_default().to_owned(),
    };
    say(page, "   ", &text, 2);
    together(
        page,
        "!  ",
        cautions,
        &[Place::BeforeWaits, Place::BesideWaits],
    );
}

/// The waits, once: where their sentence gives the numbers, it stands alone.
fn told(waits: &Waits) -> String {
    let reset = waits.reset_s.as_ref().and_then(span_of_time);
    let start = waits.start_s.as_ref().and_then(span_of_time);
    let says = |told: &Option<String>| {
        told.as_ref().is_none_or(|told| {
            let median = told.split(" (").next().unwrap_or(told);
            waits.sentence.contains(&format!("after {median}"))
        })
    };
    if says(&reset) && says(&start) {
        return waits.sentence.clone();
    }
    let numbers = match (reset, start) {
        (Some(reset), Some(start)) if reset == start => {
            format!("The latch holds, and the machine can be started, after {reset}.")
        }
        (Some(reset), Some(start)) => {
            format!("The latch holds after {reset}; the machine can be started after {start}.")
        }
        (Some(reset), None) => format!("The latch holds after {reset}."),
        (None, Some(start)) => format!("The machine can be started after {start}."),
        (None, None) => String::new(),
    };
    format!("{numbers} {}", waits.sentence)
}
