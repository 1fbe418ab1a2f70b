//! A part that is watched in time.

use crate::predict::{CourseRun, Event, MechanismKind, State};
use crate::present::number::{celsius, duration, significant};

/// What is written at an event in a figure, and whether the contacts close or may.
pub(crate) fn event_flag(event: Event) -> Option<(&'static str, bool)> {
    match event {
        Event::Release => Some(("trips", false)),
        Event::Relatch => Some(("can be reset", true)),
        Event::ClosesByItself => Some(("closes", true)),
        Event::Reset => Some(("reset", true)),
        Event::AlreadyClosed => Some(("reset", false)),
        Event::ResetRefused => Some(("refused", false)),
        _ => None,
    }
}

/// How long the contacts carried.
pub(crate) fn carried(run: &CourseRun) -> String {
    match run.released_s {
        Some(released_s) => {
            let carried = duration(released_s - run.from_s, 4);
            format!("carried for {carried}, then tripped")
        }
        None => "carried to the end of the record".to_owned(),
    }
}

/// What it does at a moment.
pub(crate) fn reading(state: &State, mechanism: MechanismKind) -> String {
    let does = match state.closed {
        true => format!("carrying {} A", significant(state.current_a, 3)),
        false => "open, cooling".to_owned(),
    };
    format!(
        "{does} · hottest point {} · {} {} mm",
        celsius(Some(state.strip_peak_c), 0),
        super::mechanism(mechanism).moved[0],
        significant(state.tip_deflection_mm, 3)
    )
}
