//! Waits after a fall to zero, if it was a trip.

use super::record::Countdown;
use crate::diagnose::sound::Follower;
use crate::family::{Carries, Opened, Start, spread};
use crate::load::{Current, Programme, Repeat, Segment};
use crate::predict::parallel;

/// A part that holds a load for this long is not the one that tripped, s.
const LONGEST_S: f64 = 3600.0;
/// Fewer parts say nothing.
const LEAST: usize = 3;
/// Ends of the pieces in which the beginning of a load is kept, s.
const ENDS_S: [f64; 4] = [1.0, 3.0, 8.0, 15.0];

/// A load as it would come again: its first seconds in four pieces, then its running current.
#[derive(Debug, Clone, Default)]
pub(super) struct Again {
    /// Time (s) and heat (A^2 s) of the four first pieces and of the run.
    pieces: [(f64, f64); 5],
    lasted_s: f64,
}

impl Again {
    pub fn add(&mut self, length_s: f64, current_a: f64) {
        let mut left_s = length_s;
        while left_s > 0.0 {
            let k = ENDS_S.iter().take_while(|e| self.lasted_s >= **e).count();
            let room_s = ENDS_S.get(k).map_or(f64::INFINITY, |e| e - self.lasted_s);
            let part_s = left_s.min(room_s);
            self.pieces[k].0 += part_s;
            self.pieces[k].1 += current_a * current_a * part_s;
            // Rounding must not leave a sliver before the end of a piece.
            self.lasted_s = match ENDS_S.get(k) {
                Some(end) if left_s >= room_s => *end,
                _ => self.lasted_s + part_s,
            };
            left_s -= part_s;
        }
    }

    /// RMS current of the run, or of the latest piece there is, A.
    pub fn running_a(&self) -> f64 {
        let last = self.pieces.iter().rev().find(|p| p.0 > 0.0);
        last.map_or(0.0, |p| (p.1 / p.0).sqrt())
    }

    pub fn programme(&self) -> Programme {
        let mut segments: Vec<Segment> = self
            .pieces
            .iter()
            .filter(|p| p.0 > 0.0)
            .map(|p| Segment {
                duration_s: p.0,
                current: Current::Constant((p.1 / p.0).sqrt()),
            })
            .collect();
        if let Some(last) = segments.last_mut() {
            last.duration_s = f64::INFINITY;
        }
        Programme {
            segments,
            repeat: Repeat::Once,
        }
    }
}

/// Waits from the moment of the fall. Had this been a trip, the part would have been at its
/// release: parts that had not come to it are carried there under the last current, and those that
/// had passed it are taken back to it. Only where all had passed it long ago is the part at hand
/// late, and as hot as they are.
pub(super) fn waits(parts: &[Follower<'_>], again: &Again) -> Option<Countdown> {
    let load = again.programme();
    if load.segments.is_empty() {
        return None;
    }
    let last = Programme::constant(again.running_a());
    let late = parts.iter().all(|p| p.failed || p.released_s.is_some());
    let numbered: Vec<(usize, &Follower<'_>)> = parts.iter().enumerate().collect();
    let found = parallel::map(
        &numbered,
        |(k, part)| {
            let mut run = match &part.at_release {
                Some(at_release) if !late => at_release.clone(),
                _ => part.run.clone(),
            };
            if part.failed {
                return None;
            }
            if part.released_s.is_none()
                && !matches!(run.carry(&last, LONGEST_S), Some(Carries::Trips(_)))
            {
                return None;
            }
            let opened = Opened::after(part.part, run);
            let reset_s = opened.relatch_s()?;
            // Half of the parts are enough for the start, which takes longest.
            let start = (k % 2 == 0).then(|| opened.start_after(reset_s, &load));
            Some((reset_s, start))
        },
        &mut |_| {},
    );
    let found: Vec<(f64, Option<Start>)> = found.into_iter().flatten().collect();
    if found.len() < LEAST {
        return None;
    }
    let starts: Vec<Start> = found.iter().filter_map(|f| f.1).collect();
    let never = starts.iter().filter(|s| **s == Start::Never).count();
    Some(Countdown {
        reset_s: spread(found.iter().map(|f| f.0).collect())?,
        start_s: spread(
            starts
                .iter()
                .filter_map(|s| match s {
                    Start::After(s) => Some(*s),
                    Start::Never => None,
                })
                .collect(),
        ),
        never_starts: never as f64 / starts.len().max(1) as f64,
    })
}

#[cfg(test)]
mod tests {
    use super::Again;

    #[test]
    fn a_load_is_kept_as_its_start_and_its_run() {
        let mut again = Again::default();
        again.add(0.5, 40.0);
        again.add(0.5, 20.0);
        again.add(99.0, 9.0);
        let load = again.programme();
        assert_eq!(load.segments.len(), 5);
        let first = (0.5 * (1600.0 + 400.0f64)).sqrt();
        assert!((load.piece_after(0.0).at(0.0).0 - first).abs() < 1e-9);
        assert!((load.piece_after(60.0).at(60.0).0 - 9.0).abs() < 1e-9);
        assert!((again.running_a() - 9.0).abs() < 1e-9);
    }
}
