//! What a latch does, frame by frame: at which force it lets go, when, and what a reset does.

use super::super::moving::animation::Times;
use crate::answer::TripTime;
use crate::predict::{Film, Frame, Outcome, Part};
use crate::present::number::{duration, significant};
use crate::present::words::mechanism as say;

/// Time one picture is shown, and how long one that matters stands, hundredths of a second.
const SHOWN_CS: u32 = 8;
const STANDS_CS: u32 = 120;
/// Pictures of what takes milliseconds.
const SLOW: usize = 14;
/// Most preload lost that is drawn beside the part as it is.
const MOST_LOST: f64 = 0.51;

/// Forces and travels at the push point.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Latch {
    /// Clearance, mm.
    pub(super) clearance_mm: f64,
    /// Free deflection that releases, mm.
    pub(super) release_mm: f64,
    /// Free deflection at which it catches, mm.
    pub(super) relatch_mm: f64,
    /// How far a newton pushes the strip back, mm.
    pub(super) give_mm_per_n: f64,
    /// Force that the latch takes before it lets go, N.
    pub(super) holds_n: f64,
    /// When it lets go, s.
    pub(super) releases_s: f64,
    /// Preload lost, 0..1.
    pub(super) lost: f64,
}

impl Latch {
    /// As the scenario has it; `None` where it does not release after a while.
    fn of(outcome: &Outcome) -> Option<Latch> {
        let part = &outcome.part;
        let give = part.compliance_mm_per_n;
        let push_mm = part.release_deflection_mm - part.release_travel_mm;
        let latch = Latch {
            clearance_mm: part.release_travel_mm,
            release_mm: part.release_deflection_mm,
            relatch_mm: part.relatch_travel_mm?,
            give_mm_per_n: give,
            holds_n: (push_mm / give).max(0.0),
            releases_s: outcome.trip.time_s().filter(|t| *t > 0.0)?,
            lost: part.preload_loss,
        };
        let numbers = [latch.release_mm, latch.relatch_mm, latch.holds_n, give];
        numbers.iter().all(|v| v.is_finite()).then_some(latch)
    }

    /// The same part with the most preload lost of which the outcome knows when it trips.
    fn worn(&self, outcome: &Outcome) -> Option<Latch> {
        let share = outcome.part.preload_share.filter(|s| *s > 0.0)?;
        let spring_mm = share * self.release_mm;
        let rows = outcome.preload_shift.iter();
        let known = rows.filter(|r| r.loss > self.lost && r.loss <= MOST_LOST);
        let known = known.filter_map(|row| match &row.trip_time {
            TripTime::After(time) => Some((row.loss, time.value)),
            _ => None,
        });
        let (lost, releases_s) = known.max_by(|a, b| a.0.total_cmp(&b.0))?;
        let gone_mm = spring_mm * (lost - self.lost) / (1.0 - self.lost);
        Some(Latch {
            release_mm: self.release_mm - gone_mm,
            holds_n: self.holds_n - gone_mm / self.give_mm_per_n,
            releases_s: releases_s.min(self.releases_s),
            lost,
            ..*self
        })
    }

    /// Force of the strip on the latch at a free deflection while that holds, N.
    pub(super) fn push_n(&self, free_mm: f64) -> f64 {
        let push = (free_mm - self.clearance_mm) / self.give_mm_per_n;
        push.clamp(0.0, self.holds_n)
    }
}

/// What happens in a frame.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Phase {
    Heating,
    /// So much of the way of a latch that lets go: the part as it is, or the worn one.
    LetsGo {
        is_worn: bool,
        share: f64,
    },
    Cooling,
    /// The button is so far pressed, and the latch does not catch.
    TooEarly(f64),
    /// The same, and it catches once the button is down.
    Catches(f64),
}

/// One frame of one part.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Moment {
    /// Which frame of the film shows its strip: cooling or heating, and its number.
    pub(super) strip: (bool, usize),
    /// Whether it has tripped and is only remembered.
    pub(super) is_past: bool,
    /// Force of the strip on the latch, N.
    pub(super) push_n: f64,
    /// How far the latch is lifted, 0..1.
    pub(super) lifted: f64,
    /// How far the slider has gone, 0: contacts closed, 1: open.
    pub(super) open: f64,
    /// Whether somebody presses the button.
    pub(super) is_pressed: bool,
    /// What happens, in words.
    pub(super) words: String,
}

/// One part and all its frames.
pub(super) struct Stage {
    pub(super) latch: Latch,
    pub(super) moments: Vec<Moment>,
}

/// The part as it is and, where there is one, the worn one; the clock of each frame.
pub(super) struct Story {
    pub(super) stages: Vec<Stage>,
    pub(super) clock: Vec<String>,
    pub(super) times: Times,
}

struct Beat {
    phase: Phase,
    strip: (bool, usize),
    time_s: f64,
    for_cs: u32,
}

/// Tells it; `None` without a release, a relatch or frames of both.
pub(super) fn story(outcome: &Outcome, film: &Film) -> Option<Story> {
    let latch = Latch::of(outcome)?;
    let worn = latch.worn(outcome);
    let beats = beats(outcome, film, &latch, worn.as_ref())?;
    let opened_s = outcome.trip.clearing_time_s()?;
    let frame = |strip: (bool, usize)| -> &Frame {
        match strip {
            (true, k) => &film.cooling[k],
            (false, k) => &film.heating[k],
        }
    };
    let part = &outcome.part;
    let stage = |latch: Latch, is_worn: bool| Stage {
        moments: beats
            .iter()
            .map(|beat| moment(beat, frame(beat.strip), &latch, (is_worn, opened_s), part))
            .collect(),
        latch,
    };
    let stages = std::iter::once(stage(latch, false));
    let clock = |beat: &Beat| match beat.strip.0 {
        true => say::since_opening(&duration((beat.time_s - opened_s).max(0.0), 3)),
        false => say::under_load(&duration(beat.time_s, 3)),
    };
    let lets_go = |b: &Beat| matches!(b.phase, Phase::LetsGo { is_worn: false, .. });
    Some(Story {
        stages: stages.chain(worn.map(|worn| stage(worn, true))).collect(),
        clock: beats.iter().map(clock).collect(),
        times: Times {
            for_cs: beats.iter().map(|b| b.for_cs).collect(),
            still: beats.iter().position(lets_go).unwrap_or(0),
            is_alone: true,
        },
    })
}

fn beats(outcome: &Outcome, film: &Film, latch: &Latch, worn: Option<&Latch>) -> Option<Vec<Beat>> {
    let opened_s = outcome.trip.clearing_time_s()?;
    let catches_s = opened_s + outcome.reset.relatch_wait.time_s()?;
    if film.cooling.is_empty() || outcome.part.resets_itself() {
        return None;
    }
    let mut beats = Vec::new();
    let mut tell = |phase, strip: (bool, usize), time_s, for_cs| {
        beats.push(Beat {
            phase,
            strip,
            time_s,
            for_cs,
        });
    };
    let slow = || (0..=SLOW).map(|k| k as f64 / SLOW as f64);
    let stands = |share: f64| if share == 0.0 { STANDS_CS } else { SHOWN_CS };
    let mut is_told = worn.is_none();
    for (k, frame) in film.heating.iter().enumerate() {
        let time_s = frame.state.time_s;
        if let Some(worn) = worn.filter(|w| !is_told && time_s >= w.releases_s) {
            is_told = true;
            let phase = |share| Phase::LetsGo {
                is_worn: true,
                share,
            };
            for share in slow() {
                tell(phase(share), (false, k), worn.releases_s, stands(share));
            }
        }
        tell(Phase::Heating, (false, k), time_s, SHOWN_CS);
    }
    let last = film.heating.len() - 1;
    for share in slow() {
        let phase = Phase::LetsGo {
            is_worn: false,
            share,
        };
        tell(phase, (false, last), latch.releases_s, stands(share));
    }
    // Somebody is impatient halfway to where it catches.
    let early_mm = 0.5 * (latch.relatch_mm + latch.release_mm.min(latch.clearance_mm));
    let early = film.cooling.iter();
    let early = early.take_while(|f| f.state.time_s < catches_s);
    let early = early
        .take_while(|f| f.state.tip_deflection_mm > early_mm)
        .count();
    for (k, frame) in film.cooling.iter().enumerate() {
        let time_s = frame.state.time_s;
        if time_s > catches_s * (1.0 + 1e-9) {
            break;
        }
        tell(Phase::Cooling, (true, k), time_s, SHOWN_CS);
        if k + 1 == early {
            for pressed in slow().chain(slow().map(|s| 1.0 - s)) {
                let for_cs = if pressed == 1.0 {
                    STANDS_CS / 2
                } else {
                    SHOWN_CS
                };
                tell(Phase::TooEarly(pressed), (true, k), time_s, for_cs);
            }
        }
    }
    let cool = film
        .cooling
        .iter()
        .position(|f| f.state.time_s >= catches_s * (1.0 - 1e-9))?;
    for pressed in slow() {
        let for_cs = if pressed == 1.0 {
            2 * STANDS_CS
        } else {
            SHOWN_CS
        };
        tell(Phase::Catches(pressed), (true, cool), catches_s, for_cs);
    }
    Some(beats)
}

fn moment(
    beat: &Beat,
    frame: &Frame,
    latch: &Latch,
    (is_worn, opened_s): (bool, f64),
    part: &Part,
) -> Moment {
    let free_mm = frame.state.tip_deflection_mm;
    let is_past = is_worn
        && match beat.phase {
            Phase::Heating => beat.time_s > latch.releases_s,
            Phase::LetsGo { is_worn, .. } => !is_worn,
            _ => true,
        };
    let mut now = Moment {
        strip: beat.strip,
        is_past,
        push_n: 0.0,
        lifted: 1.0,
        open: 1.0,
        is_pressed: false,
        words: String::new(),
    };
    if is_past {
        now.words = say::has_tripped(&duration(latch.releases_s, 3));
        return now;
    }
    let mm = |v: f64| format!("{} mm", significant(v, 3));
    let wait = duration((beat.time_s - opened_s).max(0.0), 3);
    match beat.phase {
        Phase::LetsGo {
            is_worn: other,
            share,
        } if other == is_worn => {
            // First the latch is lifted off its catch, then the slider goes.
            now.lifted = (2.0 * share).min(1.0);
            now.open = (2.0 * share - 1.0).max(0.0);
            now.push_n = latch.holds_n * (1.0 - now.lifted);
            now.words = say::lets_go(&duration(latch.releases_s, 3));
        }
        Phase::Heating | Phase::LetsGo { .. } => {
            (now.lifted, now.open) = (0.0, 0.0);
            now.push_n = latch.push_n(free_mm);
            let newton = |v: f64| format!("{} N", significant(v, 2));
            now.words = match now.push_n > 0.0 {
                true => say::pushes(&newton(now.push_n), &newton(latch.holds_n)),
                false => say::bends(&mm(free_mm), &mm(part.release_travel_mm)),
            };
        }
        Phase::Cooling => now.words = say::cools(&mm(free_mm), &mm(latch.relatch_mm)),
        Phase::TooEarly(pressed) => {
            now.open = 1.0 - pressed;
            now.is_pressed = pressed > 0.0;
            now.words = say::too_early(&wait, &mm(free_mm));
        }
        Phase::Catches(pressed) => {
            now.open = 1.0 - pressed;
            now.is_pressed = pressed < 1.0;
            now.lifted = if pressed < 1.0 { 1.0 } else { 0.0 };
            now.words = say::catches(&wait);
        }
    }
    now
}
