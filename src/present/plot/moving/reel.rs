//! Which frames are shown for how long, and how fast time runs.

use super::animation::Times;
use crate::predict::{Film, Frame, Outcome};
use crate::present::number::{duration, significant};
use crate::present::words;

/// Pictures a second.
pub(in crate::present::plot) const FRAMES_PER_S: f64 = 12.5;
/// Time one picture is shown, hundredths of a second.
const SHOWN_CS: u32 = 8;
/// How long the moment of release stands, and the last one.
const STANDS_CS: u32 = 96;

/// Part of the largest current below which no load is carried.
const HARDLY: f64 = 0.1;

/// A frame and how long it is shown.
pub(super) struct Shown<'a> {
    pub(super) frame: &'a Frame,
    pub(super) is_cooling: bool,
    /// Whether it has let go.
    pub(super) is_released: bool,
    /// Hundredths of a second.
    pub(super) for_cs: u32,
    /// The moment, in words.
    pub(super) moment: &'static str,
}

/// The frames in order.
pub(super) struct Reel<'a> {
    pub(super) shown: Vec<Shown<'a>>,
    pub(super) opened_s: Option<f64>,
    pub(super) relatch_s: Option<f64>,
    /// Seconds of the run in a second of the film: heating, cooling.
    pub(super) pace: (f64, Option<f64>),
    released: bool,
    does: &'static str,
    title: String,
}

fn pace(frames: &[Frame], from_s: f64) -> Option<f64> {
    let last = frames.last()?.state.time_s;
    let steps = frames.len().max(1) as f64;
    Some((last - from_s) / (steps / FRAMES_PER_S)).filter(|p| *p > 0.0)
}

impl<'a> Reel<'a> {
    pub(super) fn new(outcome: &Outcome, film: &'a Film) -> Self {
        let released = outcome.trip.trips();
        let opened_s = outcome.trip.clearing_time_s();
        let relatch_s = opened_s
            .zip(outcome.reset.relatch_wait.time_s())
            .map(|(a, b)| a + b);
        let mut shown = Vec::new();
        let last = film.heating.len() - 1;
        let most_a = film
            .heating
            .iter()
            .map(|f| f.state.current_a)
            .fold(0.0, f64::max);
        for (k, frame) in film.heating.iter().enumerate() {
            shown.push(Shown {
                frame,
                is_cooling: false,
                is_released: k == last && released,
                for_cs: if k == last { STANDS_CS } else { SHOWN_CS },
                moment: if k == last && released {
                    word!("release")
                } else if frame.state.current_a < HARDLY * most_a {
                    word!("hardly any current")
                } else {
                    word!("carrying the load")
                },
            });
        }
        let by_itself = outcome.part.resets_itself();
        let end = film.cooling.len().saturating_sub(1);
        for (k, frame) in film.cooling.iter().enumerate() {
            let is_cool = relatch_s.is_some_and(|t| frame.state.time_s >= t * (1.0 - 1e-9));
            shown.push(Shown {
                frame,
                is_cooling: true,
                is_released: true,
                for_cs: if k == end { STANDS_CS } else { SHOWN_CS },
                moment: match (is_cool, by_itself) {
                    (false, _) => word!("cooling, contacts open"),
                    (true, false) => word!("cool enough: can be reset"),
                    (true, true) => word!("cool enough: closes by itself"),
                },
            });
        }
        Self {
            shown,
            opened_s,
            relatch_s,
            pace: (
                pace(&film.heating, 0.0).unwrap_or(1.0),
                pace(&film.cooling, opened_s.unwrap_or(0.0)),
            ),
            released,
            does: words::mechanism(outcome.part.mechanism).film,
            title: outcome.scenario.clone(),
        }
    }

    /// How long each is shown.
    pub(super) fn clock(&self) -> Times {
        Times {
            for_cs: self.shown.iter().map(|s| s.for_cs).collect(),
            still: self.still(),
            is_alone: true,
        }
    }

    /// Number of the frame that stands for the whole.
    pub(super) fn still(&self) -> usize {
        let is_last = |s: &Shown<'_>| !s.is_cooling && s.for_cs > SHOWN_CS;
        self.shown.iter().position(is_last).unwrap_or(0)
    }

    /// How fast the film runs, in words.
    pub(super) fn speed(&self, is_cooling: bool) -> String {
        let pace = if is_cooling {
            self.pace.1
        } else {
            Some(self.pace.0)
        };
        match pace {
            None => String::new(),
            Some(p) if p >= 1.05 => say!("{} times faster than life", significant(p, 2)),
            Some(p) if p <= 0.95 => say!("{} times slower than life", significant(1.0 / p, 2)),
            Some(_) => word!("as fast as life").to_owned(),
        }
    }

    /// "12.5 pictures a second, 10.9 s; heating 5 times faster than life, ..."
    pub(super) fn times(&self) -> String {
        let mut text = say!(
            "{} s at {FRAMES_PER_S} pictures a second; heating {}",
            significant(self.clock().duration_s(), 3),
            self.speed(false)
        ; FRAMES_PER_S);
        if self.pace.1.is_some() {
            text += &say!(", cooling {}", self.speed(true));
        }
        text
    }

    pub(super) fn words(&self) -> String {
        let end = match (self.released, self.opened_s.zip(self.relatch_s)) {
            (true, Some((opened, relatch))) => say!(
                "It releases, the contacts open {} after the load starts, and {} later it has cooled \
                 enough to relatch.",
                duration(opened, 3),
                duration(relatch - opened, 3)
            ),
            (true, None) => word!("It releases.").to_owned(),
            (false, _) => word!("It does not release.").to_owned(),
        };
        say!(
            "{}: {} Beside it temperatures and current. {end} {}.",
            self.title,
            self.does,
            self.times()
        ; end)
    }
}
