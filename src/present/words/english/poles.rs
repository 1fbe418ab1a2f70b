//! Poles on one trip bar, and a phase that is lost.

use super::{list, never, trip_time, trip_why};
use crate::answer::{TripTime, Wait};
use crate::predict::{LostPhase, PoleSet, Poles};
use crate::present::number::{duration, significant};
use crate::scenario::BarKind;

/// How the strips release the part.
pub(crate) fn bar(kind: BarKind) -> &'static str {
    match kind {
        BarKind::Sum => word!("their pushes add on one bar"),
        BarKind::Any => word!("each has a latch of its own, and one trips all"),
        BarKind::Differential => word!("a differential bar trips sooner when they bend unevenly"),
    }
}

/// "all 3 poles", "poles 1 and 2", "pole 1".
pub(crate) fn loaded(set: &PoleSet, of: &Poles) -> String {
    if set.loaded.len() == of.count && of.count > 1 {
        return say!("all {} poles", of.count);
    }
    let numbers: Vec<String> = set.loaded.iter().map(usize::to_string).collect();
    let numbers: Vec<&str> = numbers.iter().map(String::as_str).collect();
    let name = if numbers.len() == 1 {
        word!("pole")
    } else {
        word!("poles")
    };
    format!("{name} {}", list(&numbers))
}

/// What a phase lost from a steady run brings.
pub(crate) fn lost_phase(lost: &LostPhase) -> String {
    let others = say!(
        "Phase {} lost while {} A runs: {} A in the others",
        lost.lost,
        significant(lost.running_a, 3),
        significant(lost.current_a, 3)
    );
    match &lost.trip_time {
        TripTime::HoldsForEver => {
            say!("{others}, and it {} trips: the motor is not protected against this.", never(); others)
        }
        time => match trip_why(time) {
            None => {
                let trips = trip_time(time, 3);
                match &lost.relatch_wait {
                    Wait::After(time) => say!(
                        "{others}; it trips {trips} after the loss, and can be reset {} later.",
                        duration(time.value, 3)
                    ; others, trips),
                    _ => say!("{others}; it trips {trips} after the loss."; others, trips),
                }
            }
            Some(why) => format!("{others}; {why}."),
        },
    }
}

/// Of a machine on fewer phases than a differential bar has poles.
pub(crate) fn looped() -> &'static str {
    word!(
        "A differential bar takes poles without current for a lost phase: a single-phase \
     machine must loop its current through all poles in series. Is it wired so?"
    )
}
