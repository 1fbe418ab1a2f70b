//! Which evidence bears most on a verdict: by its kind, for the causes that the verdict is about.
//!
//! A drop across the part speaks about a joint more directly than a trip time does. The order is
//! common practice, no source; nothing is weighed here.

use crate::diagnose::{
    Cause, Diagnosis, Energise, Evidence, First, Happened, Load, Says, StillOpen, Verdict,
};
use crate::evidence::{AirPlace, Meter, Unit};

/// Kinds of evidence.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Kind {
    /// True-RMS current.
    TrueCurrent,
    /// Current read with another meter.
    Current,
    /// The machine's plate.
    Plate,
    AirAtThePart,
    AirInTheRoom,
    Start,
    /// Currents of all phases, or a hum.
    Phases,
    Drop,
    Terminals,
    /// Voltage of the supply.
    Voltage,
    /// A test of this part away from the machine.
    Bench,
    /// The part as new, or a twin.
    Sister,
    /// A trip under a recorded current.
    Recorded,
    Trip,
    Hold,
    /// What was mended: the answer itself says it.
    Mended,
}

use Kind::*;

/// Kinds in the order in which they bear on a cause.
fn order(cause: Cause) -> &'static [Kind] {
    match cause {
        Cause::WrongRating => &[Plate, TrueCurrent, Recorded, Current, Trip],
        Cause::Overload => &[
            TrueCurrent,
            Recorded,
            Current,
            Trip,
            Plate,
            Voltage,
            Bench,
            AirAtThePart,
        ],
        Cause::StartOrStall => &[Start, Recorded, Trip, TrueCurrent, Current],
        Cause::LostPhase => &[Phases, TrueCurrent, Recorded, Current, Voltage, Trip, Start],
        Cause::HotSurroundings => &[AirAtThePart, Hold, TrueCurrent, AirInTheRoom, Current, Trip],
        Cause::BadConnection => &[Drop, Terminals, TrueCurrent, Current, Trip, AirAtThePart],
        Cause::WornEarly => &[
            Bench,
            Sister,
            TrueCurrent,
            AirAtThePart,
            Recorded,
            Trip,
            Current,
        ],
        Cause::WornLate => &[
            Bench,
            Sister,
            Hold,
            Recorded,
            TrueCurrent,
            Trip,
            Plate,
            Current,
        ],
        Cause::NothingWrong => &[Hold, Bench, TrueCurrent, Recorded, Trip, Current, Plate],
    }
}

/// What is plainly out of order at the machine and makes it draw more: that comes before all else.
fn out_of_order(diagnosis: &Diagnosis) -> impl Iterator<Item = &'static Kind> {
    let of_the_load = [Cause::Overload, Cause::StartOrStall, Cause::LostPhase];
    let is_load = diagnosis.about().iter().any(|c| of_the_load.contains(c));
    let draws_more = |open: &StillOpen| matches!(open, StillOpen::SupplyIsOff { draws_more, .. } if *draws_more != Some(false));
    let is_off = is_load && diagnosis.still_open.iter().any(draws_more);
    is_off.then_some(&Voltage).into_iter()
}

/// The evidence that bears most on the verdict, in the order of the record, with its number from 1:
/// as much as has room, which `takes` knows of each piece.
pub(super) fn that_bear_most(
    diagnosis: &Diagnosis,
    mut room: usize,
    takes: impl Fn(&Evidence) -> usize,
) -> Vec<(usize, &Evidence)> {
    let kinds: Vec<Kind> = diagnosis.evidence.iter().map(|e| kind(&e.says)).collect();
    let orders: Vec<&[Kind]> = diagnosis.about().into_iter().map(order).collect();
    let longest = orders.iter().map(|o| o.len()).max().unwrap_or(0);
    // What clears the joints comes next where it may be switched on before a cause is found; what
    // speaks against them comes first.
    const OF_THE_JOINTS: &[Kind] = &[Drop, Terminals];
    let clears = match (&diagnosis.energise, diagnosis.verdict) {
        (Energise::Yes, Verdict::NotEnoughEvidence | Verdict::NothingToMend) => OF_THE_JOINTS,
        _ => &[],
    };
    let is_of_a_joint = |first: &First| matches!(first, First::ReMakeTheConnection { .. });
    let condemns = match diagnosis.energise.first().iter().any(is_of_a_joint) {
        true => OF_THE_JOINTS,
        false => &[],
    };
    // The best kind of every cause comes before the second best of any; one line of a kind before
    // two.
    let of_rank = |rank: usize| orders.iter().filter_map(move |o| o.get(rank));
    let ranked = out_of_order(diagnosis)
        .chain(condemns)
        .chain(of_rank(0))
        .chain(clears)
        .chain((1..longest).flat_map(of_rank));
    let ranked = ranked.filter_map(|wanted| kinds.iter().position(|k| k == wanted));
    // What is probably wrong comes last.
    let doubted = |k: &usize| {
        let label = diagnosis.evidence[*k].label.trim();
        let mut wrong = diagnosis.does_not_fit.iter();
        wrong.any(|m| m.entry.trim() == label)
    };
    let ranked: Vec<usize> = ranked.chain(0..kinds.len()).collect();
    let (last, first): (Vec<usize>, Vec<usize>) = ranked.into_iter().partition(doubted);
    let mut chosen: Vec<usize> = Vec::new();
    for k in first.into_iter().chain(last) {
        let needs = takes(&diagnosis.evidence[k]);
        if needs <= room && !chosen.contains(&k) {
            chosen.push(k);
            room -= needs;
        }
    }
    chosen.sort_unstable();
    chosen
        .iter()
        .map(|k| (k + 1, &diagnosis.evidence[*k]))
        .collect()
}

fn kind(says: &Says) -> Kind {
    match says {
        Says::Current {
            meter: Meter::TrueRms,
            ..
        } => TrueCurrent,
        Says::Current { .. } => Current,
        Says::Air {
            place: AirPlace::AtThePart,
            ..
        } => AirAtThePart,
        Says::Air { .. } => AirInTheRoom,
        Says::Plate { .. } => Plate,
        Says::Cycles { .. } => Recorded,
        Says::Start { .. } => Start,
        Says::Phases { .. } | Says::Hums { .. } => Phases,
        Says::Mended { .. } => Mended,
        Says::Drop { .. } => Drop,
        Says::Terminals { .. } => Terminals,
        Says::Supply { .. } => Voltage,
        Says::Event {
            unit,
            load,
            outcome,
            ..
        } => match (unit, load, outcome) {
            (Unit::AsNew | Unit::Twin, ..) => Sister,
            (_, Load::Bench { .. }, _) => Bench,
            (_, Load::Recorded, _) => Recorded,
            (_, _, Happened::Held { .. }) => Hold,
            _ => Trip,
        },
    }
}
