//! What a particle makes of the evidence by superposition: near enough to know where to simulate.

use super::latent::{LOAD, Particle, START};
use super::mended::either;
use super::outcome::{Noise, about_s, asked_s, log_likelihood};
use super::pieces::root_mean_square;
use super::readings::{Weighed, terminals};
use super::scales::{Scales, TwoTerminals};
use super::scatter::{SELECTED_S, THRESHOLD};
use crate::evidence::{Before, Setting};
use crate::family::{Fixed, QuickPart, Steps, Wear, falls};
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
    fixed: Option<&'s Fixed>,
}

impl Course<'_> {
    fn steps(&self) -> Steps<'_> {
        Steps {
            before_a: self.before_a,
            past: &self.past[..self.past_count],
            load: self.recorded.unwrap_or(&self.load[..self.load_count]),
            fixed: self.fixed,
        }
    }
}

/// A part in one event.
struct InEvent<'s> {
    part: QuickPart<'s>,
    air_k: f64,
    course: Course<'s>,
    ends: Vec<(f64, f64)>,
}

impl InEvent<'_> {
    /// The factor on its load with which it would have tripped by a time, s, and when it then would.
    fn factor(&self, time_s: f64) -> (f64, f64) {
        let ends = self.ends.iter().copied();
        let steps = self.course.steps();
        self.part.factor_after(ends, &steps, self.air_k, time_s)
    }

    /// How far superposition may be off at a time, s, in terms of the current.
    fn doubt(&self, time_s: f64) -> f64 {
        self.part.doubt(&self.course.steps(), self.air_k, time_s)
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
            let log = self.quick_log(particle, k);
            items.push(log);
            sum.event(&self.case.events[k], log);
        }
        if let Some(log) = self.quick_terminals_log(particle) {
            items.push(log);
            sum.add(log);
        }
        sum
    }

    /// One event, nearly.
    pub fn quick_log(&self, particle: &Particle, k: usize) -> f64 {
        let event = &self.case.events[k];
        let then = self.then_of(particle, event);
        either(&then, |g| {
            self.with_element(g, event, self.quick_event(g, k))
        })
    }

    /// The terminals, nearly, where they were measured.
    pub fn quick_terminals_log(&self, particle: &Particle) -> Option<f64> {
        let t = self.case.terminals.as_ref()?;
        let then = self.then(particle, t.mended, false);
        Some(either(&then, |g| terminals(t, &self.quick_terminals(g))))
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
        let event = self.in_event(particle, k);
        move |time_s| event.factor(time_s)
    }

    /// The part of a particle in event `k`.
    fn in_event(&self, particle: &Particle, k: usize) -> InEvent<'_> {
        let event = &self.case.events[k];
        let part = self
            .quick
            .part(particle.drawn, self.event_wear(particle, event));
        let air_k = self.felt_k(self.event_air_k(particle, event));
        let course = self.course(k, |with_start| self.service_steps(particle, with_start));
        let steps = course.steps();
        let ends = part.ends(&steps, air_k).collect();
        InEvent {
            part,
            air_k,
            course,
            ends,
        }
    }

    fn quick_event(&self, particle: &Particle, k: usize) -> f64 {
        let event = &self.case.events[k];
        let rise_k = self.family.members()[particle.drawn.member].rise_k;
        let quick = self.in_event(particle, k);
        // Where it is further off the engine has to be asked further round.
        let noise = Noise::of(event, rise_k)
            .and(CURRENT_NOISE)
            .and(quick.doubt(about_s(&event.outcome)));
        log_likelihood(&event.outcome, noise, |time_s| quick.factor(time_s))
    }

    /// The recorded load of an event, the same for every part, followed once; `None` where there is none,
    /// or what came before it hangs on the particle.
    pub fn followed(&self, k: usize) -> Option<Fixed> {
        let events = &self.case.events;
        let is_recorded = matches!(events[k].setting, Setting::Recorded(_));
        let before = self.trip_before(k).map(|(last, _)| &events[last].setting);
        if !is_recorded || matches!(before, Some(Setting::InService { .. })) {
            return None;
        }
        let course = self.course(k, |_| ([(f64::INFINITY, 0.0); 2], 1));
        let steps = course.steps();
        let mut times_s = asked_s(&events[k].outcome);
        times_s.extend(falls(steps.load));
        Some(self.quick.fixed(&steps, times_s))
    }

    /// The trip that an event came after, and the rest between, s.
    fn trip_before(&self, k: usize) -> Option<(usize, f64)> {
        let Before::AfterTrip { wait_s } = self.case.events[k].before else {
            return None;
        };
        let last = k.checked_sub(1)?;
        self.case.events[last].is_trip().then_some((last, wait_s))
    }

    /// What an event carries, and what came before it: a steady current, or the trip before and a rest.
    /// `service`: the load in service, with a start or without.
    fn course(&self, k: usize, service: impl Fn(bool) -> ([(f64, f64); 2], usize)) -> Course<'_> {
        let event = &self.case.events[k];
        let mut course = Course {
            past: [(0.0, 0.0); 3],
            past_count: 0,
            before_a: 0.0,
            load: [(f64::INFINITY, 0.0); 2],
            load_count: 1,
            recorded: None,
            fixed: self.fixed.get(k).and_then(Option::as_ref),
        };
        match &event.setting {
            Setting::InService { with_start } => {
                (course.load, course.load_count) = service(*with_start);
            }
            Setting::Recorded(_) => course.recorded = Some(&self.recorded[k]),
            Setting::Bench { current_a } => course.load[0].1 = current_a.value,
        }
        if let Before::Hot { current_a } = event.before {
            course.before_a = current_a;
        }
        let Some((last, wait_s)) = self.trip_before(k) else {
            return course;
        };
        let last = &self.case.events[last];
        let time_s = about_s(&last.outcome);
        let mut add = |duration_s: f64, current_a: f64| {
            course.past[course.past_count] = (duration_s, current_a);
            course.past_count += 1;
        };
        match &last.setting {
            Setting::Bench { current_a } => add(time_s, current_a.value),
            Setting::Recorded(load) => add(time_s, root_mean_square(load, time_s)),
            Setting::InService { with_start } => {
                let (load, count) = service(*with_start);
                if count == 2 && load[0].0 < time_s {
                    add(load[0].0, load[0].1);
                    add(time_s - load[0].0, load[1].1);
                } else {
                    add(time_s, load[0].1);
                }
            }
        }
        add(wait_s, 0.0);
        course
    }
}
