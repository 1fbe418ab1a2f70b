//! What one guess makes of the evidence: every event is simulated by the engine, every reading compared.

use super::latent::{BURST, FORM, Guess, JOINT, LOAD, LOSS, PEAK, PLACE, ROOM, START};
use super::record::Cause;
use crate::evidence::{
    AirPlace, Before, Case, Event, Meter, Outcome, Setting, Taken, Unit, Waveform,
};
use crate::family::{Carries, Family, Member, Part, Run, Wear};
use crate::load::{Current, Programme, Repeat, Segment};
use crate::statistics::normal;

/// Scatter of trip times of one unit from trip to trip, relative (common practice, no source).
const REPEATS: f64 = 0.06;
/// Scatter of a unit's trip point from trip to trip, relative (common practice, no source).
const THRESHOLD: f64 = 0.01;
/// How loosely the guide compares trip times, in natural logarithms, and the least it says of one.
const GUIDE_SPREAD: f64 = 0.6;
const GUIDE_LEAST: f64 = -12.0;
/// Probability that an entry is simply wrong (a slip of the pen, the wrong breaker).
const SLIP: f64 = 0.01;
/// Width of what a slip may say of a time, in natural logarithms.
const SLIP_WIDTH: f64 = 6.0;
/// Relative scatter of a running current about its mean (common practice, no source).
const UNSTEADY: f64 = 0.015;
/// How well the pattern's resistance stands for that of a real part, relative.
const RESISTANCE: f64 = 0.10;
/// How far terminals of a sound part may differ, K (3 K is the first limit of thermography in the field).
const TERMINALS_K: f64 = 3.0;
/// Longest time simulated, s.
const LONGEST_S: f64 = 1e6;
/// Time in service within which a trip counts as the trip that brought the case, s.
const SELECTED_S: f64 = 12.0 * 3600.0;

/// What a guess makes of the evidence.
#[derive(Debug, Clone)]
pub struct Weighed {
    /// Logarithm of the likelihood.
    pub log: f64,
    /// The same when nothing is wrong and a trip in service was one of those that nobody explains.
    pub log_unexplained: f64,
    /// The same as `log` with trip times compared loosely and without slips: it shows the way to narrow ridges.
    pub guide: f64,
    /// Whether the machine of this guess trips in service, as it must for somebody to ask.
    pub asks: bool,
    /// Logarithm of the likelihood of each item, in the order of [`labels`].
    pub items: Vec<f64>,
    /// Difference of the terminals in service, K.
    pub terminals_k: f64,
    /// Where several things are wrong: whether the machine still trips when only one of [`CURABLE`] is put right.
    pub still_trips: Option<[bool; 5]>,
}

/// Causes that can be put right in thought.
pub const CURABLE: [Cause; 5] = [
    Cause::Overload,
    Cause::StartOrStall,
    Cause::HotSurroundings,
    Cause::BadConnection,
    Cause::WornEarly,
];

/// Labels of the items that are weighed, in order.
pub fn labels(case: &Case) -> Vec<String> {
    let mut out = Vec::new();
    out.extend(case.readings.iter().map(|r| r.label.clone()));
    out.extend(case.air.iter().map(|a| a.label.clone()));
    out.extend(case.start.iter().map(|s| s.label.clone()));
    out.extend(case.drops.iter().map(|d| d.label.clone()));
    out.extend(case.events.iter().map(|e| e.label.clone()));
    out.extend(case.terminals.iter().map(|t| t.label.clone()));
    out
}

/// Density of a measured number, with slips.
fn gauss(miss: f64, deviation: f64) -> f64 {
    let z = miss / deviation;
    let right = (-0.5 * z * z).exp() / (deviation * (2.0 * std::f64::consts::PI).sqrt());
    // A slip lies within some ten deviations.
    ((1.0 - SLIP) * right + SLIP / (20.0 * deviation)).ln()
}

/// Weighs guesses of one case.
pub struct Scales<'a> {
    /// The case.
    pub case: &'a Case,
    /// Its family.
    pub family: &'a Family,
    shortest_s: f64,
}

/// A guess as parts.
pub struct Parts<'a> {
    /// The member.
    pub member: &'a Member,
    /// Heat of a sound part at rated current, W.
    pub sound_w: f64,
    /// This part in its place.
    pub here: Part,
    /// This part on a bench, away from joints.
    pub bench: Part,
}

impl<'a> Scales<'a> {
    /// Scales for a case.
    pub fn new(case: &'a Case, family: &'a Family) -> Scales<'a> {
        let times = case.events.iter().map(|e| match e.outcome {
            Outcome::Tripped { after_s } => after_s.value,
            Outcome::TrippedWithin { to_s, .. } => to_s,
            Outcome::Held { for_s } => for_s,
        });
        Scales {
            case,
            family,
            shortest_s: times.fold(10.0, f64::min).max(0.05),
        }
    }

    /// Rated current, A.
    fn rated_a(&self) -> f64 {
        self.case.nameplate.rated_current_a
    }

    /// Air at the part in service, K.
    pub fn air_k(&self, guess: &Guess) -> f64 {
        guess.x[ROOM] + guess.x[PLACE]
    }

    /// What the release feels of an air temperature, K.
    pub fn felt_k(&self, air_k: f64) -> f64 {
        if self.case.nameplate.compensated {
            self.case.nameplate.reference_ambient_k
        } else {
            air_k
        }
    }

    /// Heat of a sound part at rated current, W.
    pub fn sound_w(&self, guess: &Guess) -> f64 {
        let member = &self.family.members()[guess.drawn.member];
        member.power_w / guess.drawn.placing.trip_multiple.powi(2)
    }

    /// A part of this guess in some state.
    pub fn part(&self, guess: &Guess, wear: Wear) -> Part {
        Part::new(
            &self.family.members()[guess.drawn.member],
            guess.drawn.placing,
            wear,
            self.rated_a(),
            self.shortest_s,
        )
    }

    /// The load in service.
    pub fn load(&self, guess: &Guess, with_start: bool) -> Programme {
        let run_a = self.rated_a() * guess.x[LOAD].exp();
        if !with_start || self.case.has_start == Some(false) {
            return Programme::constant(run_a);
        }
        Programme {
            segments: vec![
                Segment {
                    duration_s: guess.x[START].exp(),
                    current: Current::Constant(run_a * guess.x[PEAK].exp()),
                },
                Segment {
                    duration_s: f64::INFINITY,
                    current: Current::Constant(run_a),
                },
            ],
            repeat: Repeat::Once,
        }
    }

    /// Logarithms of the likelihoods of everything that needs no simulation, in the order of [`labels`].
    pub fn readings(&self, guess: &Guess) -> Vec<f64> {
        let mut out = Vec::new();
        let x = &guess.x;
        for reading in &self.case.readings {
            let mut log = x[LOAD] + self.rated_a().ln();
            if reading.taken != Taken::UpToTheTrip {
                log -= x[BURST];
            }
            let u = reading.current_a.relative().hypot(UNSTEADY).max(0.005);
            let shown = (reading.current_a.value).ln();
            let (right, low) = (gauss(shown - log, u), gauss(shown - log - x[FORM], u));
            out.push(match (reading.meter, self.case.waveform) {
                (Meter::TrueRms, _) | (_, Waveform::Sine) => right,
                (Meter::AverageResponding, _) => low,
                (Meter::Unknown, _) => (0.5 * right.exp() + 0.5 * low.exp()).ln(),
            });
        }
        for air in &self.case.air {
            let truth = match air.place {
                AirPlace::InTheRoom => x[ROOM],
                AirPlace::AtThePart => self.air_k(guess),
            };
            let u = air.temperature_k.standard_uncertainty.max(0.3);
            out.push(gauss(air.temperature_k.value - truth, u));
        }
        if let Some(start) = &self.case.start {
            let peak = (start.peak_a.value / self.rated_a()).ln() - x[LOAD] - x[PEAK];
            let time = start.duration_s.value.max(1e-3).ln() - x[START];
            out.push(
                gauss(peak, start.peak_a.relative().max(0.02))
                    + gauss(time, start.duration_s.relative().max(0.03)),
            );
        }
        let (sound_w, member) = (
            self.sound_w(guess),
            &self.family.members()[guess.drawn.member],
        );
        let rated = self.rated_a();
        let own = member.trip_point_a / (guess.drawn.placing.trip_multiple * rated);
        let part_ohm = member.drop_v / member.trip_point_a * own * own;
        let joint_ohm = guess.wear(sound_w).joint_w / (rated * rated);
        for drop in &self.case.drops {
            let shown = (drop.voltage_v.value / drop.current_a.value).max(1e-9).ln();
            let u = drop.voltage_v.relative().hypot(drop.current_a.relative());
            out.push(match drop.sister_v {
                Some(sister) => {
                    let ratio = (drop.voltage_v.value / sister.value.max(1e-9))
                        .max(1e-6)
                        .ln();
                    let u = u.hypot(sister.relative()).hypot(RESISTANCE);
                    gauss(ratio - ((part_ohm + joint_ohm) / part_ohm).ln(), u)
                }
                None => gauss(
                    shown - (part_ohm + joint_ohm).ln(),
                    u.hypot(1.5 * RESISTANCE),
                ),
            });
        }
        out
    }

    /// Everything.
    pub fn weigh(&self, guess: &Guess, give_up_below: f64) -> Weighed {
        let mut items = self.readings(guess);
        let cheap: f64 = items.iter().sum();
        let mut weighed = Weighed {
            log: cheap,
            log_unexplained: cheap,
            guide: cheap,
            asks: false,
            items: Vec::new(),
            terminals_k: 0.0,
            still_trips: None,
        };
        if !(cheap > give_up_below) {
            items.resize(labels(self.case).len(), -50.0);
            weighed.items = items;
            return weighed;
        }
        let parts = self.parts(guess);
        let mut in_service = None;
        let mut unexplained = 0;
        for (k, event) in self.case.events.iter().enumerate() {
            if weighed.log.max(weighed.log_unexplained) < give_up_below {
                items.push(-50.0);
                weighed.log -= 50.0;
                weighed.log_unexplained -= 50.0;
                weighed.guide -= 50.0;
                continue;
            }
            let (log, guide, answer) = self.event(guess, &parts, k);
            items.push(log);
            weighed.log += log;
            weighed.guide += guide;
            let here =
                event.unit == Unit::ThisPart && !matches!(event.setting, Setting::Bench { .. });
            let tripped = !matches!(event.outcome, Outcome::Held { .. });
            if here && tripped {
                // Nobody explains a single trip; every further one is less likely to be of that kind.
                unexplained += event.times;
                weighed.log_unexplained += if event.times == 1 && unexplained == 1 {
                    -SLIP_WIDTH.ln()
                } else {
                    -3.0 * f64::from(event.times) - SLIP_WIDTH.ln()
                };
                if in_service.is_none() {
                    in_service = answer;
                }
            } else {
                weighed.log_unexplained += log;
            }
        }
        weighed.asks = match in_service {
            Some((Carries::Trips(t), _)) => t < SELECTED_S,
            Some(_) => false,
            None => !self.has_trip_in_service(),
        };
        if weighed.asks && weighed.log > give_up_below {
            weighed.still_trips = self.cures(guess);
        }
        if self.case.terminals.is_some() {
            weighed.terminals_k = match in_service {
                Some((_, k)) => k,
                None => self.terminals_k(guess, &parts),
            };
        }
        if let Some(t) = &self.case.terminals {
            let seen = t.hotter_k.value - t.other_k.value;
            let u = t
                .hotter_k
                .standard_uncertainty
                .hypot(t.other_k.standard_uncertainty)
                .hypot(TERMINALS_K);
            let log = gauss(seen - weighed.terminals_k.abs(), u);
            items.push(log);
            weighed.log += log;
            weighed.guide += log;
            weighed.log_unexplained += log;
        }
        weighed.items = items;
        weighed
    }

    /// Where two things or more are wrong: whether the machine still trips when one of [`CURABLE`] is put right.
    fn cures(&self, guess: &Guess) -> Option<[bool; 5]> {
        let x = &guess.x;
        let wrong = [
            x[LOAD] > 0.03,
            x[START] > 0.2 && self.case.has_start != Some(false),
            x[PLACE] >= 10.0,
            x[JOINT] > -1.3,
            x[LOSS] >= 0.145,
        ];
        if wrong.iter().filter(|w| **w).count() < 2 {
            return None;
        }
        Some(std::array::from_fn(|k| {
            if !wrong[k] {
                return true;
            }
            let mut cured = *guess;
            match k {
                0 => cured.x[LOAD] = (-0.05f64).min(x[LOAD]),
                1 => cured.x[START] = -1.2,
                2 => cured.x[PLACE] = 0.0,
                3 => cured.x[JOINT] = -3.2,
                _ => cured.x[LOSS] = 0.0,
            }
            let wear = cured.wear(self.sound_w(&cured));
            self.trips(&cured, wear, true)
        }))
    }

    /// Whether the machine of a guess trips the part, in some state of wear, within half a day.
    pub fn trips(&self, guess: &Guess, wear: Wear, with_start: bool) -> bool {
        let part = self.part(guess, wear);
        let air = [(0.0, self.felt_k(self.air_k(guess)))];
        let carried = part
            .cold(&air)
            .carry(&self.load(guess, with_start), SELECTED_S);
        matches!(carried, Some(Carries::Trips(_)))
    }

    /// A guess as parts.
    pub fn parts(&self, guess: &Guess) -> Parts<'_> {
        let sound_w = self.sound_w(guess);
        let wear = guess.wear(sound_w);
        Parts {
            member: &self.family.members()[guess.drawn.member],
            sound_w,
            here: self.part(guess, wear),
            bench: self.part(
                guess,
                Wear {
                    joint_w: 0.0,
                    ..wear
                },
            ),
        }
    }

    /// Whether the case tells of a trip of this part in service.
    pub fn has_trip_in_service(&self) -> bool {
        self.case.events.iter().any(|e| {
            e.unit == Unit::ThisPart
                && !matches!(e.setting, Setting::Bench { .. })
                && !matches!(e.outcome, Outcome::Held { .. })
        })
    }

    /// Difference of the terminals under the running load, K.
    pub fn terminals_k(&self, guess: &Guess, parts: &Parts<'_>) -> f64 {
        let air = [(0.0, self.felt_k(self.air_k(guess)))];
        let mut run = parts.here.cold(&air);
        let _ = run.carry(&self.load(guess, false), 3600.0);
        let [clamped, fixed, _] = run.temperatures_k();
        clamped - fixed
    }

    /// Logarithm of the likelihood of one event, exactly and as a guide, and for trips what the part did.
    fn event(
        &self,
        guess: &Guess,
        parts: &Parts<'_>,
        k: usize,
    ) -> (f64, f64, Option<(Carries, f64)>) {
        let event = &self.case.events[k];
        let other;
        let part = match (event.unit, &event.setting) {
            (Unit::ThisPart, Setting::Bench { .. }) => &parts.bench,
            (Unit::ThisPart, _) => &parts.here,
            (Unit::AsNew, _) | (Unit::Twin, Setting::Bench { .. }) => {
                other = self.part(guess, Wear::NONE);
                &other
            }
            (Unit::Twin, _) => {
                other = self.part(
                    guess,
                    Wear {
                        joint_w: guess.wear(parts.sound_w).joint_w,
                        ..Wear::NONE
                    },
                );
                &other
            }
        };
        let air_k = self.felt_k(self.event_air_k(guess, event));
        let air = [(0.0, air_k)];
        let load = self.event_load(guess, event);
        let Some(mut run) = self.before(guess, part, &air, k) else {
            return (slip_of_time(event), GUIDE_LEAST, None);
        };
        let longest_s = match event.outcome {
            Outcome::Held { for_s } => 1.6 * for_s,
            _ => LONGEST_S,
        };
        let Some(carries) = run.carry(&load, longest_s) else {
            return (slip_of_time(event), GUIDE_LEAST, None);
        };
        let [clamped, fixed, _] = run.temperatures_k();
        let (mut log, guide) = self.outcome(guess, parts.member, event, carries, || {
            // Just above the trip point a hair of current decides: a hold may be a slow trip.
            let more = scaled(&load, 1.02);
            let mut again = self.before(guess, part, &air, k)?;
            match again.carry(&more, LONGEST_S)? {
                Carries::Trips(t) => Some(t),
                _ => None,
            }
        });
        if let (Some((failed_s, held_s)), Carries::Trips(_)) = (event.reset_between_s, carries) {
            log += match run.relatch() {
                Some(wait) => {
                    let z = |t: f64| (t.max(1e-3).ln() - wait.max(1e-3).ln()) / 0.2;
                    let within = normal::cdf(z(held_s)) - normal::cdf(z(failed_s));
                    (SLIP + (1.0 - SLIP) * within).ln()
                }
                None => SLIP.ln(),
            };
        }
        (log, guide, Some((carries, clamped - fixed)))
    }

    /// Air at the part during an event, K.
    fn event_air_k(&self, guess: &Guess, event: &Event) -> f64 {
        match (event.air_k, &event.setting) {
            (Some(air), _) => air.value,
            (None, Setting::Bench { .. }) => guess.x[ROOM],
            (None, _) => self.air_k(guess),
        }
    }

    /// Load of an event.
    fn event_load(&self, guess: &Guess, event: &Event) -> Programme {
        match &event.setting {
            Setting::InService { with_start } => self.load(guess, *with_start),
            Setting::Recorded(programme) => programme.clone(),
            Setting::Bench { current_a } => Programme::constant(current_a.value),
        }
    }

    /// The part as it was before an event.
    fn before<'p>(
        &self,
        guess: &Guess,
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
                let load = self.event_load(guess, &self.case.events[last]);
                match run.carry(&load, LONGEST_S)? {
                    Carries::Trips(_) => run.rest(wait_s)?,
                    _ => return Some(part.cold(air)),
                }
                Some(run)
            }
        }
    }

    /// Logarithm of the likelihood of an outcome when the part does something.
    fn outcome(
        &self,
        guess: &Guess,
        member: &Member,
        event: &Event,
        carries: Carries,
        slightly_more: impl FnOnce() -> Option<f64>,
    ) -> (f64, f64) {
        let pace_s = guess.drawn.placing.pace * member.time_scale_s();
        let spread = |time_s: f64| {
            // A body with one time constant: relative change of trip time per relative change of current.
            let theta = (time_s / pace_s).clamp(1e-6, 6.0);
            let steep = (2.0 * theta.exp_m1() / theta).min(25.0);
            let current = match &event.setting {
                Setting::Bench { current_a } => current_a.relative(),
                Setting::Recorded(_) => 0.01,
                Setting::InService { .. } => 0.0,
            };
            let air = event.air_k.map_or(0.5, |a| a.standard_uncertainty) / (2.0 * member.rise_k);
            let unknown = if event.before == Before::Unknown {
                0.5
            } else {
                0.0
            };
            (REPEATS * REPEATS
                + unknown * unknown
                + steep * steep * (THRESHOLD * THRESHOLD + current * current + air * air))
                .sqrt()
        };
        let cdf = |at_s: f64, time_s: f64, extra: f64| {
            normal::cdf((at_s.max(1e-3) / time_s).ln() / spread(time_s).hypot(extra))
        };
        match event.outcome {
            Outcome::Tripped { after_s } => {
                let density = |time_s: f64, extra: f64| {
                    let u = spread(time_s).hypot(after_s.relative()).hypot(extra);
                    let z = (after_s.value / time_s).ln() / u;
                    (-0.5 * z * z).exp() / (u * (2.0 * std::f64::consts::PI).sqrt())
                };
                let loose = |t: f64| {
                    (-0.5 * ((after_s.value / t).ln() / GUIDE_SPREAD).powi(2)).max(GUIDE_LEAST)
                };
                let (right, guide) = match carries {
                    Carries::Trips(t) => (density(t, 0.0), loose(t)),
                    _ => slightly_more().map_or((0.0, GUIDE_LEAST), |t| {
                        (0.3 * density(t, 0.7), loose(t) - 1.0)
                    }),
                };
                (((1.0 - SLIP) * right + SLIP / SLIP_WIDTH).ln(), guide)
            }
            Outcome::TrippedWithin { from_s, to_s } => {
                let within = |t: f64, extra: f64| cdf(to_s, t, extra) - cdf(from_s, t, extra);
                let right = match carries {
                    Carries::Trips(t) => within(t, 0.0),
                    _ => slightly_more().map_or(0.0, |t| 0.3 * within(t, 0.7)),
                };
                let slip = SLIP * ((to_s / from_s.max(1e-2)).ln() / SLIP_WIDTH).clamp(0.0, 1.0);
                let log = ((1.0 - SLIP) * right + slip.max(1e-4)).ln();
                (log, log.max(GUIDE_LEAST))
            }
            Outcome::Held { for_s } => {
                let right = match carries {
                    Carries::Trips(t) => 1.0 - cdf(for_s, t, 0.0),
                    _ => 1.0,
                };
                let log = ((1.0 - SLIP) * right + SLIP).ln();
                (log, log)
            }
        }
    }
}

/// The load with its current multiplied.
fn scaled(load: &Programme, factor: f64) -> Programme {
    Programme {
        segments: load
            .segments
            .iter()
            .map(|s| Segment {
                duration_s: s.duration_s,
                current: match s.current {
                    Current::Constant(a) => Current::Constant(factor * a),
                    Current::Linear { from_a, to_a } => Current::Linear {
                        from_a: factor * from_a,
                        to_a: factor * to_a,
                    },
                    Current::Decay {
                        from_a,
                        to_a,
                        time_constant_s,
                    } => Current::Decay {
                        from_a: factor * from_a,
                        to_a: factor * to_a,
                        time_constant_s,
                    },
                },
            })
            .collect(),
        repeat: load.repeat,
    }
}

/// What an entry says that nothing explains.
fn slip_of_time(event: &Event) -> f64 {
    match event.outcome {
        Outcome::Tripped { .. } => (SLIP / SLIP_WIDTH).ln(),
        Outcome::TrippedWithin { .. } | Outcome::Held { .. } => SLIP.ln(),
    }
}
