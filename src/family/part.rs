//! A member placed under a nameplate, in some state of wear: the particle that everything else
//! simulates.

use super::member::{Member, rough};
use crate::device::{Device, Model, Phase};
use crate::load::Programme;
use crate::predict::{Carried, Cooled, Session, Unwatched};
use std::sync::Arc;

/// Where a member is placed: which trip point, which pace.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Placing {
    /// Trip point at the reference air, as new, over the rated current.
    pub trip_multiple: f64,
    /// Factor on the member's own times.
    pub pace: f64,
}

impl Placing {
    /// Own amperes of a member for one real ampere.
    pub(super) fn own_per_ampere(&self, member: &Member, rated_current_a: f64) -> f64 {
        member.trip_point_a / (self.trip_multiple * rated_current_a)
    }
}

/// A draw from the family.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Drawn {
    /// Number of the member.
    pub member: usize,
    /// How it is placed.
    pub placing: Placing,
}

/// State of one part.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wear {
    /// Preload lost, 0 to below 0.95.
    pub loss: f64,
    /// Factor on the force that releases the latch (above 1: friction, a late part).
    pub force_factor: f64,
    /// Factor on the travels of the latch (below 1: a differential bar that sees a lost phase).
    pub travel_factor: f64,
    /// Heat of a bad joint at the line terminal under rated current, W.
    pub joint_w: f64,
}

impl Wear {
    /// As new, well connected.
    pub const NONE: Wear = Wear {
        loss: 0.0,
        force_factor: 1.0,
        travel_factor: 1.0,
        joint_w: 0.0,
    };
}

/// A part that can be simulated. Times, currents and temperatures of its methods are real ones.
pub struct Part {
    model: Arc<Model>,
    tolerance: f64,
    /// Own amperes for one real ampere.
    own_per_ampere: f64,
    /// Real seconds for one own second.
    pace: f64,
    slowest_s: f64,
    release_travel_m: f64,
    rated_own_a: f64,
}

/// What a part did under a load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Carries {
    /// Tripped after this time, s.
    Trips(f64),
    /// Holds for ever, proved.
    Holds,
    /// Had not tripped when the time given was over.
    StillHolds,
}

impl Part {
    /// Place a member. `shortest_s`: the soonest event that matters, s.
    pub fn new(
        member: &Member,
        placing: Placing,
        wear: Wear,
        rated_current_a: f64,
        shortest_s: f64,
    ) -> Part {
        let own_per_ampere = placing.own_per_ampere(member, rated_current_a);
        let mut device = member.device.clone();
        apply(&mut device, wear, own_per_ampere * rated_current_a);
        let fidelity = rough(&device, shortest_s / placing.pace);
        Part {
            model: device.on(fidelity.fineness),
            tolerance: fidelity.tolerance,
            own_per_ampere,
            pace: placing.pace,
            slowest_s: member.slowest_s * placing.pace,
            release_travel_m: member.release_deflection_m,
            rated_own_a: own_per_ampere * rated_current_a,
        }
    }

    /// A load in the part's own amperes and seconds.
    fn own(&self, load: &Programme) -> Programme {
        load.scaled(self.own_per_ampere, 1.0 / self.pace)
    }

    /// Everything at the temperature of the air, closed.
    pub fn cold<'a>(&'a self, air: &'a [(f64, f64)]) -> Run<'a> {
        let ambient_k = air.first().map_or(296.15, |p| p.1);
        Run {
            part: self,
            session: Session::new(
                &self.model,
                air,
                self.tolerance,
                self.model.uniform(ambient_k),
            ),
        }
    }

    /// Long under a current, A, closed; `None` when it does not hold that current.
    pub fn hot<'a>(&'a self, air: &'a [(f64, f64)], current_a: f64) -> Option<Run<'a>> {
        let (run, carried) = self.warmed(air, current_a)?;
        (carried == Carries::Holds).then_some(run)
    }

    /// As warm as a current, A, makes it from cold: settled where it holds that current, otherwise
    /// at the trip. `None` when the computation fails.
    pub fn warmed<'a>(
        &'a self,
        air: &'a [(f64, f64)],
        current_a: f64,
    ) -> Option<(Run<'a>, Carries)> {
        let mut run = self.cold(air);
        let carried = run.carry(&Programme::constant(current_a), f64::INFINITY)?;
        if carried == Carries::Holds {
            // The proof ends the march before everything has settled: settle it.
            let ambient_k = air.first().map_or(296.15, |p| p.1);
            let own = current_a * self.own_per_ampere;
            let cold = self.model.uniform(ambient_k);
            let settled = crate::predict::closed_steady(&self.model, own, ambient_k, &cold);
            run.session.y = settled.ok()??;
        }
        Some((run, carried))
    }

    /// Time after which everything is cold, s, roughly: twelve of the slowest time constants.
    pub fn cold_after_s(&self) -> f64 {
        12.0 * self.slowest_s
    }

    /// Largest current it holds for ever at an air temperature, A; `None` when there is none.
    pub fn trip_point_a(&self, air_k: f64) -> Option<f64> {
        let guess_a = self.rated_own_a;
        crate::predict::trip_point_on(&self.model, air_k, guess_a)
            .ok()?
            .current_a()
            .map(|own| own / self.own_per_ampere)
    }

    /// Deflection at release without force plus what the preload holds, m, of the member.
    pub fn release_travel_m(&self) -> f64 {
        self.release_travel_m
    }

    /// The member's model, in its own amperes and seconds.
    pub(super) fn model(&self) -> &Model {
        &self.model
    }

    /// Resistance of the closed part at a uniform temperature, ohm, its joints included.
    pub fn resistance_ohm(&self, t_k: f64) -> f64 {
        self.model.device.resistance_ohm(t_k) * self.own_per_ampere * self.own_per_ampere
    }
}

/// Wear in the member's own terms; `own_rated_a`: its own amperes at rated current.
fn apply(device: &mut Device, wear: Wear, own_rated_a: f64) {
    device.wear(wear.loss.clamp(0.0, 0.949), wear.force_factor);
    if let Some(latch) = device.release.mechanism.latch_mut() {
        latch.release_travel_m *= wear.travel_factor;
        latch.relatch_travel_m *= wear.travel_factor;
    }
    device.clamped.resistance_ohm += wear.joint_w / (own_rated_a * own_rated_a);
}

/// A part on its way through a history.
#[derive(Clone)]
pub struct Run<'a> {
    part: &'a Part,
    session: Session<'a>,
}

impl Run<'_> {
    /// Carry a load from now on, for at most a time, s. `None` when the computation fails.
    pub fn carry(&mut self, load: &Programme, longest_s: f64) -> Option<Carries> {
        self.carry_with_margin(load, longest_s, 0.0)
    }

    /// Carry a load; a release counts when the deflection comes within a margin of it, m of the
    /// member.
    pub fn carry_with_margin(
        &mut self,
        load: &Programme,
        longest_s: f64,
        margin_m: f64,
    ) -> Option<Carries> {
        let begin = self.session.t;
        let until = begin + longest_s.min(1e8) / self.part.pace;
        self.session.phase = Phase::Closed;
        let own = self.part.own(load);
        let carried = self
            .session
            .carry(&own, begin, until, margin_m, &mut Unwatched)
            .ok()?;
        let took = (self.session.t - begin) * self.part.pace;
        Some(match carried {
            Carried::Released => Carries::Trips(took),
            Carried::HeldForEver => Carries::Holds,
            Carried::StillHolding => Carries::StillHolds,
        })
    }

    /// Go on carrying a load for a time, s, with the contacts closed whatever the strip does: where
    /// a log shows that the part has not opened. `None` when the computation fails.
    pub fn stay_closed(&mut self, load: &Programme, time_s: f64) -> Option<()> {
        let begin = self.session.t;
        self.session.phase = Phase::Closed;
        let own = self.part.own(load);
        let until = begin + time_s / self.part.pace;
        self.session
            .stay_closed(&own, begin, until, &mut Unwatched)
            .ok()
    }

    /// Share of the way to release that the strip has gone under a current, A: 0 where everything
    /// is as warm as the air, 1 at release, above 1 past it.
    pub fn travel_used(&self, current_a: f64) -> f64 {
        let model = self.session.model;
        let own = current_a * self.part.own_per_ampere * model.device.current_share;
        let cold = model.uniform(self.session.ambient_k(self.session.t));
        let all_m = -model.release_excess_m(&cold, 0.0);
        let left_m = -model.release_excess_m(&self.session.y, own * own);
        if all_m > 0.0 {
            1.0 - left_m / all_m
        } else {
            // Air that releases it by itself leaves no way to go.
            f64::INFINITY
        }
    }

    /// Open contacts for a time, s.
    pub fn rest(&mut self, time_s: f64) -> Option<()> {
        self.session.phase = Phase::Open;
        let until = self.session.t + time_s / self.part.pace;
        self.session.wait(until, &mut Unwatched).ok()
    }

    /// Open contacts until the latch holds again: the wait, s; `None` when it never does.
    pub fn relatch(&mut self) -> Option<f64> {
        self.session.phase = Phase::Open;
        let begin = self.session.t;
        match self
            .session
            .wait_for_relatch(begin + 1e7 / self.part.pace, &mut Unwatched)
            .ok()?
        {
            Cooled::Relatched => Some((self.session.t - begin) * self.part.pace),
            Cooled::Never | Cooled::StillOpen => None,
        }
    }

    /// Whether strip or winding has molten on the way.
    pub fn has_molten(&self) -> bool {
        self.session.has_molten()
    }

    /// Temperatures of the clamped terminal, the fixed contact's terminal and the mean strip, K.
    pub fn temperatures_k(&self) -> [f64; 3] {
        let model = self.session.model;
        let y = &self.session.y;
        let weights = &model.grid.weight_m;
        let sum: f64 = weights.iter().zip(y.iter()).map(|(w, t)| w * t).sum();
        [
            y[0],
            y[model.layout.fixed],
            sum / weights.iter().sum::<f64>(),
        ]
    }
}
