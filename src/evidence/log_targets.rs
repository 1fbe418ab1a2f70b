//! Which stretches of a log are looked at: up to each trip, or up to the end of the last load.

use super::falls::{Fall, Falls};
use super::from_log::{FromLogError, LogQuestions, TripsAre};
use crate::logs::{CurrentKind, Layout};

/// A rest after which the programme may begin at the load, s; see [`super::from_log`].
const REST_S: f64 = 2700.0;
/// Falls named in a question.
const NAMED: usize = 6;

/// A stretch of a log that ends with a trip, or with the last load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Target {
    /// The programme begins here, s.
    pub from_s: f64,
    /// The first load within it, s.
    pub load_from_s: f64,
    /// The last moment under load that is known, s.
    pub load_to_s: f64,
    /// It tripped not before, s.
    pub not_before_s: f64,
    /// It tripped not after, s.
    pub not_after_s: f64,
    /// RMS current of the last load, A.
    pub rms_a: f64,
    /// It ended with a trip.
    pub tripped: bool,
}

pub(super) fn targets(
    falls: &Falls,
    questions: &LogQuestions,
    layout: &Layout,
    interval_s: f64,
) -> Result<Vec<Target>, FromLogError> {
    let trips = chosen(falls, questions)?;
    // The average of the interval in which the current falls may still be small: the fall may lie in the next.
    let late_s = if layout.kind == CurrentKind::Average {
        interval_s
    } else {
        0.0
    };
    let mut from_s = falls.first_s;
    let mut list = Vec::new();
    let load_after = |s: f64| falls.loads_from_s.iter().copied().find(|l| *l >= s);
    for fall in &trips {
        let load_from_s = load_after(from_s).unwrap_or(fall.load_from_s);
        if list.is_empty() && load_from_s - from_s >= REST_S {
            from_s = load_from_s;
        }
        if !list.is_empty() {
            // Closed again: when the load came back.
            from_s = load_from_s;
        }
        list.push(Target {
            from_s,
            load_from_s,
            load_to_s: fall.not_before_s.max(load_from_s + interval_s),
            not_before_s: fall.not_before_s,
            not_after_s: fall.not_after_s + late_s,
            rms_a: fall.rms_a,
            tripped: true,
        });
        from_s = fall.not_after_s;
    }
    if list.is_empty()
        && let (Some((load_to_s, rms_a)), Some(load_from_s)) = (falls.last_load, load_after(from_s))
    {
        if load_from_s - from_s >= REST_S {
            from_s = load_from_s;
        }
        list.push(Target {
            from_s,
            load_from_s,
            load_to_s,
            not_before_s: load_to_s,
            not_after_s: load_to_s,
            rms_a,
            tripped: false,
        });
    }
    Ok(list)
}

/// The falls that are trips.
fn chosen(falls: &Falls, questions: &LogQuestions) -> Result<Vec<Fall>, FromLogError> {
    let all = &falls.falls;
    let since = |f: &Fall| f.not_before_s - falls.first_s;
    match &questions.trips {
        TripsAre::None => Ok(Vec::new()),
        TripsAre::NotSaid if all.len() <= 1 => Ok(all.clone()),
        TripsAre::NotSaid => Err(FromLogError::WhichFalls(
            all.iter().take(NAMED).map(since).collect(),
            all.len(),
        )),
        _ if all.is_empty() => Err(FromLogError::NoFall),
        TripsAre::EveryFall => Ok(all.clone()),
        TripsAre::TheLastFall => Ok(all.last().copied().into_iter().collect()),
        TripsAre::At(times_s) => {
            let mut list: Vec<Fall> = Vec::new();
            for noted_s in times_s {
                let near = all.iter().min_by(|a, b| {
                    (since(a) - noted_s)
                        .abs()
                        .total_cmp(&(since(b) - noted_s).abs())
                });
                match near {
                    Some(f) if (since(f) - noted_s).abs() <= questions.within_s => list.push(*f),
                    Some(f) => return Err(FromLogError::NotNear(*noted_s, since(f))),
                    None => return Err(FromLogError::NoFall),
                }
            }
            list.sort_by(|a, b| a.not_before_s.total_cmp(&b.not_before_s));
            list.dedup();
            Ok(list)
        }
    }
}
