//! A history of events: run, trip, wait, reset, run again; recorded as it goes.

use super::PredictError;
use super::case::Case;
use super::outcome::{Event, EventRecord};
use super::run::LONGEST_COOLING_S;
use super::session::{Carried, Cooled, Session, Watch};
use crate::device::{Model, Phase};
use crate::load::Programme;
use crate::scenario::{HistoryStep, Reset};

/// Times a self-resetting protector is followed through trip and relatch when no history is given.
const SELF_RESETS: usize = 3;

/// A history being played.
struct Player<'m, 'w> {
    session: Session<'m>,
    watch: &'w mut dyn Watch,
    events: Vec<EventRecord>,
    reset: Reset,
    relatched: bool,
}

/// Play the scenario's history, or the plain one: carry the load; after a trip cool until relatch;
/// a protector that resets itself then carries on.
pub fn play(
    model: &Model,
    tolerance: f64,
    case: &Case,
    load: &Programme,
    steps: &[HistoryStep],
    watch: &mut dyn Watch,
) -> Result<Vec<EventRecord>, PredictError> {
    let mut player = Player::start(model, tolerance, case, watch)?;
    if steps.is_empty() {
        player.plain(load, case.longest_s)?;
    } else {
        for step in steps {
            player.step(step, case.longest_s)?;
        }
    }
    Ok(player.end())
}

/// Presses of the reset, and how long cooling is followed after the last of them.
pub struct Presses<'p> {
    /// Times of the presses, s, in order.
    pub at_s: &'p [f64],
    /// Cooling followed after the contacts opened, s.
    pub linger_s: f64,
    /// Whether it relatches in the end: cooling is then followed at least so far.
    pub relatches: bool,
}

/// Play the scenario's load with the reset pressed at chosen times. A press that comes too early is
/// refused, one that finds the contacts closed does nothing, and one that catches brings the load
/// back from its beginning. A protector that resets itself goes its own way.
pub fn play_resets(
    model: &Model,
    tolerance: f64,
    case: &Case,
    load: &Programme,
    presses: &Presses<'_>,
    watch: &mut dyn Watch,
) -> Result<Vec<EventRecord>, PredictError> {
    let mut player = Player::start(model, tolerance, case, watch)?;
    if player.reset == Reset::Automatic {
        player.plain(load, case.longest_s)?;
    } else {
        player.with_resets(load, case.longest_s, presses)?;
    }
    Ok(player.end())
}

impl<'m, 'w> Player<'m, 'w> {
    fn start(
        model: &'m Model,
        tolerance: f64,
        case: &'m Case,
        watch: &'w mut dyn Watch,
    ) -> Result<Player<'m, 'w>, PredictError> {
        Ok(Player {
            session: case.start(model, tolerance)?,
            watch,
            events: Vec::new(),
            reset: model.device.release.reset,
            relatched: false,
        })
    }

    fn end(mut self) -> Vec<EventRecord> {
        let end = self.session.t;
        self.note(end, Event::End);
        self.events
    }

    fn with_resets(
        &mut self,
        load: &Programme,
        longest_s: f64,
        presses: &Presses<'_>,
    ) -> Result<(), PredictError> {
        let mut at_s = presses.at_s.iter().copied();
        loop {
            let start = self.session.t;
            if self.run(load, start, start + longest_s)? != Carried::Released {
                return Ok(());
            }
            let opened = self.session.t;
            while self.session.phase == Phase::Open {
                match at_s.find(|at| *at > self.session.t) {
                    Some(at) => {
                        self.wait_open(at - self.session.t)?;
                        self.reset_by_hand(at);
                    }
                    None => {
                        if !self.relatched && presses.relatches {
                            self.cool(0.0)?;
                        }
                        let rest = opened + presses.linger_s - self.session.t;
                        if rest > 0.0 {
                            self.wait_open(rest)?;
                        }
                        return Ok(());
                    }
                }
            }
        }
    }

    fn note(&mut self, time_s: f64, event: Event) {
        self.events.push(EventRecord { time_s, event });
    }

    fn plain(&mut self, load: &Programme, longest_s: f64) -> Result<(), PredictError> {
        let trips = if self.reset == Reset::Automatic {
            SELF_RESETS
        } else {
            1
        };
        for _ in 0..trips {
            let carried = self.run(load, 0.0, self.session.t + longest_s)?;
            if carried != Carried::Released || self.cool(0.0)? != Cooled::Relatched {
                return Ok(());
            }
            if self.reset == Reset::ByHand {
                let now = self.session.t;
                // A little more of the cooling, so that a drawing shows what relatch looks like.
                let opened = self
                    .events
                    .iter()
                    .rev()
                    .find(|e| e.event == Event::ContactsOpen)
                    .map_or(now, |e| e.time_s);
                self.session.wait(now + 0.15 * (now - opened), self.watch)?;
            }
        }
        Ok(())
    }

    fn step(&mut self, step: &HistoryStep, longest_s: f64) -> Result<(), PredictError> {
        let now = self.session.t;
        match step {
            HistoryStep::Run {
                programme,
                longest_s: own,
            } => {
                if self.session.phase == Phase::Open && self.reset_was_refused() {
                    // Nothing flows: it stays open while the load would run.
                    if own.is_finite() {
                        self.wait_open(*own)?;
                    }
                    return Ok(());
                }
                if self.session.phase == Phase::Open {
                    return Err(PredictError::History(format!(
                        "the history runs the load at {now:.3} s, but the contacts are open; put a \
                         `reset` before it"
                    )));
                }
                self.note(now, Event::LoadOn);
                let until = own.is_finite().then_some(now + own);
                self.carry(programme, now, now + own.min(longest_s), until)?;
            }
            HistoryStep::Wait { duration_s } => {
                if self.session.phase == Phase::Closed {
                    // Contacts closed, load switched off elsewhere.
                    self.note(now, Event::LoadOff);
                    let (off, until) = (Programme::constant(0.0), now + duration_s);
                    // A hot winding may go on heating the strip and release it even now.
                    if self.carry(&off, now, until, Some(until))? == Carried::Released {
                        self.wait_open(until - self.session.t)?;
                    }
                } else {
                    self.wait_open(*duration_s)?;
                }
            }
            HistoryStep::WaitForRelatch { and_then_s } => {
                if self.session.phase == Phase::Open {
                    self.cool(*and_then_s)?;
                }
            }
            HistoryStep::Reset => self.reset_by_hand(now),
        }
        Ok(())
    }

    /// Wait open for a time; a relatch on the way is noted, and a self-resetting one closes there.
    fn wait_open(&mut self, duration_s: f64) -> Result<(), PredictError> {
        let until = self.session.t + duration_s;
        if !self.relatched && self.session.wait_for_relatch(until, self.watch)? == Cooled::Relatched
        {
            self.on_relatch();
        }
        if self.session.phase == Phase::Open {
            self.session.wait(until, self.watch)?;
        }
        self.session.t = self.session.t.max(until);
        Ok(())
    }

    /// Whether a reset came too early since the contacts opened.
    fn reset_was_refused(&self) -> bool {
        let mut since = self.events.iter().rev();
        since.find_map(|e| match e.event {
            Event::ResetRefused => Some(true),
            Event::ContactsOpen => Some(false),
            _ => None,
        }) == Some(true)
    }

    fn reset_by_hand(&mut self, now: f64) {
        if self.session.phase == Phase::Closed {
            self.note(now, Event::AlreadyClosed);
        } else if self.relatched {
            self.session.phase = Phase::Closed;
            self.note(now, Event::Reset);
        } else {
            self.note(now, Event::ResetRefused);
        }
    }

    fn run(
        &mut self,
        load: &Programme,
        start_s: f64,
        until_s: f64,
    ) -> Result<Carried, PredictError> {
        let now = self.session.t;
        self.note(now, Event::LoadOn);
        self.carry(load, start_s, until_s, None)
    }

    /// Carry a programme and note how it ends. `stay_until_s`: a time given by the scenario, to
    /// which it is carried on although holding is already proved, so that what follows starts from
    /// the right warmth.
    fn carry(
        &mut self,
        load: &Programme,
        start_s: f64,
        until_s: f64,
        stay_until_s: Option<f64>,
    ) -> Result<Carried, PredictError> {
        let carried = self
            .session
            .carry(load, start_s, until_s, 0.0, self.watch)?;
        let now = self.session.t;
        match carried {
            Carried::Released => {
                self.note(now, Event::Release);
                let opening = self.session.model.device.release.opening_time_s;
                self.session.open(load, start_s, opening, self.watch)?;
                self.relatched = false;
                let now = self.session.t;
                self.note(now, Event::ContactsOpen);
            }
            Carried::HeldForEver => {
                self.note(now, Event::Holds);
                if let Some(until) = stay_until_s {
                    self.session.stay_closed(load, start_s, until, self.watch)?;
                }
            }
            Carried::StillHolding => self.note(now, Event::HoldsSoFar),
        }
        Ok(carried)
    }

    fn cool(&mut self, and_then_s: f64) -> Result<Cooled, PredictError> {
        let cooled = self
            .session
            .wait_for_relatch(self.session.t + LONGEST_COOLING_S, self.watch)?;
        let now = self.session.t;
        match cooled {
            Cooled::Relatched => {
                self.on_relatch();
                if and_then_s > 0.0 && self.session.phase == Phase::Open {
                    self.session.wait(now + and_then_s, self.watch)?;
                }
            }
            Cooled::Never => self.note(now, Event::StaysOpen),
            Cooled::StillOpen => self.note(now, Event::StillOpen),
        }
        Ok(cooled)
    }

    fn on_relatch(&mut self) {
        let now = self.session.t;
        self.relatched = true;
        if self.reset == Reset::Automatic {
            self.session.phase = Phase::Closed;
            self.note(now, Event::ClosesByItself);
        } else {
            self.note(now, Event::Relatch);
        }
    }
}
