//! A part that is watched in time.

use crate::predict::{CourseRun, Event, MechanismKind, State};
use crate::present::number::{celsius, duration, significant};

/// What is written at an event in a figure, and whether the contacts close or may.
pub(crate) fn event_flag(event: Event) -> Option<(&'static str, bool)> {
    match event {
        Event::Release => Some((word!("trips"), false)),
        Event::Relatch => Some((word!("can be reset"), true)),
        Event::ClosesByItself => Some((word!("closes"), true)),
        Event::Reset => Some((word!("reset"), true)),
        Event::AlreadyClosed => Some((word!("reset"), false)),
        Event::ResetRefused => Some((word!("refused"), false)),
        _ => None,
    }
}

/// How long the contacts carried.
pub(crate) fn carried(run: &CourseRun) -> String {
    match run.released_s {
        Some(released_s) => {
            let carried = duration(released_s - run.from_s, 4);
            say!("carried for {carried}, then tripped"; carried)
        }
        None => word!("carried to the end of the record").to_owned(),
    }
}

/// What it does at a moment.
pub(crate) fn reading(state: &State, mechanism: MechanismKind) -> String {
    let does = match state.closed {
        true => say!("carrying {} A", significant(state.current_a, 3)),
        false => word!("open, cooling").to_owned(),
    };
    say!(
        "{does} · hottest point {} · {} {} mm",
        celsius(Some(state.strip_peak_c), 0),
        super::mechanism(mechanism).moved[0],
        significant(state.tip_deflection_mm, 3)
    ; does)
}
