//! Parts that let a load flow longer than any of the rating may: than the slowest part of the family by
//! far, or than a published window while they were watched.
//!
//! Superposition answers it: what it is off is nothing beside a factor of two.

use super::scales::Scales;
use crate::evidence::{Case, Event, Mend, Meter, Outcome, Setting, Taken, Unit, Waveform};
use crate::family::{AT_LEAST, QuickPart, Steps, Wear, draws, too_late as none_so_long};
use serde::{Deserialize, Serialize};

/// Air where none was measured, K: a place that does not freeze. Cold delays a trip.
const COLD_K: f64 = 273.15;
/// How well a record's current is known, relative (common practice, no source).
const RECORDED: f64 = 0.02;
/// Parts drawn.
const PARTS: u64 = 200;

/// How long a part let a load flow, and how long the slowest of the family would.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Passed {
    /// Without a trip until then, s.
    pub time_s: f64,
    /// When the slowest part has opened under that load, from cold in cold air, s.
    pub latest_s: f64,
}

/// A part that is late by the entries of a case.
#[derive(Debug, Clone, PartialEq)]
pub struct TooLate {
    /// The entries that say so.
    pub entries: Vec<String>,
    /// A record or a bench shows it, not a current that was read now and then.
    pub is_shown: bool,
    /// How late.
    pub passed: Passed,
}

/// A load that went on for twice the time, or with twice the heat, that the slowest part needs, or for
/// longer than a published window allows; one that was recorded or sent through on a bench before one that was read.
pub fn too_late(scales: &Scales<'_>) -> Option<TooLate> {
    let events = scales.case.events.iter().enumerate();
    let all = events.filter_map(|(k, event)| of_event(scales, k, event));
    all.min_by_key(|late| !late.is_shown)
}

fn of_event(scales: &Scales<'_>, k: usize, event: &Event) -> Option<TooLate> {
    let case = scales.case;
    let time_s = match event.outcome {
        Outcome::Tripped { after_s } => after_s.value - 2.0 * after_s.standard_uncertainty,
        Outcome::TrippedWithin { from_s, .. } => from_s,
        Outcome::Held { for_s } => for_s,
    };
    let is_replaced = case.is_undone(event.mended, &[Mend::Protector]);
    if event.unit != Unit::ThisPart || is_replaced || !(time_s > 0.0) {
        return None;
    }
    let mut entries = vec![event.label.clone()];
    let load = match &event.setting {
        Setting::Bench { current_a } => {
            let least_a = current_a.value - 2.0 * current_a.standard_uncertainty;
            vec![(f64::INFINITY, least_a)]
        }
        Setting::Recorded(_) => {
            let pieces = scales.recorded[k].iter();
            pieces.map(|(s, a)| (*s, a * (1.0 - RECORDED))).collect()
        }
        Setting::InService { .. } => {
            let (label, shown_a, least_a) = read_a(case, event)?;
            entries.push(label);
            let latest_s = case.nameplate.latest_s(shown_a);
            if !event.is_trip() && time_s > latest_s {
                return Some(TooLate {
                    entries,
                    is_shown: false,
                    passed: Passed { time_s, latest_s },
                });
            }
            vec![(f64::INFINITY, least_a)]
        }
    };
    let loaded = match (event.is_in_service(), case.phases) {
        (false, _) => Wear::NONE,
        (true, Some(3)) => case.nameplate.loaded.without_a_phase().wear(Wear::NONE),
        (true, _) => case.nameplate.loaded.wear(Wear::NONE),
    };
    let least_k = |air: crate::evidence::Measured| air.value - 2.0 * air.standard_uncertainty;
    let air_k = scales.felt_k(event.air_k.map_or(COLD_K, least_k));
    let steps = Steps::cold(&load);
    let drawn = draws(scales.family, PARTS);
    let parts: Vec<QuickPart<'_>> = drawn
        .iter()
        .map(|d| scales.quick.part(*d, loaded))
        .collect();
    let latest_s = none_so_long(parts.len(), time_s, |k, time_s, factor| {
        parts[k].factor(&steps, air_k, time_s).0 <= factor.ln()
    })?;
    Some(TooLate {
        entries,
        is_shown: !matches!(event.setting, Setting::InService { .. }),
        passed: Passed { time_s, latest_s },
    })
}

/// The least current that flowed for as long as an event tells, A, as it was shown and as it was at
/// least, with its entry: of readings right
/// up to the trip, or of any while it held. A trip on a bench says more of the part.
fn read_a(case: &Case, event: &Event) -> Option<(String, f64, f64)> {
    let is_timed = |e: &Event| e.unit == Unit::ThisPart && !e.is_in_service() && e.is_trip();
    if case.events.iter().any(is_timed) {
        return None;
    }
    let counts = |taken| match event.is_trip() {
        true => taken == Taken::UpToTheTrip,
        false => taken != Taken::AfterReset,
    };
    let read = case.readings.iter();
    let read = read.filter(|r| counts(r.taken) && r.mended == event.mended);
    let least = read.map(|r| {
        let sure = r.meter == Meter::TrueRms || case.waveform == Waveform::Sine;
        let least_a = r.current_a.value - 2.0 * r.current_a.standard_uncertainty;
        let least_a = if sure { 1.0 } else { AT_LEAST } * least_a;
        (r.label.clone(), r.current_a.value, least_a)
    });
    least.min_by(|a, b| a.2.total_cmp(&b.2))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::{Measured, Reading};
    use crate::family::{Family, Nameplate};
    use crate::load::{Programme, Repeat};

    /// Whether it is late, and shown to be, of a 10 A part.
    fn found(events: impl IntoIterator<Item = Event>, read_a: Option<f64>) -> Option<bool> {
        let mut case = Case::of(Nameplate::of_rating(10.0));
        case.readings = read_a
            .map(|a| Reading::true_rms("clamp", a))
            .into_iter()
            .collect();
        case.events = events.into_iter().collect();
        let family = Family::new(&case.nameplate, 40).expect("a family");
        too_late(&Scales::new(&case, &family)).map(|late| late.is_shown)
    }

    fn recorded(load: &[(f64, f64)], outcome: Outcome) -> Event {
        let load = Programme::steps(load.iter().copied(), Repeat::Once);
        Event {
            setting: Setting::Recorded(load),
            outcome,
            ..Event::trip_from_cold("log: trip", 1.0)
        }
    }

    /// The usual windows end at 2 min at twice the rating: every part has opened long before 20 min
    /// at 2.3 times.
    #[test]
    fn a_record_of_twice_the_slowest_time_shows_a_late_part_whatever_came_before() {
        let idle_then_jammed = [(300.0, 6.7), (1200.0, 23.0)];
        let after_s = Measured::new(1500.0, 0.5);
        let trip = recorded(&idle_then_jammed, Outcome::Tripped { after_s });
        assert_eq!(found([trip], None), Some(true));
        let held = recorded(&idle_then_jammed, Outcome::Held { for_s: 1500.0 });
        assert_eq!(found([held], None), Some(true));
        // Long idle and hard at the end: by the heat alone.
        let after_s = Measured::new(3840.0, 0.5);
        let late = [(3600.0, 5.0), (240.0, 37.0)];
        let trip = recorded(&late, Outcome::Tripped { after_s });
        assert_eq!(found([trip], None), Some(true));
        // As slow as is allowed, and a load that some parts carry.
        let after_s = Measured::new(420.0, 0.5);
        let slow = recorded(&[(300.0, 6.7), (120.0, 20.0)], Outcome::Tripped { after_s });
        assert_eq!(found([slow], None), None);
        let carried = recorded(&[(7200.0, 12.0)], Outcome::Held { for_s: 7200.0 });
        assert_eq!(found([carried], None), None);
    }

    #[test]
    fn a_current_read_by_hand_asks_for_a_timed_trip_and_a_bench_answers() {
        let trip = Event::trip_from_cold("trip", 1140.0);
        assert_eq!(found([trip.clone()], Some(23.0)), Some(false));
        assert_eq!(found([trip.clone()], Some(12.0)), None);
        assert_eq!(
            found([trip.clone().that_held(240.0)], Some(37.0)),
            Some(false)
        );
        let timed = Event::trip_from_cold("bench", 20.0).on_bench(20.0);
        assert_eq!(found([trip.clone(), timed.clone()], Some(23.0)), None);
        let late = Event {
            outcome: Outcome::Tripped {
                after_s: Measured::new(600.0, 0.5),
            },
            ..timed
        };
        assert_eq!(found([trip, late], Some(23.0)), Some(true));
    }
}
