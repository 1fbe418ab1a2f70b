//! Which stretches of a log are looked at: up to each trip, or up to the end of the last load.

use super::falls::{Fall, Falls};
use super::{FromLogError, LogNote, LogQuestions, Noted, TripsAre};
use crate::logs::{CurrentKind, Layout};

/// A rest after which everything is at the temperature of the air, s. Common practice (45 min to 60
/// min), no source.
pub(super) const REST_S: f64 = 2700.0;
/// More trips than this in one log are a duty.
const MOST_TRIPS: usize = 100;
/// A note that is farther off than this is said, s.
const WORTH_A_WORD_S: f64 = 30.0;
const DAY_S: f64 = 86_400.0;
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
    starts_at_unix_s: Option<f64>,
) -> Result<(Vec<Target>, Vec<LogNote>), FromLogError> {
    // Times of the day are those that the log itself shows, in its zone.
    let zone_s = f64::from(layout.zone_s.unwrap_or(0));
    let clock_s = starts_at_unix_s.map(|s| (s + zone_s).rem_euclid(DAY_S));
    let (trips, notes) = chosen(falls, questions, clock_s)?;
    if trips.len() > MOST_TRIPS {
        return Err(FromLogError::TooMany(trips.len()));
    }
    // The average of the interval in which the current falls may still be small: the fall may lie
    // in the next.
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
    Ok((list, notes))
}

/// The falls that are trips, and how far notes lie from them. `clock_s`: the log's clock at its
/// first row, s after midnight.
fn chosen(
    falls: &Falls,
    questions: &LogQuestions,
    clock_s: Option<f64>,
) -> Result<(Vec<Fall>, Vec<LogNote>), FromLogError> {
    let all = &falls.falls;
    let since = |f: &Fall| f.not_before_s - falls.first_s;
    let trips = match &questions.trips {
        TripsAre::None => Vec::new(),
        TripsAre::NotSaid if all.len() <= 1 => all.clone(),
        TripsAre::NotSaid => {
            let first = all.iter().take(NAMED).map(since).collect();
            return Err(FromLogError::WhichFalls(first, all.len()));
        }
        _ if all.is_empty() => return Err(FromLogError::NoFall),
        TripsAre::EveryFall => all.clone(),
        TripsAre::TheLastFall => all.last().copied().into_iter().collect(),
        TripsAre::At(notes) => {
            return noted(falls, notes, questions.within_s, clock_s);
        }
    };
    Ok((trips, Vec::new()))
}

/// The fall nearest to each note.
fn noted(
    falls: &Falls,
    notes: &[Noted],
    within_s: f64,
    clock_s: Option<f64>,
) -> Result<(Vec<Fall>, Vec<LogNote>), FromLogError> {
    let since = |f: &Fall| f.not_before_s - falls.first_s;
    let mut list: Vec<Fall> = Vec::new();
    let mut apart = Vec::new();
    for note in notes {
        // How long the fall lies after the note, s.
        let late = |f: &Fall| match (note, clock_s) {
            (Noted::Since(s), _) => Some(since(f) - s),
            (Noted::OfTheDay(s), Some(clock_s)) => {
                let apart = (clock_s + since(f) - s).rem_euclid(DAY_S);
                Some(if apart > 0.5 * DAY_S {
                    apart - DAY_S
                } else {
                    apart
                })
            }
            (Noted::OfTheDay(_), None) => None,
        };
        let near = falls
            .falls
            .iter()
            .filter_map(|f| Some((late(f)?, f)))
            .min_by(|a, b| a.0.abs().total_cmp(&b.0.abs()));
        let Some((late_s, fall)) = near else {
            return Err(FromLogError::NoClock);
        };
        if late_s.abs() > within_s {
            return Err(FromLogError::NotNear(*note, since(fall), late_s.abs()));
        }
        if late_s.abs() > WORTH_A_WORD_S {
            apart.push(LogNote::FarNote {
                noted: *note,
                late_s,
                at_s: since(fall),
            });
        }
        list.push(*fall);
    }
    list.sort_by(|a, b| a.not_before_s.total_cmp(&b.not_before_s));
    list.dedup();
    Ok((list, apart))
}
