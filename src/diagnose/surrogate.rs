//! What a particle makes of the evidence by superposition: near enough to know where to simulate.

use super::latent::{LOAD, Particle, START};
use super::mended::either;
use super::outcome::{Noise, about_s, log_likelihood};
use super::pieces::root_mean_square;
use super::readings::{Weighed, terminals};
use super::scales::{Scales, TwoTerminals};
use super::scatter::{SELECTED_S, THRESHOLD};
use crate::evidence::{Before, Setting};
use crate::family::{Steps, Wear};
use crate::statistics::normal;

/// How far superposition is off, relative, in terms of the current.
const CURRENT_NOISE: f64 = 0.008;
/// Times between which a trip is looked for, s; at the later one all is settled.
const TIMES_S: (f64, f64) = (1e-2, 1e5);
/// A trip that comes later than this does not come.
pub const NEVER_S: f64 = 0.9 * TIMES_S.1;

/// Durations and currents of one event.
struct Course<'s> {
    past: [(f64, f64); 3],
    past_count: usize,
    before_a: f64,
    load: [(f64, f64); 2],
    load_count: usize,
    /// In place of the load.
    recorded: Option<&'s [(f64, f64)]>,
}

impl Course<'_> {
    fn steps(&self) -> Steps<'_> {
        Steps {
            before_a: self.before_a,
            past: &self.past[..self.past_count],
            load: self.recorded.unwrap_or(&self.load[..self.load_count]),
        }
    }
}

/// When the factor on the load falls to one, s; the end of the range when it does not.
pub fn trip_s(factor: impl Fn(f64) -> (f64, f64)) -> f64 {
    let (mut low, mut high) = (TIMES_S.0.ln(), TIMES_S.1.ln());
    while high - low > 1e-3 {
        let middle = 0.5 * (low + high);
        if factor(middle.exp()).0 > 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    high.exp()
}

impl Scales<'_> {
    /// Everything, nearly; `items` gets the logarithm of each item's likelihood.
    pub fn surrogate(&self, particle: &Particle, items: &mut Vec<f64>) -> Weighed {
        items.clear();
        self.readings(particle, items);
        let mut sum = Weighed::read(items);
        for k in 0..self.case.events.len() {
            let event = &self.case.events[k];
            let then = self.then_of(particle, event);
            let log = either(&then, |g| {
                self.with_element(g, event, self.quick_event(g, k))
            });
            items.push(log);
            sum.event(event, log);
        }
        if let Some(t) = &self.case.terminals {
            let then = self.then(particle, t.mended, false);
            let log = either(&then, |g| terminals(t, &self.quick_terminals(g)));
            items.push(log);
            sum.add(log);
        }
        sum
    }

    /// The terminals, nearly.
    fn quick_terminals(&self, particle: &Particle) -> TwoTerminals {
        let wear = self.in_place(particle, self.wear(particle));
        let part = self.quick.part(particle.drawn, wear);
        let air_k = self.air_k(particle);
        let load = [(f64::INFINITY, self.other_a(particle))];
        let steps = Steps::cold(&load);
        let trips_s = trip_s(|t| part.factor(&steps, self.felt_k(air_k), t));
        let rise_k = part.terminals_k(&steps, trips_s);
        TwoTerminals { air_k, rise_k }
    }

    /// Probability that the machine of a particle trips the part within half a day, in some state
    /// of wear.
    pub fn quickly_trips(&self, particle: &Particle, wear: Wear) -> f64 {
        let part = self
            .quick
            .part(particle.drawn, self.in_place(particle, wear));
        let air_k = self.felt_k(self.air_k(particle));
        let (load, count) = self.service_steps(particle, true);
        let steps = Steps::cold(&load[..count]);
        let strip = normal::cdf(-part.factor(&steps, air_k, SELECTED_S).0 / THRESHOLD);
        let largest_a = load[..count].iter().fold(0.0, |most: f64, s| most.max(s.1));
        1.0 - (1.0 - strip) * (1.0 - self.opens_at_once(largest_a))
    }

    /// The load in service as steps, and how many of the two are used.
    fn service_steps(&self, particle: &Particle, with_start: bool) -> ([(f64, f64); 2], usize) {
        let run_a = self.rated_a() * particle.x[LOAD].exp();
        if !with_start || self.case.has_start == Some(false) {
            return ([(f64::INFINITY, run_a); 2], 1);
        }
        let start = (
            particle.x[START].exp(),
            self.rated_a() * particle.log_start().exp(),
        );
        ([start, (f64::INFINITY, run_a)], 2)
    }

    /// The factor on the load of event `k` with which it would have tripped by a time, for any
    /// time.
    pub fn quick_factor<'s>(
        &'s self,
        particle: &Particle,
        k: usize,
    ) -> impl Fn(f64) -> (f64, f64) + 's {
        let event = &self.case.events[k];
        let part = self
            .quick
            .part(particle.drawn, self.event_wear(particle, event));
        let air_k = self.felt_k(self.event_air_k(particle, event));
        let mut course = self.course(particle, k);
        match &event.setting {
            Setting::InService { with_start } => {
                (course.load, course.load_count) = self.service_steps(particle, *with_start);
            }
            Setting::Recorded(_) => course.recorded = Some(&self.recorded[k]),
            Setting::Bench { current_a } => course.load[0].1 = current_a.value,
        }
        let ends: Vec<(f64, f64)> = part.ends(&course.steps(), air_k).collect();
        move |time_s| part.factor_after(ends.iter().copied(), &course.steps(), air_k, time_s)
    }

    /// How far superposition may be off in an event, in terms of the current.
    fn quick_doubt(&self, particle: &Particle, k: usize) -> f64 {
        let event = &self.case.events[k];
        let wear = self.event_wear(particle, event);
        let part = self.quick.part(particle.drawn, wear);
        let air_k = self.felt_k(self.event_air_k(particle, event));
        let course = self.course(particle, k);
        part.doubt(&course.steps(), air_k, about_s(&event.outcome))
    }

    fn quick_event(&self, particle: &Particle, k: usize) -> f64 {
        let event = &self.case.events[k];
        let rise_k = self.family.members()[particle.drawn.member].rise_k;
        // Where it is further off the engine has to be asked further round.
        let noise = Noise::of(event, rise_k)
            .and(CURRENT_NOISE)
            .and(self.quick_doubt(particle, k));
        log_likelihood(&event.outcome, noise, self.quick_factor(particle, k))
    }

    /// What came before an event: a steady current, or the trip before and a rest.
    fn course(&self, particle: &Particle, k: usize) -> Course<'_> {
        let mut course = Course {
            past: [(0.0, 0.0); 3],
            past_count: 0,
            before_a: 0.0,
            load: [(f64::INFINITY, 0.0); 2],
            load_count: 1,
            recorded: None,
        };
        match self.case.events[k].before {
            Before::Cold | Before::Unknown => {}
            Before::Hot { current_a } => course.before_a = current_a,
            Before::AfterTrip { wait_s } => {
                let Some(last) = k.checked_sub(1).map(|k| &self.case.events[k]) else {
                    return course;
                };
                if !last.is_trip() {
                    return course;
                }
                let time_s = about_s(&last.outcome);
                let mut add = |duration_s: f64, current_a: f64| {
                    course.past[course.past_count] = (duration_s, current_a);
                    course.past_count += 1;
                };
                match &last.setting {
                    Setting::Bench { current_a } => add(time_s, current_a.value),
                    Setting::Recorded(load) => add(time_s, root_mean_square(load, time_s)),
                    Setting::InService { with_start } => {
                        let (load, count) = self.service_steps(particle, *with_start);
                        if count == 2 && load[0].0 < time_s {
                            add(load[0].0, load[0].1);
                            add(time_s - load[0].0, load[1].1);
                        } else {
                            add(time_s, load[0].1);
                        }
                    }
                }
                add(wait_s, 0.0);
            }
        }
        course
    }
}
