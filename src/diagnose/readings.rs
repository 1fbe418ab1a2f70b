//! What a particle makes of everything that was read off an instrument and needs no simulation.

use super::hypothesis::{Hypothesis, Trips};
use super::latent::{BURST, FORM, JOINT, LOAD, Particle, ROOM, SOUND_JOINT, START};
use super::mended::{cooled, either, freed, meter_slip};
use super::outcome::{about_s, log_by_chance};
use super::scales::{Scales, TwoTerminals};
use super::scatter::{
    self, AIR, LEVEL, LEVEL_K, METER, RESISTANCE, SELECTED_S, START_SEEN, TERMINALS,
    TERMINALS_APART, TERMINALS_K, UNSTEADY, at_least, gauss, wrong_time,
};
use crate::evidence::{
    Air, AirPlace, Case, Cycles, Drop, Event, Meter, Outcome, Reading, Taken, Terminals, Unit,
    Waveform,
};
use crate::family::{CYCLING, Steps, log_over_held};
use crate::statistics::normal;

/// How often what comes in mid-run comes again at about the same time, and how near, in natural
/// logarithms (common practice, no source).
const SAME_TIME: (f64, f64) = (0.4, 0.2);
/// When it comes in a run: the middle, s, and the spread in natural logarithms. Before a minute the
/// machine starts or has just started, and few runs are longer than hours (common practice, no
/// source).
const MID_RUN: (f64, f64) = (900.0, 1.3);
/// How often it stays away while a run is watched (common practice, no source).
const STAYS_AWAY: f64 = 0.6;
/// A start that lasted until this part of the trip time was cut off by it.
const CUT_OFF: f64 = 1.15;
/// How often a start that was caught is the one that a log shows to have ended within a row (common
/// practice, no source).
const MAY_BE_CUT: f64 = 0.5;
/// How much less likely, as a logarithm, a further trip is that nobody explains (common practice,
/// no source).
const FURTHER: f64 = 3.0;
/// How far the least of three sound phases lies below the greatest, as a part of it; how often
/// phases are unlike though none is lost, by unlike voltages or a coil of the motor, and how far;
/// how often an entry is wrong; up to where a lost phase shows (common practice, no source).
const PHASES_APART: f64 = 0.06;
const UNLIKE: f64 = 0.1;
const UNLIKE_FROM: (f64, f64) = (0.4, 0.95);
const PHASES_SLIP: f64 = 0.03;
pub(super) const LOST_SHOWS: f64 = 0.25;
/// How often a motor hums without starting where a phase is lost, where it stands for longer than
/// [`STANDS_S`] at a start, and else (common practice, no source).
const HUMS: (f64, f64, f64) = (0.5, 0.25, 0.02);
const STANDS_S: f64 = 3.0;
/// Probability that a meter called true-RMS responds to the average (common practice, no source).
const MISCALLED: f64 = 0.08;
/// Probability that the air of the room was taken for that at the part (common practice, no
/// source).
const NEAR_ONLY: f64 = 0.05;

/// What a particle makes of the evidence.
#[derive(Debug, Clone, Copy)]
pub struct Weighed {
    /// Logarithm of the likelihood.
    pub log: f64,
    /// The same when the trips in service have nothing to do with the machine as it runs.
    pub log_unexplained: f64,
    /// The same when they, and those of a part fitted in this one's place, come by what happens in
    /// mid-run.
    pub log_mid_run: f64,
    /// When the first of those came, s.
    mid_run_s: Option<f64>,
    /// So many trips in service.
    pub trips: u32,
}

impl Weighed {
    /// By what was read, item by item.
    pub fn read(items: &[f64]) -> Weighed {
        let log = items.iter().sum();
        Weighed {
            log,
            log_unexplained: log,
            log_mid_run: log,
            mid_run_s: None,
            trips: 0,
        }
    }

    /// Under a hypothesis, by how trips in service come about.
    pub fn under(&self, hypothesis: &Hypothesis) -> f64 {
        match hypothesis.trips {
            Trips::AsItRuns => self.log,
            Trips::InMidRun => self.log_mid_run,
            // One trip is nothing out of the way; every further one is less likely to be of that
            // kind.
            Trips::Once => self.log_unexplained - FURTHER * f64::from(self.trips.saturating_sub(1)),
        }
    }

    /// With what an event says.
    pub fn event(&mut self, event: &Event, log: f64) {
        self.log += log;
        let (in_service, is_trip) = (event.is_in_service(), event.is_trip());
        if in_service && event.unit == Unit::ThisPart && is_trip {
            self.trips += event.times;
            self.log_unexplained += log_by_chance(&event.outcome);
        } else {
            self.log_unexplained += log;
        }
        self.log_mid_run += match (in_service, is_trip) {
            (false, _) => log,
            (true, false) => log + STAYS_AWAY.ln(),
            (true, true) => self.came_in_mid_run(event),
        };
    }

    /// Logarithm of the likelihood of a trip by what happens in mid-run.
    fn came_in_mid_run(&mut self, event: &Event) -> f64 {
        let outcome = &event.outcome;
        let at_any_time = mid_run(outcome, wrong_time(event));
        let (often, near) = SAME_TIME;
        let time_s = about_s(outcome);
        let first = match self.mid_run_s {
            None => {
                self.mid_run_s = Some(time_s);
                at_any_time
            }
            Some(first_s) => {
                let again = normal::density((time_s / first_s).ln() / near) / near;
                (1.0 - often) * at_any_time + often * again
            }
        };
        // Further ones at what is told as one time.
        let as_told = match outcome {
            Outcome::Tripped { .. } => at_any_time * near / normal::density(0.0),
            _ => at_any_time,
        };
        let further = often + (1.0 - often) * as_told.min(1.0);
        first.ln() + f64::from(event.times.saturating_sub(1)) * further.ln()
    }

    /// With an item that says the same whether something is wrong or not.
    pub fn add(&mut self, log: f64) {
        self.log += log;
        self.log_unexplained += log;
        self.log_mid_run += log;
    }
}

/// How probable a trip in mid-run comes as it did, by its time.
fn mid_run(outcome: &Outcome, wrong: f64) -> f64 {
    let z = |time_s: f64| (time_s.max(1e-3) / MID_RUN.0).ln() / MID_RUN.1;
    let right = match *outcome {
        Outcome::Tripped { after_s } => normal::density(z(after_s.value)) / MID_RUN.1,
        Outcome::TrippedWithin { from_s, to_s } => normal::cdf(z(to_s)) - normal::cdf(z(from_s)),
        Outcome::Held { .. } => 1.0,
    };
    (1.0 - wrong) * right + wrong * log_by_chance(outcome).exp()
}

/// Labels of the items that are weighed, in order.
pub fn labels(case: &Case) -> Vec<String> {
    let mut out = Vec::new();
    out.extend(case.readings.iter().map(|r| r.label.clone()));
    out.extend(case.air.iter().map(|a| a.label.clone()));
    out.extend(case.start.iter().map(|s| s.label.clone()));
    out.extend(case.phase_currents.iter().map(|p| p.label.clone()));
    out.extend(case.hums.iter().map(|_| "the machine".into()));
    out.extend(case.cycles.iter().map(|c| c.label.clone()));
    out.extend(case.drops.iter().map(|d| d.label.clone()));
    out.extend(case.events.iter().map(|e| e.label.clone()));
    out.extend(case.terminals.iter().map(|t| t.label.clone()));
    out
}

/// Logarithms of the density of what the phases, a hum and rounds say when they are wrong, in the
/// order of [`labels`].
pub fn phases_by_chance(case: &Case) -> Vec<f64> {
    let phases = case.phase_currents.iter().map(|_| PHASES_SLIP.ln());
    // Who hears a hum is not mistaken.
    let hums = case.hums.iter().map(|_| f64::NEG_INFINITY);
    let cycles = case.cycles.iter();
    let cycles = cycles.map(|_| (METER.chance / METER.width).ln());
    phases.chain(hums).chain(cycles).collect()
}

impl Scales<'_> {
    /// Logarithms of the likelihoods of everything that needs no simulation, in the order of
    /// [`labels`].
    pub fn readings(&self, particle: &Particle, out: &mut Vec<f64>) {
        let x = &particle.x;
        for reading in &self.case.readings {
            let then = self.then(particle, reading.mended, false);
            out.push(either(&then, |g| self.reading(reading, g, particle)));
        }
        for air in &self.case.air {
            let then = self.then(particle, air.mended, false);
            out.push(either(&then, |g| self.air(air, g, particle)));
        }
        if let Some(start) = &self.case.start {
            let peak = (start.peak_a.value / self.rated_a()).ln() - particle.log_start();
            let longer = x[START] - start.duration_s.value.max(1e-3).ln();
            let u = start.duration_s.relative().max(0.03);
            let cut = chance_of_a_cut(self.case, start.duration_s.value);
            let duration = match cut {
                0.0 => gauss(longer, u, START_SEEN),
                1.0 => at_least(longer, u, START_SEEN),
                cut => {
                    let whole = (1.0 - cut) * gauss(longer, u, START_SEEN).exp();
                    (whole + cut * at_least(longer, u, START_SEEN).exp()).ln()
                }
            };
            out.push(gauss(peak, start.peak_a.relative().max(0.02), START_SEEN) + duration);
        }
        if let Some(currents) = &self.case.phase_currents {
            out.push(phases(particle, currents.least_over_greatest()));
        }
        if let Some(hums) = self.case.hums {
            let chance = match particle.lost_phase {
                true => HUMS.0,
                false if x[START] > STANDS_S.ln() => HUMS.1,
                false => HUMS.2,
            };
            out.push(if hums { chance } else { 1.0 - chance }.ln());
        }
        if let Some(cycles) = &self.case.cycles {
            out.push(self.cycles(particle, cycles));
        }
        let (sound_w, member) = (
            self.sound_w(particle),
            &self.family.members()[particle.drawn.member],
        );
        let rated = self.rated_a();
        let own = member.trip_point_a / (particle.drawn.placing.trip_multiple * rated);
        let part_ohm = member.drop_v / member.trip_point_a * own * own;
        for drop in &self.case.drops {
            let then = self.then(particle, drop.mended, false);
            out.push(either(&then, |g| {
                let joint_ohm = g.wear(sound_w).joint_w / (rated * rated);
                across(drop, part_ohm, joint_ohm, g.x[JOINT] > SOUND_JOINT)
            }));
        }
    }

    /// Logarithm of the likelihood of a current that was read; `before`: the particle before it was
    /// mended.
    fn reading(&self, reading: &Reading, particle: &Particle, before: &Particle) -> f64 {
        let x = &particle.x;
        let mut log = x[LOAD] + self.rated_a().ln();
        if reading.taken != Taken::UpToTheTrip {
            log -= x[BURST];
        }
        let mut u = reading.current_a.relative().hypot(UNSTEADY).max(0.005);
        if let Some((middle, spread)) = freed(self.case, before, particle) {
            (log, u) = (middle + self.rated_a().ln(), u.hypot(spread));
        }
        let slip = meter_slip(self.case, reading);
        let shown = (reading.current_a.value).ln();
        let right = gauss(shown - log, u, slip);
        let low = gauss(shown - log - x[FORM], u, slip);
        match (reading.meter, self.case.waveform) {
            (_, Waveform::Sine) => right,
            // Many a meter that is called so does not measure it.
            (Meter::TrueRms, _) => ((1.0 - MISCALLED) * right.exp() + MISCALLED * low.exp()).ln(),
            (Meter::AverageResponding, _) => low,
            (Meter::Unknown, _) => (0.5 * right.exp() + 0.5 * low.exp()).ln(),
        }
    }

    /// The same of a temperature of the air.
    fn air(&self, air: &Air, particle: &Particle, before: &Particle) -> f64 {
        let room_k = particle.x[ROOM];
        let truth = match air.place {
            AirPlace::InTheRoom => room_k,
            AirPlace::AtThePart | AirPlace::NotSaid => self.air_k(particle),
        };
        let u = air.temperature_k.standard_uncertainty.max(0.3);
        let u = u.hypot(cooled(before, particle));
        let log = gauss(air.temperature_k.value - truth, u, AIR);
        // A thermometer that hangs near the part may show the room.
        let in_the_room = match air.place {
            AirPlace::InTheRoom => return log,
            AirPlace::AtThePart => NEAR_ONLY,
            AirPlace::NotSaid => 0.5,
        };
        let room = gauss(air.temperature_k.value - room_k, u, AIR);
        ((1.0 - in_the_room) * log.exp() + in_the_room * room.exp()).ln()
    }
}

/// Logarithm of the likelihood of a drop across a part and its joint.
fn across(drop: &Drop, part_ohm: f64, joint_ohm: f64, is_bad: bool) -> f64 {
    let shown = (drop.voltage_v.value / drop.current_a.value).max(1e-9).ln();
    let u = drop.voltage_v.relative().hypot(drop.current_a.relative());
    match drop.sister_v {
        Some(sister) => {
            let ratio = (drop.voltage_v.value / sister.value.max(1e-9))
                .max(1e-6)
                .ln();
            let u = u.hypot(sister.relative()).hypot(RESISTANCE);
            scatter::drop(ratio - ((part_ohm + joint_ohm) / part_ohm).ln(), u, is_bad)
        }
        None => scatter::drop(
            shown - (part_ohm + joint_ohm).ln(),
            u.hypot(1.5 * RESISTANCE),
            is_bad,
        ),
    }
}

/// The most that [`terminals`] gives, whatever is expected.
pub fn most_of_terminals(seen: &Terminals) -> f64 {
    let read_k = seen
        .hotter_k
        .standard_uncertainty
        .hypot(seen.other_k.standard_uncertainty);
    let most = |least_k: f64| gauss(0.0, read_k.hypot(least_k), TERMINALS);
    most(TERMINALS_K) + most(LEVEL_K)
}

impl Scales<'_> {
    /// Logarithm of the likelihood of the times for which a part that closes by itself is on and
    /// off.
    fn cycles(&self, particle: &Particle, cycles: &Cycles) -> f64 {
        let wear = self.in_place(particle, self.wear(particle));
        // A machine that stands through all of it draws what it does at a start.
        let stands = self.case.has_start != Some(false) && particle.x[START].exp() >= cycles.on_s;
        let log_a = match stands {
            true => particle.log_start(),
            false => particle.x[LOAD],
        };
        let load = [(f64::INFINITY, self.rated_a() * log_a.exp())];
        let part = self.quick.part(particle.drawn, wear);
        let felt_k = self.felt_k(self.air_k(particle));
        let over_held = -part.factor(&Steps::cold(&load), felt_k, SELECTED_S).0;
        let rise_k = self.family.members()[particle.drawn.member].rise_k;
        let told = log_over_held(cycles.on_s, cycles.off_s, rise_k);
        gauss(over_held - told, CYCLING, METER)
    }
}

/// Logarithm of the likelihood of the least of the phases' currents over the greatest.
fn phases(particle: &Particle, ratio: f64) -> f64 {
    let (apart, slip) = (PHASES_APART, PHASES_SLIP);
    let right = match particle.lost_phase {
        // Nothing, or what a magnetising current or the next pole's field makes a clamp show.
        true => f64::from(u8::from(ratio < LOST_SHOWS)) / LOST_SHOWS,
        false => {
            let (from, to) = UNLIKE_FROM;
            let unlike = f64::from(u8::from((from..=to).contains(&ratio))) / (to - from);
            let alike = 2.0 * normal::density((1.0 - ratio) / apart) / apart;
            (1.0 - UNLIKE) * alike + UNLIKE * unlike
        }
    };
    ((1.0 - slip) * right + slip).ln()
}

/// Chance that a start of some duration, s, is one that the part cut off: it would have taken
/// longer. Where a log shows only that the trip came within a row, the start may be that one or
/// another.
fn chance_of_a_cut(case: &Case, duration_s: f64) -> f64 {
    let until_s = CUT_OFF * duration_s;
    let trips = case.trips_in_service();
    let chance = |outcome: &Outcome| match *outcome {
        Outcome::TrippedWithin { from_s: 0.0, to_s } if to_s >= until_s => MAY_BE_CUT,
        _ if about_s(outcome) < until_s => 1.0,
        _ => 0.0,
    };
    trips.map(|e| chance(&e.outcome)).fold(0.0, f64::max)
}

/// Logarithm of the likelihood of the temperatures of the terminals: how far apart they are speaks
/// of a joint, how warm the cooler one is of the air.
pub fn terminals(seen: &Terminals, expected: &TwoTerminals) -> f64 {
    let read_k = seen
        .hotter_k
        .standard_uncertainty
        .hypot(seen.other_k.standard_uncertainty);
    let apart_k = expected.apart_k();
    let apart = gauss(
        seen.hotter_k.value - seen.other_k.value - apart_k,
        read_k.hypot(TERMINALS_K).hypot(TERMINALS_APART * apart_k),
        TERMINALS,
    );
    let rise_k = expected.cooler_k();
    let level = gauss(
        seen.other_k.value - expected.air_k - rise_k,
        read_k.hypot(LEVEL_K).hypot(LEVEL * rise_k),
        TERMINALS,
    );
    apart + level
}
