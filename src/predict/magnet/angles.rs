//! What the moment of closing decides: the chance of a release over all closing angles, and the
//! earliest and latest.

use super::flight::{Flight, flight};
use crate::device::Magnet;
use crate::physics::closing_current::ClosingCurrent;
use crate::predict::outcome::Interval;

/// Angles that are looked at before every change between them is closed in on.
pub const LOOKED_AT: usize = 72;
/// Halvings of the angle at a change: 5° to 0.005°.
const HALVINGS: usize = 10;
const WHOLE_DEG: f64 = 360.0;

/// How many poles close together, each with the element.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Poles {
    /// One.
    One,
    /// Three, a third of a period apart; any releases all.
    Three,
}

/// What all closing angles do.
#[derive(Debug, Clone, PartialEq)]
pub struct Angles {
    /// Chance of a release within the horizon, every angle being as likely.
    pub probability: f64,
    /// Angles that release.
    pub releasing: Vec<Interval>,
    /// Release that comes first, after this many seconds, of the angles looked at.
    pub earliest_s: Option<f64>,
    /// Release that comes last.
    pub latest_s: Option<f64>,
    /// Evaluations of the current over the angles first looked at, as their mean.
    pub mean_evaluations: f64,
}

/// Look at all closing angles.
pub fn angles(magnet: &Magnet, current: &ClosingCurrent, poles: Poles, horizon_s: f64) -> Angles {
    let one = |deg: f64| -> Flight {
        flight(
            magnet,
            current,
            deg.to_radians(),
            horizon_s,
            &mut |_, _, _| (),
        )
    };
    let step_deg = WHOLE_DEG / LOOKED_AT as f64;
    let flights: Vec<Flight> = (0..LOOKED_AT).map(|k| one(k as f64 * step_deg)).collect();
    let time = |f: &Flight| f.release.map(|r| r.time_s);
    let third = LOOKED_AT / 3;
    let shifts: &[usize] = match poles {
        Poles::One => &[0],
        Poles::Three => &[0, third, 2 * third],
    };
    let of = |k: usize| -> Option<f64> {
        let times = shifts
            .iter()
            .filter_map(|s| time(&flights[(k + s) % LOOKED_AT]));
        times.reduce(f64::min)
    };
    let times: Vec<Option<f64>> = (0..LOOKED_AT).map(of).collect();
    let releases = |deg: f64| {
        let mut each = shifts.iter().map(|s| deg + *s as f64 * step_deg);
        each.any(|deg| one(deg).release.is_some())
    };
    let releasing = intervals(&times, step_deg, &releases);
    let found = || times.iter().flatten().copied();
    let sum = releasing
        .iter()
        .fold(0.0, |sum, i| sum + i.to_deg - i.from_deg);
    let evaluations: f64 = flights.iter().map(|f| f64::from(f.evaluations)).sum();
    Angles {
        probability: sum / WHOLE_DEG,
        releasing,
        earliest_s: found().reduce(f64::min),
        latest_s: found().reduce(f64::max),
        mean_evaluations: evaluations / LOOKED_AT as f64,
    }
}

/// Runs of angles that release, each end closed in on.
fn intervals(
    times: &[Option<f64>],
    step_deg: f64,
    releases: &dyn Fn(f64) -> bool,
) -> Vec<Interval> {
    let n = times.len();
    let released = |k: usize| times[k % n].is_some();
    if (0..n).all(released) {
        return vec![Interval {
            from_deg: 0.0,
            to_deg: WHOLE_DEG,
        }];
    }
    let change = |k: usize| {
        let (mut a, mut b) = (k as f64 * step_deg, (k + 1) as f64 * step_deg);
        for _ in 0..HALVINGS {
            let middle = 0.5 * (a + b);
            if releases(middle) == released(k) {
                a = middle;
            } else {
                b = middle;
            }
        }
        0.5 * (a + b)
    };
    let begins = (0..n).filter(|k| !released(*k) && released(k + 1));
    begins
        .map(|k| {
            let last = (k + 1..k + n).find(|k| !released(k + 1)).unwrap_or(k + n);
            Interval {
                from_deg: change(k),
                to_deg: change(last),
            }
        })
        .collect()
}
