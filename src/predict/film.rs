//! Frames of a moving picture, cut from the states kept of the main run.

use super::outcome::{Film, Frame, Moment};
use super::record::{Snapshot, shape_of};
use super::run::RunAnswer;
use crate::device::Model;
use crate::load::Programme;
use crate::scenario::{Release, Reset};

/// Frames from the start of the load to the release.
const HEATING: usize = 56;
/// The same under a repeated load, whose every burst should be seen.
const HEATING_REPEATED: usize = 100;
/// Frames of the cool-down.
const COOLING: usize = 56;

/// Times at which states are wanted.
pub(super) fn frame_times(
    main: &RunAnswer,
    load: &Programme,
    release: &Release,
) -> Vec<(f64, Moment)> {
    let end = main.trip_time_s.unwrap_or(main.end_s);
    let count = if load.period_s().is_some() {
        HEATING_REPEATED
    } else {
        HEATING
    };
    let mut times: Vec<f64> = (0..=count).map(|k| end * k as f64 / count as f64).collect();
    if let (Some(trip), Some(wait)) = (main.trip_time_s, main.relatch_wait_s) {
        let opened = trip + release.opening_time_s;
        let until = cooled(release) * wait;
        times.extend((1..=COOLING).map(|k| opened + until * k as f64 / COOLING as f64));
    }
    times.into_iter().map(|t| (t, Moment::Frame)).collect()
}

/// How far the drawn cooling goes, as a multiple of the wait: a little beyond relatch, but only to
/// it where the contacts close by themselves.
pub(super) fn cooled(release: &Release) -> f64 {
    match release.reset {
        Reset::Automatic => 1.0,
        Reset::ByHand => 1.15,
    }
}

/// Puts the frames in order.
pub(super) fn film(model: &Model, snapshots: &[Snapshot]) -> Film {
    let (mut heating, mut cooling) = (Vec::new(), Vec::new());
    for snapshot in snapshots.iter().filter(|s| s.moment == Moment::Frame) {
        let frame = Frame {
            state: snapshot.seen.clone(),
            shape: shape_of(model, snapshot),
        };
        if snapshot.closed {
            heating.push(frame);
        } else {
            cooling.push(frame);
        }
    }
    Film { heating, cooling }
}
