//! Sound parts that follow a recorded current.

use crate::family::{Carries, Family, Part, Run, draws};
use crate::load::{Current, Programme, Repeat, Segment};
use crate::predict::parallel;

/// Smaller parts of the rated current count as none: leakage and the last digit of a meter. Common
/// practice, no source.
pub(super) const NONE_PART: f64 = 0.02;

/// Parts drawn from a family, all sound, and the air they stand in.
pub struct SoundParts {
    pub(super) parts: Vec<Part>,
    /// Largest current each holds for ever in this air, A (0: none).
    pub(super) holds_a: Vec<f64>,
    pub(super) air: [(f64, f64); 1],
    pub(super) rated_current_a: f64,
}

impl SoundParts {
    /// About `count` parts of a family in air of `air_k`, K. A compensated part feels its reference
    /// air.
    pub fn of(family: &Family, count: u64, air_k: f64) -> SoundParts {
        let plate = family.nameplate();
        let felt_k = plate.felt_k(air_k);
        let drawn = draws(family, count);
        let parts: Vec<Part> = drawn.iter().map(|d| family.sound_part(d)).collect();
        let holds_a = parallel::map(
            &parts,
            |p| p.trip_point_a(felt_k).unwrap_or(0.0),
            &mut |_| {},
        );
        SoundParts {
            parts,
            holds_a,
            air: [(0.0, felt_k)],
            rated_current_a: plate.rated_current_a,
        }
    }

    /// How many.
    pub fn count(&self) -> usize {
        self.parts.len()
    }

    /// All of them cold, at a time, s.
    pub(super) fn cold(&self, time_s: f64) -> Vec<Follower<'_>> {
        self.parts
            .iter()
            .zip(&self.holds_a)
            .map(|(part, holds_a)| Follower {
                part,
                run: part.cold(&self.air),
                holds_a: *holds_a,
                none_a: NONE_PART * self.rated_current_a,
                time_s,
                released_s: None,
                at_release: None,
                failed: false,
            })
            .collect()
    }
}

/// One part on its way through a log. It never opens by itself: the log says when current flows.
#[derive(Clone)]
pub(super) struct Follower<'a> {
    pub part: &'a Part,
    pub run: Run<'a>,
    /// Largest current it holds for ever, A.
    pub holds_a: f64,
    none_a: f64,
    /// Log time it has come to, s.
    pub time_s: f64,
    /// When a sound part would have opened, s of log time; until [`Follower::forget`].
    pub released_s: Option<f64>,
    /// Its state at that moment.
    pub at_release: Option<Run<'a>>,
    /// The computation failed: it no longer counts.
    pub failed: bool,
}

impl Follower<'_> {
    /// Carry a current for a time, s.
    pub fn carry(&mut self, length_s: f64, current_a: f64) {
        if !(length_s > 0.0) || self.failed {
            return;
        }
        let done = if current_a < self.none_a {
            self.run.rest(length_s)
        } else {
            self.load(length_s, current_a)
        };
        self.failed = done.is_none();
        self.time_s += length_s;
    }

    fn load(&mut self, length_s: f64, current_a: f64) -> Option<()> {
        // Longer than carried, so that no steady state ends it early.
        let piece = piece(2.0 * length_s, current_a);
        if self.released_s.is_some() {
            return self.run.stay_closed(&piece, length_s);
        }
        match self.run.carry(&piece, length_s)? {
            Carries::Trips(after_s) => {
                self.released_s = Some(self.time_s + after_s);
                self.at_release = Some(self.run.clone());
                self.run.stay_closed(&piece, length_s - after_s)
            }
            Carries::Holds | Carries::StillHolds => Some(()),
        }
    }

    /// Carry a current for at most a time, s, and stop at the release.
    pub fn carry_to_release(&mut self, length_s: f64, current_a: f64) {
        if self.failed || self.released_s.is_some() || current_a < self.none_a {
            return self.carry(length_s, current_a);
        }
        match self.run.carry(&piece(2.0 * length_s, current_a), length_s) {
            Some(Carries::Trips(after_s)) => self.released_s = Some(self.time_s + after_s),
            Some(_) => {}
            None => self.failed = true,
        }
        self.time_s += length_s;
    }

    /// A new load begins: an earlier release is over.
    pub fn forget(&mut self) {
        self.released_s = None;
        self.at_release = None;
    }

    /// How long until it releases at a current, s; infinite when it holds for `longest_s`.
    pub fn releases_in(&self, current_a: f64, longest_s: f64) -> f64 {
        if self.failed {
            return f64::INFINITY;
        }
        // Well below what it holds, and not near release: no need to simulate.
        if current_a < 0.95 * self.holds_a && self.run.travel_used(current_a) < 0.9 {
            return f64::INFINITY;
        }
        let mut run = self.run.clone();
        match run.carry(&Programme::constant(current_a), longest_s) {
            Some(Carries::Trips(after_s)) => after_s,
            _ => f64::INFINITY,
        }
    }
}

/// A constant current for a time, s.
pub(super) fn piece(duration_s: f64, current_a: f64) -> Programme {
    Programme {
        segments: vec![Segment {
            duration_s,
            current: Current::Constant(current_a),
        }],
        repeat: Repeat::Once,
    }
}
