//! What one particle makes of the evidence: every event is simulated by the engine, every reading
//! compared.

use super::latent::Particle;
use super::mended::either;
use super::outcome::{Noise, about_s, log_by_chance, log_likelihood, log_without_a_trip};
use super::readings::{Weighed, terminals};
use super::scales::Scales;
use super::scatter::{RESET_SLIP, RESETS};
use crate::evidence::Before;
use crate::family::{Carries, Part, Run, Wear};
use crate::statistics::normal;

/// Longest time simulated, s.
const LONGEST_S: f64 = 1e6;
/// The factor on a load is looked for within these, as logarithms.
const FACTORS: (f64, f64) = (-1.5, 1.6);
/// How much more is tried when a load holds that superposition says would trip, as logarithms of
/// the factor.
const MORE: [f64; 4] = [0.0, 0.01, 0.04, 0.15];

/// A part that holds with so many standard uncertainties in hand is not simulated to show it.
const CLEARLY: f64 = 8.0;

/// One part in the states that events find it in: many of them find it in the same.
#[derive(Default)]
struct InStates(Vec<(Wear, Part)>);

impl InStates {
    fn of(&mut self, scales: &Scales<'_>, particle: &Particle, wear: Wear) -> &Part {
        let found = self.0.iter().position(|(w, _)| *w == wear);
        let k = found.unwrap_or_else(|| {
            self.0.push((wear, scales.part(particle, wear)));
            self.0.len() - 1
        });
        &self.0[k].1
    }
}

/// What the engine says of an event.
enum Moment {
    /// How much more the factor on the load is than by superposition, and the logarithm of the
    /// likelihood of when it could be reset after the trip.
    Found { correction: f64, reset: f64 },
    /// It does not trip, with much more load either.
    NeverTrips,
}

impl Scales<'_> {
    /// Everything.
    pub fn weigh(&self, particle: &Particle) -> Weighed {
        let mut items = Vec::new();
        self.readings(particle, &mut items);
        let mut sum = Weighed::read(&items);
        let rise_k = self.family.members()[particle.drawn.member].rise_k;
        let mut parts = InStates::default();
        for k in 0..self.case.events.len() {
            let event = &self.case.events[k];
            let then = self.then_of(particle, event);
            let mut resets = Vec::with_capacity(2);
            let log = either(&then, |g| {
                let (log, reset) = self.event(g, k, rise_k, &mut parts);
                resets.push(reset);
                self.with_element(g, event, log)
            });
            sum.event(event, log);
            // However it came to the trip, it cools by itself.
            let mut resets = resets.into_iter();
            sum.add(either(&then, |_| resets.next().unwrap_or(0.0)));
        }
        if let Some(t) = &self.case.terminals {
            let then = self.then(particle, t.mended, false);
            let log = either(&then, |g| terminals(t, &self.terminals(g)));
            sum.add(log);
        }
        sum
    }

    /// Logarithms of the likelihood of an event, and of the resets after it.
    fn event(
        &self,
        particle: &Particle,
        k: usize,
        rise_k: f64,
        parts: &mut InStates,
    ) -> (f64, f64) {
        let event = &self.case.events[k];
        let factor = self.quick_factor(particle, k);
        let noise = Noise::of(event, rise_k);
        let part = parts.of(self, particle, self.event_wear(particle, event));
        match self.moment(particle, k, part, noise, &factor) {
            Some(Moment::Found { correction, reset }) => {
                let log = log_likelihood(&event.outcome, noise, |t| {
                    let (log, at_s) = factor(t);
                    (log + correction, at_s)
                });
                (log, reset)
            }
            Some(Moment::NeverTrips) => (log_without_a_trip(&event.outcome, noise.wrong), 0.0),
            None => (noise.wrong.ln() + log_by_chance(&event.outcome), 0.0),
        }
    }

    /// Simulates an event under the load that trips at the time observed by superposition: what the
    /// engine says differs little from that, and is well defined on both sides of the trip point.
    /// `None` where the state before it cannot be, or the computation fails.
    fn moment(
        &self,
        particle: &Particle,
        k: usize,
        part: &Part,
        noise: Noise,
        factor: &impl Fn(f64) -> (f64, f64),
    ) -> Option<Moment> {
        let event = &self.case.events[k];
        let air = [(0.0, self.felt_k(self.event_air_k(particle, event)))];
        let load = self.event_load(particle, event);
        let (near, _) = factor(about_s(&event.outcome));
        if !event.is_trip() && near > CLEARLY * noise.current {
            return Some(Moment::Found {
                correction: 0.0,
                reset: 0.0,
            });
        }
        let near = near.clamp(FACTORS.0, FACTORS.1);
        let before = self.before(particle, part, &air, k)?;
        for more in MORE {
            let mut run = before.clone();
            let tried = near + more;
            match run.carry(&load.scaled(tried.exp(), 1.0), LONGEST_S)? {
                Carries::Trips(time_s) => {
                    return Some(Moment::Found {
                        correction: tried - factor(time_s.max(1e-3)).0,
                        reset: self.resets(k, &mut run),
                    });
                }
                Carries::Holds | Carries::StillHolds => {}
            }
        }
        Some(Moment::NeverTrips)
    }

    /// Logarithm of the likelihood of the resets after a trip: those that were tried, and one that
    /// held, since it was closed again before the next event.
    fn resets(&self, k: usize, run: &mut Run<'_>) -> f64 {
        let event = &self.case.events[k];
        let closed_again_s = self
            .case
            .events
            .get(k + 1)
            .and_then(|next| match next.before {
                Before::AfterTrip { wait_s } if event.is_trip() && next.unit == event.unit => {
                    Some((0.0, wait_s))
                }
                _ => None,
            });
        let Some((refused_s, held_s)) = event.reset_between_s.or(closed_again_s) else {
            return 0.0;
        };
        match run.relatch() {
            Some(wait) => {
                let z = |t: f64| (t.max(1e-3).ln() - wait.max(1e-3).ln()) / RESETS;
                let within = normal::cdf(z(held_s)) - normal::cdf(z(refused_s));
                (RESET_SLIP + (1.0 - RESET_SLIP) * within).ln()
            }
            None => RESET_SLIP.ln(),
        }
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnose::hypothesis::{HYPOTHESES, Trips};
    use crate::diagnose::latent::{LOAD, draw, prior};
    use crate::evidence;
    use crate::family::{Family, Steps};
    use crate::statistics::stream::{Purpose, Stream};

    fn case(rest: &str) -> evidence::Case {
        let head =
            "format = 1\nkind = \"case\"\ntitle = \"A mixer\"\n\n[protector]\nrating = \"10 A\"\n";
        evidence::read_text("case", &format!("{head}{rest}")).unwrap_or_else(|e| panic!("{e}"))
    }

    /// Some particles of a sound machine that is well loaded.
    fn particles(case: &evidence::Case, family: &Family) -> Vec<Particle> {
        let nothing = HYPOTHESES.iter().find(|h| h.trips == Trips::Once).unwrap();
        let prior = prior(case, nothing).unwrap();
        (0..6)
            .map(|k| {
                let stream = Stream::new(3, Purpose::other(46), k);
                let mut x = draw(&prior, &stream);
                x[LOAD] = -0.1;
                Particle {
                    drawn: family.draw(&stream).unwrap(),
                    x,
                    lost_phase: false,
                }
            })
            .collect()
    }

    #[test]
    fn terminals_that_were_read_long_after_the_start_have_settled() {
        let case = case(
            "\n[[held]]\nfor = \"1 h\"\nfrom = \"cold\"\n\n[terminals]\nhotter = \"40 degC\"\nother = \"38 degC\"\n",
        );
        let family = Family::new(&case.nameplate, 24).unwrap();
        let scales = Scales::new(&case, &family);
        for particle in particles(&case, &family) {
            let wear = scales.wear(&particle);
            let load = [(f64::INFINITY, scales.other_a(&particle))];
            let part = scales.quick.part(particle.drawn, wear);
            let settled_k = part.terminals_k(&Steps::cold(&load), 1e6);
            let rise_k = scales.terminals(&particle).rise_k;
            for (rise_k, settled_k) in rise_k.into_iter().zip(settled_k) {
                assert!(
                    rise_k > 0.75 * settled_k,
                    "{rise_k} {settled_k} {particle:?}"
                );
            }
        }
    }

    #[test]
    fn a_part_that_was_closed_again_has_cooled_by_then_whatever_tripped_it() {
        let after = |wait: &str| {
            case(&format!(
                "\n[[trip]]\nafter = \"25 s\"\nfrom = \"cold\"\n\n[[held]]\nfor = \"1 s\"\nfrom = \"{wait} after the \
                 trip\"\n"
            ))
        };
        let (soon, late) = (after("1 s"), after("2 h"));
        let family = Family::new(&soon.nameplate, 24).unwrap();
        for particle in particles(&soon, &family) {
            let [soon, late] = [&soon, &late].map(|c| Scales::new(c, &family).weigh(&particle));
            assert!(soon.log < late.log - 2.0, "{soon:?} {late:?}");
            assert!(soon.log_unexplained < late.log_unexplained - 2.0);
            assert!(soon.log_mid_run < late.log_mid_run - 2.0);
        }
    }
}
