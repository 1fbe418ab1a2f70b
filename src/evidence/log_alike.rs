//! Trips of a log that are alike: one stands for all of them.
//!
//! A machine that trips twenty times in an afternoon tells the same twenty times over: what scatters
//! from trip to trip is known, and what they share - the part, its place, the meter - is not known
//! better by the twentieth. So the most unlike are weighed one by one, and each of the others counts
//! with the one that it is most like. What a part was at when it was closed again is hardly told by
//! which trip opened it: it was at its release then.

use super::{Before, Event, Outcome, Setting};
use crate::load::Current;

/// Trips of one log that are weighed one by one.
const MOST: usize = 4;
/// Trips are alike where time, RMS current and rest before them differ by less than this, in natural
/// logarithms (common practice, no source).
const TIME: f64 = 0.2;
const CURRENT: f64 = 0.04;
const REST: f64 = 0.4;

/// The events of a log in their order, few of its trips, each with how often there was one like it.
pub(super) fn few(events: Vec<Event>) -> Vec<Event> {
    let all: Vec<usize> = (0..events.len()).filter(|k| events[*k].is_trip()).collect();
    let mut kept: Vec<usize> = all.iter().copied().take(1).collect();
    let nearest = |kept: &[usize], k: usize| {
        let to = |j: &usize| (*j, apart(&events[*j], &events[k]));
        let near = kept.iter().map(to);
        near.min_by(|a, b| a.1.total_cmp(&b.1))
    };
    while kept.len() < MOST {
        let far = all.iter().filter_map(|k| Some((*k, nearest(&kept, *k)?.1)));
        match far.max_by(|a, b| a.1.total_cmp(&b.1)) {
            Some((k, apart)) if apart > 1.0 => kept.push(k),
            _ => break,
        }
    }
    let mut times: Vec<u32> = events.iter().map(|e| e.times).collect();
    for k in all.iter().filter(|k| !kept.contains(k)) {
        if let Some((j, _)) = nearest(&kept, *k) {
            times[j] += events[*k].times;
        }
    }
    let numbered = events.into_iter().zip(times).enumerate();
    let stays = numbered.filter(|(k, (e, _))| !e.is_trip() || kept.contains(k));
    stays.map(|(_, (e, times))| Event { times, ..e }).collect()
}

/// How unlike two trips are: the largest of their differences over what counts as alike.
fn apart(one: &Event, other: &Event) -> f64 {
    let [(one_s, one_a), (other_s, other_a)] = [one, other].map(|e| (about_s(e), rms_a(e)));
    let rests = match (one.before, other.before) {
        (Before::AfterTrip { wait_s: a }, Before::AfterTrip { wait_s: b }) => {
            (a.max(1.0) / b.max(1.0)).ln().abs() / REST
        }
        (one, other) if one == other => 0.0,
        // Of other kinds: more unlike than by any number.
        _ => 100.0,
    };
    let times = (one_s / other_s).ln().abs() / TIME;
    let currents = (one_a / other_a).ln().abs() / CURRENT;
    rests.max(times.min(50.0)).max(currents.min(50.0))
}

fn about_s(event: &Event) -> f64 {
    match event.outcome {
        Outcome::Tripped { after_s } => after_s.value,
        Outcome::TrippedWithin { to_s, .. } => to_s,
        Outcome::Held { for_s } => for_s,
    }
    .max(1e-3)
}

/// RMS current of a recorded load, A; 1 where none was recorded.
fn rms_a(event: &Event) -> f64 {
    let Setting::Recorded(load) = &event.setting else {
        return 1.0;
    };
    let (heat, time_s) = load.segments.iter().fold((0.0, 0.0), |(heat, time), s| {
        let a = match s.current {
            Current::Constant(a) => a,
            Current::Linear { from_a, .. } | Current::Decay { from_a, .. } => from_a,
        };
        (heat + s.duration_s * a * a, time + s.duration_s)
    });
    (heat / f64::max(time_s, 1e-9)).sqrt().max(1e-6)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::Measured;
    use crate::load::{Programme, Repeat};

    fn trip(after_s: f64, current_a: f64, before: Before) -> Event {
        Event {
            setting: Setting::Recorded(Programme::steps([(after_s, current_a)], Repeat::Once)),
            outcome: Outcome::Tripped {
                after_s: Measured::new(after_s, 0.3),
            },
            before,
            ..Event::trip_from_cold("log: trip", 1.0)
        }
    }

    #[test]
    fn what_is_alike_counts_as_often_as_it_happened_and_what_is_not_stays() {
        let rest = Before::AfterTrip { wait_s: 120.0 };
        let mut events = vec![trip(300.0, 20.0, Before::Cold)];
        events.extend((0..18).map(|k| trip(100.0 + f64::from(k % 3), 20.0, rest)));
        events.push(trip(40.0, 31.0, rest));
        events.push(trip(1.0, 20.0, rest).that_held(600.0));
        let few = few(events);
        let told: Vec<(u32, bool)> = few.iter().map(|e| (e.times, e.is_trip())).collect();
        assert_eq!(told, [(1, true), (18, true), (1, true), (1, false)]);
        // However unlike, no more than some: none is lost.
        let all: Vec<Event> = (0..20)
            .map(|k| trip(10.0 * 1.4f64.powi(k), 20.0, Before::Cold))
            .collect();
        let few = super::few(all);
        assert_eq!(few.len(), MOST);
        assert_eq!(few.iter().map(|e| e.times).sum::<u32>(), 20);
        // The most unlike are among them.
        assert!(about_s(&few[0]) < 11.0 && about_s(&few[MOST - 1]) > 5000.0);
    }

    #[test]
    fn two_unlike_trips_stay_two() {
        let events = vec![
            trip(300.0, 20.0, Before::Cold),
            trip(200.0, 20.0, Before::Cold),
        ];
        assert_eq!(few(events.clone()), events);
    }
}
