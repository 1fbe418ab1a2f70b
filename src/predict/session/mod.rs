//! One protector going through a history: it carries a programme, releases, opens, cools,
//! relatches.
//!
//! Every smooth piece of load and ambient is integrated by itself, so that no step crosses a
//! corner.

mod piece;

use super::Halt;
use super::ambient::ambient_piece;
use super::cycle::Cycle;
use super::fidelity::accuracy_of;
use super::leg::{LegEnd, Marches};
use super::trip_point::{BOILED_K, MELTED_K};
use crate::device::{Drive, Gauge, Model, Phase, Plant};
use crate::load::{Piece, Programme};
use crate::solve::{Controls, DenseStep, Failure};
use piece::Stretch;

/// Sees every step of a session.
pub trait Watch {
    /// One accepted step.
    fn step(&mut self, plant: &Plant<'_>, dense: &DenseStep);
    /// Whether it wants to see steps; without it the fast way can be gone.
    fn wants_steps(&self) -> bool {
        true
    }
}

/// A watch that sees nothing.
pub struct Unwatched;

impl Watch for Unwatched {
    fn step(&mut self, _: &Plant<'_>, _: &DenseStep) {}
    fn wants_steps(&self) -> bool {
        false
    }
}

/// How carrying a load ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Carried {
    /// Released at the session's time.
    Released,
    /// Held, and proved to hold for ever.
    HeldForEver,
    /// The time given ran out; the contacts are still closed.
    StillHolding,
}

/// How waiting for relatch ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cooled {
    /// Relatched at the session's time.
    Relatched,
    /// Proved never to relatch at this ambient.
    Never,
    /// The time given ran out.
    StillOpen,
}

/// How the integration of one piece ended.
enum Towards {
    /// At the event.
    Event,
    /// The event was proved never to come.
    Proved,
    /// At the end of the piece.
    End,
    /// Neither event nor proof in as long a time as is simulated.
    Undecided,
}

/// A smooth piece of load and ambient.
struct Ahead<'a> {
    plant: Plant<'a>,
    /// End of the piece of the load, s; infinite with open contacts.
    piece_end_s: f64,
    /// Whether the ambient does not change any more.
    is_last_air: bool,
    /// End of the whole, s.
    end_s: f64,
}

/// State of one protector in time.
pub struct Session<'a> {
    /// Device on its grid.
    pub model: &'a Model,
    ambient_points: &'a [(f64, f64)],
    controls: Controls,
    /// Accuracy asked for: what heat across the layers may be simplified to.
    pub accuracy: f64,
    /// Absolute time, s.
    pub t: f64,
    /// State.
    pub y: Vec<f64>,
    /// Closed or open.
    pub phase: Phase,
    /// Largest release value seen while closed, m (negative: deflection left).
    pub closest_m: f64,
    /// Integration steps so far.
    pub steps: usize,
    /// Until when the modes across the layers last were fed by a strong current, s.
    fed_until_s: f64,
    marches: Marches,
    /// When to give up.
    pub halt: Halt,
}

impl Clone for Session<'_> {
    fn clone(&self) -> Self {
        Session {
            model: self.model,
            ambient_points: self.ambient_points,
            controls: self.controls,
            accuracy: self.accuracy,
            t: self.t,
            y: self.y.clone(),
            phase: self.phase,
            closest_m: self.closest_m,
            steps: self.steps,
            fed_until_s: self.fed_until_s,
            marches: Marches::default(),
            halt: self.halt.clone(),
        }
    }
}

impl<'a> Session<'a> {
    /// A session that starts closed at time zero in the given state.
    pub fn new(
        model: &'a Model,
        ambient_points: &'a [(f64, f64)],
        tolerance: f64,
        y: Vec<f64>,
    ) -> Session<'a> {
        Session {
            model,
            ambient_points,
            controls: Controls::new(tolerance),
            accuracy: 10.0 * accuracy_of(tolerance),
            t: 0.0,
            y,
            phase: Phase::Closed,
            closest_m: f64::NEG_INFINITY,
            steps: 0,
            fed_until_s: f64::NEG_INFINITY,
            marches: Marches::default(),
            halt: Halt::default(),
        }
    }

    /// Whether strip or winding is hotter than any metal of theirs stays solid.
    pub fn has_molten(&self) -> bool {
        let winding_k = self.model.layout.winding.map_or(0.0, |w| self.y[w]);
        self.model.peak_k(&self.y).max(winding_k) > MELTED_K
    }

    /// Ambient at a time, K.
    pub fn ambient_k(&self, t: f64) -> f64 {
        ambient_piece(self.ambient_points, t).0.at(t)
    }

    /// Square of the current in the strip at the present time under a programme started at
    /// `start_s`.
    pub fn plant(&self, piece: Piece, programme_start_s: f64) -> Plant<'a> {
        let (ambient, _) = ambient_piece(self.ambient_points, self.t);
        Plant {
            model: self.model,
            drive: Drive {
                phase: self.phase,
                current: piece,
                programme_start_s,
                ambient,
            },
        }
    }

    /// The piece of a programme started at `start_s` that holds just after the present time.
    fn piece(&self, programme: &Programme, start_s: f64) -> Piece {
        let piece = programme.piece_after((self.t - start_s).max(0.0));
        if start_s + piece.end_s > self.t {
            return piece;
        }
        // Rounding of the difference left the time just before a boundary that it has reached.
        programme.piece_after(piece.end_s)
    }

    /// The smooth piece of load and ambient that comes next: contacts closed under a programme that
    /// started at a time, or open.
    fn ahead(&self, closed: Option<(&Programme, f64)>, until_s: f64) -> Ahead<'a> {
        let (ambient, ambient_end_s) = ambient_piece(self.ambient_points, self.t);
        let (drive, piece_end_s) = match closed {
            Some((programme, start_s)) => {
                let piece = self.piece(programme, start_s);
                let drive = Drive {
                    phase: Phase::Closed,
                    current: piece,
                    programme_start_s: start_s,
                    ambient,
                };
                (drive, start_s + piece.end_s)
            }
            None => (
                Drive {
                    ambient,
                    ..Drive::open(0.0)
                },
                f64::INFINITY,
            ),
        };
        Ahead {
            plant: Plant {
                model: self.model,
                drive,
            },
            piece_end_s,
            is_last_air: !ambient_end_s.is_finite(),
            end_s: piece_end_s.min(ambient_end_s).min(until_s),
        }
    }

    /// Carry a programme that started at absolute time `start_s`, until release, until it is proved
    /// to hold, or until absolute time `until_s`. `in_hand_m` asks for that much deflection in
    /// hand.
    pub fn carry(
        &mut self,
        programme: &Programme,
        start_s: f64,
        until_s: f64,
        in_hand_m: f64,
        watch: &mut dyn Watch,
    ) -> Result<Carried, Failure> {
        let mut cycle = Cycle::default();
        loop {
            if self.t >= until_s {
                return Ok(Carried::StillHolding);
            }
            let ahead = self.ahead(Some((programme, start_s)), until_s);
            let plant = &ahead.plant;
            // Only the last constant piece at a constant ambient has a steady state to prove with.
            let last = !ahead.piece_end_s.is_finite()
                && plant.drive.current.is_constant()
                && ahead.is_last_air;
            let gauge = Gauge::Release { in_hand_m };
            match self.towards(plant, gauge, last, ahead.end_s, watch)? {
                Towards::Event => return Ok(Carried::Released),
                Towards::Proved => return Ok(Carried::HeldForEver),
                Towards::Undecided => return Ok(Carried::StillHolding),
                Towards::End if self.model.peak_k(&self.y) > BOILED_K => {
                    return Ok(Carried::StillHolding);
                }
                Towards::End => {}
            }
            if let Some(period) = programme.period_s()
                && ahead.is_last_air
                && ahead.piece_end_s <= self.t * (1.0 + 1e-12)
                && ((self.t - start_s) / period - ((self.t - start_s) / period).round()).abs()
                    < 1e-6
                && cycle.settled(plant, &plant.event(gauge), self.t, &self.y, self.closest_m)
            {
                return Ok(Carried::HeldForEver);
            }
        }
    }

    /// Go on carrying the programme for the opening time, then open the contacts.
    pub fn open(
        &mut self,
        programme: &Programme,
        start_s: f64,
        opening_s: f64,
        watch: &mut dyn Watch,
    ) -> Result<(), Failure> {
        self.stay_closed(programme, start_s, self.t + opening_s, watch)?;
        self.phase = Phase::Open;
        Ok(())
    }

    /// Go on carrying the programme to absolute time `until_s` with the contacts closed, whatever
    /// the strip does: for the opening time, and where holding is already proved.
    pub fn stay_closed(
        &mut self,
        programme: &Programme,
        start_s: f64,
        until_s: f64,
        watch: &mut dyn Watch,
    ) -> Result<(), Failure> {
        while self.t < until_s {
            let ahead = self.ahead(Some((programme, start_s)), until_s);
            self.advance(&ahead.plant, ahead.end_s, watch)?;
            if self.has_molten() {
                self.t = until_s;
            }
        }
        Ok(())
    }

    /// Stay open until absolute time `until_s`.
    pub fn wait(&mut self, until_s: f64, watch: &mut dyn Watch) -> Result<(), Failure> {
        while self.t < until_s {
            let ahead = self.ahead(None, until_s);
            self.advance(&ahead.plant, ahead.end_s, watch)?;
        }
        Ok(())
    }

    /// Stay open until relatch, until that is proved never to come, or until `until_s`.
    pub fn wait_for_relatch(
        &mut self,
        until_s: f64,
        watch: &mut dyn Watch,
    ) -> Result<Cooled, Failure> {
        loop {
            if self.t >= until_s {
                return Ok(Cooled::StillOpen);
            }
            let Ahead {
                plant,
                is_last_air,
                end_s,
                ..
            } = self.ahead(None, until_s);
            match self.towards(&plant, Gauge::Relatch, is_last_air, end_s, watch)? {
                Towards::Event => return Ok(Cooled::Relatched),
                Towards::Proved => return Ok(Cooled::Never),
                Towards::Undecided => return Ok(Cooled::StillOpen),
                Towards::End => {}
            }
        }
    }

    /// Integrate one smooth piece towards an event. `settles`: the drive is constant from here on,
    /// so that its steady state can prove that the event never comes.
    fn towards(
        &mut self,
        plant: &Plant<'_>,
        gauge: Gauge,
        settles: bool,
        end_s: f64,
        watch: &mut dyn Watch,
    ) -> Result<Towards, Failure> {
        let stretch = Stretch {
            drive: plant.drive,
            gauge: Some(gauge),
            settles,
            end_s,
        };
        let report = self.go(stretch, watch)?;
        if plant.drive.phase == Phase::Closed {
            self.closest_m = self.closest_m.max(report.largest);
        }
        Ok(match report.end {
            LegEnd::Event => Towards::Event,
            LegEnd::Proved => Towards::Proved,
            LegEnd::End if end_s.is_finite() => Towards::End,
            LegEnd::End => Towards::Undecided,
        })
    }

    fn advance(
        &mut self,
        plant: &Plant<'_>,
        end_s: f64,
        watch: &mut dyn Watch,
    ) -> Result<(), Failure> {
        let stretch = Stretch {
            drive: plant.drive,
            gauge: None,
            settles: false,
            end_s,
        };
        self.go(stretch, watch).map(|_| ())
    }
}
