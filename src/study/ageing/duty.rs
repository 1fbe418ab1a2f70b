//! The duty of a year as a list of states, each with its share of the year.
//!
//! A year is a thousand times longer than any thermal transient, so that what a spring feels in a
//! year is the time it spends in each quasi-steady state; the order of the states does not matter.

use crate::scenario::ageing::Duty;

/// One quasi-steady state of the duty.
#[derive(Debug, Clone, PartialEq)]
pub struct DutyState {
    /// Season and load, in words.
    pub name: String,
    /// Number of its shift; `None`: nothing is carried.
    pub shift: Option<usize>,
    /// Share of the year.
    pub share: f64,
    /// Current, A.
    pub current_a: f64,
    /// Air around the part, K.
    pub ambient_k: f64,
    /// Whether the spring is under stress.
    pub held: bool,
}

/// States of a duty, season by season, each season's shifts before its idle rest. Shares add up to
/// 1.
#[must_use]
pub fn duty_states(duty: &Duty) -> Vec<DutyState> {
    let mut states = Vec::new();
    let one = duty.seasons.len() == 1;
    for (k, season) in duty.seasons.iter().enumerate() {
        let named = |load: &str| {
            if one {
                load.to_owned()
            } else {
                format!("{}, {load}", season.name)
            }
        };
        let mut idle = 1.0;
        for (number, shift) in duty.shifts.iter().enumerate() {
            if shift.season.is_some_and(|s| s != k) {
                continue;
            }
            idle -= shift.share();
            states.push(DutyState {
                name: named(&shift.name),
                shift: Some(number),
                share: season.share * shift.share(),
                current_a: shift.current_a,
                ambient_k: shift.ambient_k(season),
                held: shift.held,
            });
        }
        // Rounding of a full week leaves no idle time.
        if idle > 1e-9 {
            states.push(DutyState {
                name: named("nothing carried"),
                shift: None,
                share: season.share * idle,
                current_a: 0.0,
                ambient_k: season.ambient_k,
                held: duty.idle_held,
            });
        }
    }
    states
}
