//! What is looked at depends on what is wrong: a late part was always timed, a machine that trips
//! never held. Whoever knows how the notes are made reads that off what stands in them; a
//! technician cannot.

use crate::outside::machine::Fault;
use crate::outside::notes::{AGAIN, Entry, Notes, READ_FIRST};

/// Kinds of looks that are drawn from.
const KINDS: usize = 9;

/// Logarithm of the chance that just these kinds of entries are there.
pub fn habit(notes: &Notes, faults: &[Fault]) -> f64 {
    let (least, span) = notes.level.wanted();
    let wanted = (least..least + span).map(|w| looked(notes, faults, w));
    let looked = wanted.sum::<f64>() / span as f64;
    (told_of_trips(notes, faults) * looked).ln()
}

fn told_of_trips(notes: &Notes, faults: &[Fault]) -> f64 {
    let once = notes.has(|e| matches!(e, Entry::Once { after: None }));
    let timed = notes.has(|e| matches!(e, Entry::Trip { .. } | Entry::Once { after: Some(_) }));
    match faults {
        [] => 0.5 * f64::from(u8::from(once || timed)),
        [Fault::Late] => f64::from(u8::from(!once && !timed)),
        _ => f64::from(u8::from(timed)),
    }
}

/// Chance of the kinds that are there where so many are wanted.
fn looked(notes: &Notes, faults: &[Fault], wanted: usize) -> f64 {
    let late = faults == [Fault::Late];
    let trips = !late && !faults.is_empty();
    let again = match notes.has(|e| matches!(e, Entry::Again { .. })) {
        true if trips && wanted > 2 => AGAIN,
        true => 0.0,
        false if trips && wanted > 2 => 1.0 - AGAIN,
        false => 1.0,
    };
    let read = notes.has(|e| matches!(e, Entry::Reading { .. }));
    let held = notes.has(|e| matches!(e, Entry::Held { .. }));
    let captured = notes.has(|e| matches!(e, Entry::Captured { .. }));
    let swapped = captured || notes.has(|e| matches!(e, Entry::Swap { .. }));
    let others = notes.entries.iter().filter(|e| {
        use Entry::{Air, Bench, Drop, Terminals};
        match e {
            Bench { as_new, .. } => *as_new || !late,
            _ => matches!(e, Air { .. } | Drop { .. } | Terminals { .. }),
        }
    });
    // Kinds that may have been drawn and left nothing: a hold of what trips, a twin of what does
    // not.
    let left_nothing = usize::from(if trips { !held } else { !swapped });
    let seen = others.count() + usize::from(read) + usize::from(held) + usize::from(swapped);
    let of = |first: bool| {
        if first && !read {
            return 0.0;
        }
        let kinds = KINDS - usize::from(first) - usize::from(late);
        let drawn = wanted.saturating_sub(1);
        let seen = seen - usize::from(first);
        match drawn.checked_sub(seen) {
            Some(more) if more <= left_nothing => {
                choices(left_nothing, more) / choices(kinds, drawn)
            }
            _ => 0.0,
        }
    };
    again
        * match wanted {
            0 => of(false),
            _ => READ_FIRST * of(true) + (1.0 - READ_FIRST) * of(false),
        }
}

/// So many of so many.
fn choices(of: usize, take: usize) -> f64 {
    (0..take).fold(1.0, |c, k| c * (of - k) as f64 / (k + 1) as f64)
}
