//! The strip of sound parts through a recorded log: how close they came to release, and why.

use super::sound::{Follower, SoundParts};
use super::through_record::{LogPicture, PicturePoint, SoundTrip, WhyTripped};
use crate::family::{Family, spread};
use crate::logs::{Condensed, Condensing};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::predict::parallel;

/// Parts drawn.
const PARTS: u64 = 40;
/// Moments of the picture, at least.
const MOMENTS: f64 = 240.0;
/// Pieces of the programme, at most.
const PIECES: usize = 400;
/// A start lasts at most this long, s, as in the reading of logs.
const START_S: f64 = 15.0;
/// Shares of parts below this are not told.
const LEAST_SHARE: f64 = 0.05;
/// Load begins at this part of the rated current. Common practice, no source.
const LOAD_PART: f64 = 0.1;

/// How a log is condensed for [`through_log`]: to a hundredth of the heat of rated current in a
/// minute.
pub fn condensing(rated_current_a: f64) -> Condensing {
    Condensing {
        most_pieces: PIECES,
        ..Condensing::new(0.01, rated_current_a, 60.0)
    }
}

/// Carries a recorded current through sound parts of a family that stand in air of `air_k`, K, and
/// were cold when the log began.
///
/// ```
/// use relatch::internals::diagnose::{condensing, through_log};
/// use relatch::internals::family::{Family, Nameplate};
/// use relatch::internals::logs::{Condenser, Current, Span};
/// let family = Family::new(&Nameplate::of_rating(10.0), 6)?;
/// let mut condenser = Condenser::new(condensing(10.0));
/// let current = |value| Some(Current { value, min: None, max: None });
/// condenser.push(&Span { from_s: 0.0, to_s: 60.0, current: current(0.0), row: 1 });
/// condenser.push(&Span { from_s: 60.0, to_s: 1260.0, current: current(20.0), row: 2 });
/// let picture = through_log(&family, &condenser.finish(), 296.15);
/// assert_eq!(picture.trips.len(), 1);
/// assert!(picture.trips[0].share > 0.9);
/// # Ok::<(), relatch::internals::family::FamilyError>(())
/// ```
pub fn through_log(family: &Family, log: &Condensed, air_k: f64) -> LogPicture {
    let sound = SoundParts::of(family, PARTS, air_k);
    let loads = loads(log, LOAD_PART * sound.rated_current_a);
    let steps = steps(log);
    let paths = parallel::map(
        &sound.cold(log.starts_at_s),
        |cold| path(cold.clone(), &steps, &loads),
        &mut |_| {},
    );
    let paths: Vec<Path> = paths.into_iter().flatten().collect();
    let points: Vec<PicturePoint> = steps
        .iter()
        .enumerate()
        .filter_map(|(k, step)| {
            Some(PicturePoint {
                time_s: step.to_s,
                current_a: step.current_a,
                used: spread(paths.iter().map(|p| p.used[k]).collect())?,
            })
        })
        .collect();
    let closest = points
        .iter()
        .filter(|p| p.used.median.is_finite())
        .max_by(|a, b| a.used.median.total_cmp(&b.used.median))
        .copied();
    let trips: Vec<SoundTrip> = loads
        .iter()
        .enumerate()
        .filter_map(|(k, load)| trip(&sound, &paths, k, load))
        .collect();
    LogPicture {
        format: 2,
        parts: paths.len(),
        ambient_c: air_k - ZERO_CELSIUS_K,
        points,
        trips,
        closest,
        starts_at_s: log.starts_at_s,
    }
}

/// A step of constant current.
struct Step {
    from_s: f64,
    to_s: f64,
    current_a: f64,
}

/// The pieces of the log, long ones divided.
fn steps(log: &Condensed) -> Vec<Step> {
    let all_s: f64 = log.pieces.iter().map(|p| p.0).sum();
    let longest_s = all_s / MOMENTS;
    let mut from_s = log.starts_at_s;
    let mut out = Vec::new();
    for (length_s, current_a) in &log.pieces {
        let parts = (length_s / longest_s).ceil().clamp(1.0, MOMENTS) as usize;
        for k in 0..parts {
            let at = |k: usize| from_s + length_s * k as f64 / parts as f64;
            out.push(Step {
                from_s: at(k),
                to_s: at(k + 1),
                current_a: *current_a,
            });
        }
        from_s += length_s;
    }
    out
}

/// A stretch without pause.
struct Load {
    from_s: f64,
    to_s: f64,
    pieces: Vec<(f64, f64)>,
}

impl Load {
    fn rms_after(&self, skipped_s: f64) -> f64 {
        let (mut t, mut time_s, mut heat) = (0.0, 0.0, 0.0);
        for (length_s, a) in &self.pieces {
            let counted = (t + length_s - f64::max(t, skipped_s)).max(0.0);
            time_s += counted;
            heat += a * a * counted;
            t += length_s;
        }
        if time_s > 0.0 {
            (heat / time_s).sqrt()
        } else {
            0.0
        }
    }

    /// RMS current of the run; of everything where the load was hardly longer than a start.
    fn running_a(&self) -> f64 {
        let skipped_s = if self.to_s - self.from_s > 2.0 * START_S {
            START_S
        } else {
            0.0
        };
        self.rms_after(skipped_s)
    }

    fn largest_a(&self) -> f64 {
        self.pieces.iter().map(|p| p.1).fold(0.0, f64::max)
    }
}

fn loads(log: &Condensed, least_a: f64) -> Vec<Load> {
    let mut out: Vec<Load> = Vec::new();
    let mut t = log.starts_at_s;
    let mut open = false;
    for (length_s, a) in &log.pieces {
        if *a >= least_a {
            if !open {
                out.push(Load {
                    from_s: t,
                    to_s: t,
                    pieces: Vec::new(),
                });
            }
            if let Some(load) = out.last_mut() {
                load.to_s = t + length_s;
                load.pieces.push((*length_s, *a));
            }
        }
        open = *a >= least_a;
        t += length_s;
    }
    out
}

/// What one part went through.
struct Path {
    used: Vec<f64>,
    /// When it would have opened in each load, and whether it would have from cold.
    releases: Vec<Option<(f64, bool)>>,
}

fn path(mut part: Follower<'_>, steps: &[Step], loads: &[Load]) -> Option<Path> {
    let cold = part.clone();
    let mut used = Vec::with_capacity(steps.len());
    let mut releases = vec![None; loads.len()];
    let mut next = 0;
    for step in steps {
        let middle = 0.5 * (step.from_s + step.to_s);
        while loads.get(next).is_some_and(|l| l.to_s <= middle) {
            next += 1;
        }
        let load = loads.get(next).filter(|l| l.from_s <= middle);
        if load.is_none() {
            part.forget();
        }
        let before = part.released_s;
        part.carry(step.to_s - step.from_s, step.current_a);
        if part.failed {
            return None;
        }
        if let (None, Some(at_s), Some(load)) = (before, part.released_s, load) {
            let from_cold = load.from_s <= cold.time_s || {
                let mut again = cold.clone();
                again.time_s = load.from_s;
                for (length_s, a) in &load.pieces {
                    again.carry_to_release(*length_s, *a);
                    if again.released_s.is_some() {
                        break;
                    }
                }
                again.released_s.is_some()
            };
            releases[next] = Some((at_s, from_cold));
        }
        used.push(part.run.travel_used(step.current_a));
    }
    Some(Path { used, releases })
}

fn trip(sound: &SoundParts, paths: &[Path], number: usize, load: &Load) -> Option<SoundTrip> {
    let tripped: Vec<(f64, bool)> = paths.iter().filter_map(|p| p.releases[number]).collect();
    let share = tripped.len() as f64 / paths.len().max(1) as f64;
    if share < LEAST_SHARE {
        return None;
    }
    let time_s = spread(tripped.iter().map(|t| t.0).collect())?;
    let most = |n: usize| 2 * n > tripped.len();
    let warm = tripped.iter().filter(|t| !t.1).count();
    let soon = tripped
        .iter()
        .filter(|t| t.0 - load.from_s <= START_S)
        .count();
    let running_a = load.running_a();
    let holds_a = spread(sound.holds_a.clone())?;
    let surges = load.largest_a() > 1.5 * running_a;
    let largest_a = load.largest_a();
    let why = if most(warm) {
        WhyTripped::HeatLeft
    } else if most(soon) && surges {
        WhyTripped::Start { largest_a }
    } else if running_a > holds_a.low {
        WhyTripped::RunningCurrent {
            running_a,
            holds_a: [holds_a.low, holds_a.high],
        }
    } else {
        WhyTripped::Together {
            running_a,
            holds_a: holds_a.low,
            largest_a,
        }
    };
    Some(SoundTrip {
        load_s: (load.from_s, load.to_s),
        share,
        time_s,
        why,
    })
}
