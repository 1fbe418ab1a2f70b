//! Which evidence bears most on a verdict: by its kind, for the causes that the verdict is about.
//!
//! A drop across the part speaks about a joint more directly than a trip time does. The order is common practice,
//! no source; nothing is weighed here.

use crate::diagnose::{Cause, Diagnosis, EvidenceLine, Verdict};
use crate::evidence::{AirPlace, Case, Meter, Outcome, Setting, Unit};

/// Kinds of evidence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// True-RMS current.
    TrueCurrent,
    /// Current read with another meter.
    Current,
    AirAtThePart,
    AirInTheRoom,
    Start,
    Drop,
    Terminals,
    /// A test of this part away from the machine.
    Bench,
    /// The part as new, or a twin.
    Sister,
    /// A trip under a recorded current.
    Recorded,
    Trip,
    Hold,
}

use Kind::*;

/// Kinds in the order in which they bear on a cause.
fn order(cause: Cause) -> &'static [Kind] {
    match cause {
        Cause::Overload | Cause::WrongRating => {
            &[TrueCurrent, Recorded, Current, Trip, Bench, AirAtThePart]
        }
        Cause::StartOrStall => &[Start, Recorded, TrueCurrent, Current, Trip],
        Cause::HotSurroundings => &[AirAtThePart, Hold, TrueCurrent, AirInTheRoom, Current],
        Cause::BadConnection => &[Drop, Terminals, TrueCurrent, AirAtThePart, Current],
        Cause::WornEarly => &[
            Bench,
            Sister,
            TrueCurrent,
            AirAtThePart,
            Recorded,
            Trip,
            Current,
        ],
        Cause::WornLate => &[Bench, Sister, Hold, Recorded, TrueCurrent],
        Cause::NothingWrong => &[Hold, Bench, TrueCurrent, Recorded, Trip],
    }
}

/// The evidence that bears most on the verdict, at most so many lines, in the order of the record.
pub(in crate::present) fn that_bear_most<'a>(
    diagnosis: &'a Diagnosis,
    case: &Case,
    most: usize,
) -> Vec<&'a EvidenceLine> {
    let kinds: Vec<Option<Kind>> = diagnosis
        .evidence
        .iter()
        .map(|line| kind_of(case, line))
        .collect();
    let mut chosen: Vec<usize> = Vec::new();
    let take = |k: usize, chosen: &mut Vec<usize>| {
        if chosen.len() < most && !chosen.contains(&k) {
            chosen.push(k);
        }
    };
    let orders: Vec<&[Kind]> = about(diagnosis).into_iter().map(order).collect();
    let longest = orders.iter().map(|o| o.len()).max().unwrap_or(0);
    // The best kind of every cause comes before the second best of any; one line of a kind before two.
    for rank in 0..longest {
        for kind in orders.iter().filter_map(|o| o.get(rank)) {
            if let Some(k) = kinds.iter().position(|k| *k == Some(*kind)) {
                take(k, &mut chosen);
            }
        }
    }
    for k in 0..kinds.len() {
        take(k, &mut chosen);
    }
    chosen.sort_unstable();
    chosen.iter().map(|k| &diagnosis.evidence[*k]).collect()
}

/// The causes that the verdict is about.
fn about(diagnosis: &Diagnosis) -> Vec<Cause> {
    let together = diagnosis.combinations.iter().find(|c| c.causes.len() > 1);
    match (diagnosis.verdict, together) {
        (Verdict::TwoCauses, Some(both)) => both.causes.clone(),
        _ => diagnosis
            .causes
            .first()
            .map(|c| c.cause)
            .into_iter()
            .collect(),
    }
}

fn kind_of(case: &Case, line: &EvidenceLine) -> Option<Kind> {
    let label = line.label.as_str();
    if let Some(r) = case.readings.iter().find(|r| r.label == label) {
        return Some(if r.meter == Meter::TrueRms {
            TrueCurrent
        } else {
            Current
        });
    }
    if let Some(a) = case.air.iter().find(|a| a.label == label) {
        return Some(match a.place {
            AirPlace::AtThePart => AirAtThePart,
            AirPlace::InTheRoom => AirInTheRoom,
        });
    }
    if case.start.as_ref().is_some_and(|s| s.label == label) {
        return Some(Start);
    }
    if case.drops.iter().any(|d| d.label == label) {
        return Some(Drop);
    }
    if case.terminals.as_ref().is_some_and(|t| t.label == label) {
        return Some(Terminals);
    }
    let event = case.events.iter().find(|e| e.label == label)?;
    Some(match (event.unit, &event.setting, event.outcome) {
        (Unit::AsNew | Unit::Twin, ..) => Sister,
        (_, Setting::Bench { .. }, _) => Bench,
        (_, Setting::Recorded(_), _) => Recorded,
        (_, _, Outcome::Held { .. }) => Hold,
        _ => Trip,
    })
}
