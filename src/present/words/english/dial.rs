//! A dial by which the rated current is set.

use super::{list, of_memory};
use crate::predict::{Dial, DialMark};
use crate::present::language::worded;
use crate::present::number::{celsius, fixed, plain};

/// To what it is turned, and what each mark means.
pub(crate) fn dial(dial: &Dial) -> String {
    say!(
        "Set to {} A. Every mark has the clearance with which the part as new, in its reference air, just \
         trips at {} times the mark; lost preload moves all of them alike.",
        plain(dial.set_a),
        plain(dial.trips_at)
    )
}

/// How the ends of the scale stand against the published limits.
pub(crate) fn dial_verdict(dial: &Dial) -> Option<String> {
    let rows = dial.ends().next()?.limits.len();
    let source = worded(&dial.ends().next()?.limits.first()?.source);
    let end = |mark: &DialMark| {
        let met = mark.limits.iter().filter(|l| l.met).count();
        let memory = of_memory(&mark.limits);
        say!("at {} A {met} of {rows} rows met{memory}", plain(mark.mark_a); met, rows, memory)
    };
    let ends: Vec<String> = dial.ends().map(end).collect();
    let ends: Vec<&str> = ends.iter().map(String::as_str).collect();
    Some(say!(
        "Both ends of the scale against their limits: {} [{source}]",
        list(&ends)
    ; source))
}

/// What the hottest end asks of the winding's insulation; nothing where it stands it.
pub(crate) fn dial_too_hot(dial: &Dial) -> Option<String> {
    let (limit_c, hottest) = (dial.winding_limit_c?, dial.ends().last()?);
    let winding_c = hottest.winding_c.filter(|c| *c > limit_c)?;
    Some(say!(
        "At its highest mark the winding comes to {}, its insulation stands {}.",
        celsius(Some(winding_c), 0),
        celsius(Some(limit_c), 0)
    ))
}

/// How much further apart the ends are in travel than in current.
pub(crate) fn dial_span(dial: &Dial) -> Option<String> {
    let (low, high) = (dial.ends().next()?, dial.ends().last()?);
    Some(say!(
        "From end to end the current is {} times as large and the clearance {} times.",
        fixed(high.mark_a / low.mark_a, 2),
        fixed(high.travel_mm / low.travel_mm, 2)
    ))
}

/// Of every dial.
pub(crate) fn set_it_to_the_motor() -> &'static str {
    word!(
        "A dial is set to the current on the motor's plate, and \
     never higher to stop the tripping."
    )
}
