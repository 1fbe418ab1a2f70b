//! Follows a recorded current as it comes and tells what it does to sound parts. Its memory is
//! constant.

mod forecast;
mod log;
mod record;
#[cfg(test)]
mod tests;
mod waiting;
mod waits;
mod window;

use super::sound::{Follower, SoundParts};
use crate::family::{Spread, spread};
use crate::logs::Span;
pub use log::Feed;
pub use record::{Countdown, Fallen, Forecast, Line, Status, What};
use waiting::Waiting;
use waits::{Again, waits};
use window::Window;

/// Load begins above the first part of the rated current and ends below the second. Common
/// practice, no source.
const LOAD: (f64, f64) = (0.10, 0.08);
/// A fall is sudden from at least this part of the running current, as in the reading of logs.
const SUDDEN: f64 = 0.5;
/// Currents this close are carried as one, relative, and in parts of the rated current.
const ALIKE: (f64, f64) = (0.03, 0.01);
/// Longest piece carried at once, s: under load, without.
const LONGEST_PIECE_S: (f64, f64) = (30.0, 300.0);
/// A start is left to itself for this long before anything is forecast, s.
const FIRST_LOOK_S: f64 = 3.0;
/// A log that begins under load may have carried it for this long, s.
const BEFORE_S: f64 = 2.0 * 3600.0;
/// Shares that count as none and as all.
const SHARES: (f64, f64) = (0.05, 0.95);

/// Current carried as one piece.
#[derive(Debug, Clone, Copy)]
struct Pending {
    length_s: f64,
    heat: f64,
}

impl Pending {
    fn rms_a(&self) -> f64 {
        (self.heat / self.length_s).sqrt()
    }
}

/// A load that lasts.
struct Load {
    from_s: f64,
    again: Again,
    /// Currents of the two latest spans, A: the last one may be the mean of load and nothing.
    latest_a: [f64; 2],
    /// Present level, A.
    level_a: f64,
    looked_s: f64,
    looked_a: f64,
    next_look_s: f64,
    told: Option<(f64, Forecast)>,
    told_share: f64,
    told_overdue: bool,
}

/// Follows a log. Feed it the spans in their order; each gives the lines that have become due.
///
/// The parts are cold at the first row; where that row is already under load, everything between
/// cold and long under that load is kept in the ranges. So is everything between no current and the
/// last one in a gap.
pub struct Watch<'a> {
    sound: &'a SoundParts,
    /// Least heat that the log allows.
    parts: Vec<Follower<'a>>,
    /// Most heat that it allows, as long as it differs.
    warmest: Option<Vec<Follower<'a>>>,
    pending: Option<Pending>,
    window: Window,
    first_s: Option<f64>,
    now_s: f64,
    current_a: Option<f64>,
    load: Option<Load>,
    waiting: Option<Waiting>,
    /// Start before the last one and last one, s.
    starts_s: [f64; 2],
    /// Running current of the last load, A.
    last_load_a: f64,
}

impl<'a> Watch<'a> {
    /// At the start of a log.
    pub fn new(sound: &'a SoundParts) -> Watch<'a> {
        Watch {
            sound,
            parts: sound.cold(0.0),
            warmest: None,
            pending: None,
            window: Window::new(),
            first_s: None,
            now_s: 0.0,
            current_a: None,
            load: None,
            waiting: None,
            starts_s: [f64::NEG_INFINITY; 2],
            last_load_a: 0.0,
        }
    }

    /// Takes the next span.
    pub fn push(&mut self, span: &Span) -> Vec<Line> {
        let mut out = Vec::new();
        let first = *self.first_s.get_or_insert(span.from_s);
        let length_s = span.length_s();
        if !(length_s > 0.0) {
            return out;
        }
        self.now_s = span.from_s - first;
        match span.current.map(|c| c.value.abs()) {
            None => self.gap(length_s, &mut out),
            Some(a) => self.flows(length_s, a, &mut out),
        }
        self.waits_over(&mut out);
        out
    }

    fn tell(&self, what: What, out: &mut Vec<Line>) {
        out.push(Line {
            time_s: self.now_s,
            what,
        });
    }

    fn flows(&mut self, length_s: f64, a: f64, out: &mut Vec<Line>) {
        let rated_a = self.sound.rated_current_a;
        let from_s = self.now_s;
        self.current_a = Some(a);
        if self.load.is_some() && a < LOAD.1 * rated_a {
            self.load_ends(out);
        }
        if self.load.is_none() && a > LOAD.0 * rated_a {
            self.load_begins(a, out);
        }
        self.add(length_s, a);
        self.window.add(from_s, from_s + length_s, a);
        self.now_s += length_s;
        if let Some(load) = &mut self.load {
            load.again.add(length_s, a);
            load.latest_a = [load.latest_a[1], a];
            load.level_a = level(load.level_a, a, length_s);
            let moved = (load.level_a / load.looked_a - 1.0).abs() > 0.1;
            let soonest_s = (0.02 * (self.now_s - load.from_s)).clamp(2.0, 20.0);
            let due = self.now_s >= load.next_look_s
                || (moved && load.looked_a > 0.0 && self.now_s >= load.looked_s + soonest_s);
            if due {
                self.look(out);
            }
        }
    }

    /// Adds current to what is still to be carried.
    fn add(&mut self, length_s: f64, a: f64) {
        let rated_a = self.sound.rated_current_a;
        let longest_s = if self.load.is_some() {
            LONGEST_PIECE_S.0
        } else {
            LONGEST_PIECE_S.1
        };
        let joins = self.pending.is_some_and(|p| {
            let rms_a = p.rms_a();
            (a - rms_a).abs() <= ALIKE.0 * a.max(rms_a) + ALIKE.1 * rated_a
                && p.length_s < longest_s
        });
        if !joins {
            self.carry_pending();
        }
        let pending = self.pending.get_or_insert(Pending {
            length_s: 0.0,
            heat: 0.0,
        });
        pending.length_s += length_s;
        pending.heat += a * a * length_s;
    }

    /// Brings the parts to the present.
    fn carry_pending(&mut self) {
        let Some(p) = self.pending.take() else { return };
        let rms_a = p.rms_a();
        for part in self
            .parts
            .iter_mut()
            .chain(self.warmest.iter_mut().flatten())
        {
            part.carry(p.length_s, rms_a);
        }
        self.join_again();
    }

    /// Once both bounds agree one of them is enough.
    fn join_again(&mut self) {
        let apart = self.warmest.as_ref().is_some_and(|warmest| {
            self.parts.iter().zip(warmest).any(|(a, b)| {
                let differ = (a.run.travel_used(0.0) - b.run.travel_used(0.0)).abs() > 0.01;
                !a.failed && !b.failed && differ
            })
        });
        if !apart {
            self.warmest = None;
        }
    }

    /// A time of which only the largest current is known.
    fn unknown(&mut self, length_s: f64, at_most_a: f64) {
        let mut warmest = self.warmest.take().unwrap_or_else(|| self.parts.clone());
        for part in &mut self.parts {
            part.carry(length_s, 0.0);
        }
        for part in &mut warmest {
            part.carry_to_release(length_s, at_most_a);
            part.forget();
        }
        self.warmest = Some(warmest);
        self.join_again();
    }

    fn gap(&mut self, length_s: f64, out: &mut Vec<Line>) {
        self.carry_pending();
        let at_most_a = match self.load.take() {
            Some(load) => load.again.running_a().max(load.level_a),
            None => self.last_load_a,
        };
        self.last_load_a = at_most_a;
        self.unknown(length_s, at_most_a);
        self.current_a = None;
        self.now_s += length_s;
        self.tell(
            What::Gap {
                length_s,
                at_most_a,
            },
            out,
        );
    }

    fn load_begins(&mut self, a: f64, out: &mut Vec<Line>) {
        self.carry_pending();
        let first = self.now_s <= 0.0;
        if first {
            self.unknown(BEFORE_S, a);
        }
        for part in self
            .parts
            .iter_mut()
            .chain(self.warmest.iter_mut().flatten())
        {
            part.forget();
            part.time_s = self.now_s;
        }
        self.waiting = None;
        self.starts_s = [self.starts_s[1], self.now_s];
        self.load = Some(Load {
            from_s: self.now_s,
            again: Again::default(),
            latest_a: [a; 2],
            level_a: a,
            looked_s: self.now_s,
            looked_a: 0.0,
            next_look_s: self.now_s + FIRST_LOOK_S,
            told: None,
            told_share: 0.0,
            told_overdue: false,
        });
        self.tell(
            What::LoadBegan {
                current_a: a,
                seen: !first,
            },
            out,
        );
    }

    fn load_ends(&mut self, out: &mut Vec<Line>) {
        self.carry_pending();
        let Some(load) = self.load.take() else { return };
        let running_a = load.again.running_a();
        let lasted_s = self.now_s - load.from_s;
        self.last_load_a = running_a;
        let before_a = load.latest_a[0].max(load.latest_a[1]);
        let used = self.used(load.level_a);
        let (true, Some(used)) = (before_a >= SUDDEN * running_a, used) else {
            self.tell(What::LoadEnded { lasted_s }, out);
            return;
        };
        let all: Vec<Follower<'a>> = self.all().cloned().collect();
        let waits = waits(&all, &load.again);
        self.waiting = waits.map(|waits| Waiting::new(self.now_s, waits));
        self.tell(
            What::Fell(Fallen {
                from_a: before_a,
                lasted_s,
                used,
                waits,
            }),
            out,
        );
    }

    fn all(&self) -> impl Iterator<Item = &Follower<'a>> {
        self.parts
            .iter()
            .chain(self.warmest.iter().flatten())
            .filter(|p| !p.failed)
    }

    /// Share of the way to release used, over the parts and the heat that the log allows.
    fn used(&self, current_a: f64) -> Option<Spread> {
        spread(self.all().map(|p| p.run.travel_used(current_a)).collect())
    }

    fn waits_over(&mut self, out: &mut Vec<Line>) {
        let now_s = self.now_s;
        let Some(waiting) = &mut self.waiting else {
            return;
        };
        let due = waiting.due(now_s);
        if waiting.is_past(now_s) {
            self.waiting = None;
        }
        for what in due {
            self.tell(what, out);
        }
    }

    /// Where things stand, a time after the last row, s.
    pub fn status(&mut self, silent_s: f64) -> Status {
        self.carry_pending();
        let current_a = self.current_a.unwrap_or(0.0);
        Status {
            time_s: self.now_s,
            silent_s,
            current_a: self.current_a,
            rms_a: self.window.rms_a(),
            used: self.used(current_a),
            forecast: self.forecast(),
            countdown: self.waiting.as_ref().map(|w| w.left(self.now_s + silent_s)),
        }
    }
}

/// Level of a current: smoothed over three seconds, but a step is followed at once.
fn level(before_a: f64, a: f64, length_s: f64) -> f64 {
    if (a - before_a).abs() > 0.2 * before_a {
        return a;
    }
    let kept = (-length_s / 3.0).exp();
    (kept * before_a * before_a + (1.0 - kept) * a * a).sqrt()
}
