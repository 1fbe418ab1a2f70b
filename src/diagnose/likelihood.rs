//! What one particle makes of the evidence: every event is simulated by the engine, every reading
//! compared.

use super::latent::Particle;
use super::outcome::{Noise, about_s, log_by_chance, log_likelihood};
use super::readings::{Weighed, terminals};
use super::scales::Scales;
use super::scatter::{RE_MADE, RESET_SLIP};
use crate::evidence::{Before, Event};
use crate::family::{Carries, Part, Run};
use crate::statistics::normal;

/// Longest time simulated, s.
const LONGEST_S: f64 = 1e6;
/// The factor on a load is looked for within these, as logarithms.
const FACTORS: (f64, f64) = (-1.5, 1.0);
/// How much more is tried when a load holds that superposition says would trip, as logarithms of
/// the factor.
const MORE: [f64; 4] = [0.0, 0.01, 0.04, 0.15];

/// A part that holds with so many standard uncertainties in hand is not simulated to show it.
const CLEARLY: f64 = 8.0;

/// A part at the moment of an event.
struct Moment {
    /// How much more the factor on the load is than by superposition.
    correction: f64,
    /// Logarithm of the likelihood of when it could be reset.
    reset: f64,
}

impl Scales<'_> {
    /// Everything.
    pub fn weigh(&self, particle: &Particle) -> Weighed {
        let mut items = Vec::new();
        self.readings(particle, &mut items);
        let mut sum = Weighed::read(&items);
        let rise_k = self.family.members()[particle.drawn.member].rise_k;
        for k in 0..self.case.events.len() {
            let event = &self.case.events[k];
            let mut log = self.event(particle, k, rise_k);
            if self.may_be_re_made(particle, k) {
                let other = self.event(&particle.with_sound_joint(), k, rise_k);
                log = ((1.0 - RE_MADE) * log.exp() + RE_MADE * other.exp()).ln();
            }
            sum.event(event, log);
        }
        if let Some(t) = &self.case.terminals {
            let log = terminals(t, &self.terminals(particle));
            sum.add(log);
        }
        sum
    }

    /// Logarithm of the likelihood of an event.
    fn event(&self, particle: &Particle, k: usize, rise_k: f64) -> f64 {
        let event = &self.case.events[k];
        let factor = self.quick_factor(particle, k);
        let noise = Noise::of(event, rise_k);
        match self.moment(particle, event, k, noise, &factor) {
            Some(m) => {
                let log = log_likelihood(&event.outcome, noise, |t| {
                    let (log, at_s) = factor(t);
                    (log + m.correction, at_s)
                });
                m.reset + log
            }
            None => noise.wrong.ln() + log_by_chance(&event.outcome),
        }
    }

    /// Simulates an event under the load that trips at the time observed by superposition: what the
    /// engine says differs little from that, and is well defined on both sides of the trip point.
    fn moment(
        &self,
        particle: &Particle,
        event: &Event,
        k: usize,
        noise: Noise,
        factor: &impl Fn(f64) -> (f64, f64),
    ) -> Option<Moment> {
        let part = self.part(particle, self.event_wear(particle, event));
        let air = [(0.0, self.felt_k(self.event_air_k(particle, event)))];
        let load = self.event_load(particle, event);
        let (near, _) = factor(about_s(&event.outcome));
        if !event.is_trip() && near > CLEARLY * noise.current {
            return Some(Moment {
                correction: 0.0,
                reset: 0.0,
            });
        }
        let near = near.clamp(FACTORS.0, FACTORS.1);
        for more in MORE {
            let mut run = self.before(particle, &part, &air, k)?;
            let tried = near + more;
            match run.carry(&load.scaled(tried.exp(), 1.0), LONGEST_S)? {
                Carries::Trips(time_s) => {
                    return Some(Moment {
                        correction: tried - factor(time_s.max(1e-3)).0,
                        reset: reset(event, &mut run),
                    });
                }
                Carries::Holds | Carries::StillHolds => {}
            }
        }
        None
    }

    /// The part as it was before an event.
    fn before<'p>(
        &self,
        particle: &Particle,
        part: &'p Part,
        air: &'p [(f64, f64)],
        k: usize,
    ) -> Option<Run<'p>> {
        match self.case.events[k].before {
            Before::Cold | Before::Unknown => Some(part.cold(air)),
            Before::Hot { current_a } => part.hot(air, current_a),
            Before::AfterTrip { wait_s } => {
                let mut run = part.cold(air);
                let last = k.checked_sub(1)?;
                let load = self.event_load(particle, &self.case.events[last]);
                match run.carry(&load, LONGEST_S)? {
                    Carries::Trips(_) => run.rest(wait_s)?,
                    _ => return Some(part.cold(air)),
                }
                Some(run)
            }
        }
    }
}

/// Logarithm of the likelihood of when it could be reset after a trip.
fn reset(event: &Event, run: &mut Run<'_>) -> f64 {
    let Some((failed_s, held_s)) = event.reset_between_s else {
        return 0.0;
    };
    match run.relatch() {
        Some(wait) => {
            let z = |t: f64| (t.max(1e-3).ln() - wait.max(1e-3).ln()) / 0.2;
            let within = normal::cdf(z(held_s)) - normal::cdf(z(failed_s));
            (RESET_SLIP + (1.0 - RESET_SLIP) * within).ln()
        }
        None => RESET_SLIP.ln(),
    }
}
