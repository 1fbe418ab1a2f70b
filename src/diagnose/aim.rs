//! Where to look first: near what was measured directly.

use super::latent::{
    BURST, COUNT, FORM, JOINT, LATE, LOAD, LOSS, PEAK, PLACE, Particle, Prior, ROOM, START, draw_in,
};
use super::scales::Scales;
use super::scatter::{RESISTANCE, TERMINALS_APART, TERMINALS_K};
use crate::evidence::{AirPlace, Before, Meter, Outcome, Setting, Taken, Unit, Waveform};
use crate::family::{Drawn, Family, Placing};
use crate::statistics::normal;
use crate::statistics::stream::Stream;

/// Part of the paces that are drawn near a timed trip.
const NEAR: f64 = 0.75;
/// How far they lie from it, in natural logarithms: of a part as new, of a part that may be worn.
const AS_NEW: f64 = 0.2;
const PERHAPS_WORN: f64 = 0.45;

/// Part of the numbers that are drawn from prior although they were measured.
const PRIOR: f64 = 0.4;
/// Trip point over the rating, about.
const TRIP_MULTIPLE: f64 = 1.2;
/// The order in which numbers are drawn: what was measured of one may hang on those before it.
const ORDER: [usize; COUNT] = [
    FORM, ROOM, LOAD, BURST, PLACE, PEAK, START, JOINT, LOSS, LATE,
];

/// A density of particles near what was measured.
pub struct Aim<'a> {
    family: &'a Family,
    /// What is believed.
    pub prior: &'a Prior,
    /// Where measurements say that each number lies.
    leads: Vec<Vec<Lead>>,
    /// A timed trip from cold on a bench: multiple of the rating, time, s, and how near the pace of
    /// a part is to what that says.
    timed: Option<(f64, f64, f64)>,
}

impl<'a> Aim<'a> {
    /// At a case, under some prior.
    pub fn at(scales: &Scales<'a>, prior: &'a Prior) -> Aim<'a> {
        let (case, family) = (scales.case, scales.family);
        let rated_a = case.nameplate.rated_current_a;
        let timed = case.events.iter().filter_map(|e| {
            let (Setting::Bench { current_a }, Before::Cold) = (&e.setting, e.before) else {
                return None;
            };
            let Outcome::Tripped { after_s } = e.outcome else {
                return None;
            };
            let near = match e.unit {
                Unit::ThisPart => PERHAPS_WORN,
                Unit::AsNew | Unit::Twin => AS_NEW,
            };
            Some((current_a.value / rated_a, after_s.value, near))
        });
        Aim {
            family,
            prior,
            leads: leads(scales),
            timed: timed.min_by(|a, b| a.2.total_cmp(&b.2)),
        }
    }

    /// Logarithm of the pace that a timed trip asks for.
    fn asked(&self, member: usize, trip_multiple: f64) -> Option<(f64, f64)> {
        let (multiple, time_s, near) = self.timed?;
        let own_s = self.family.members()[member].cold_trip_s((multiple / trip_multiple).max(1.02));
        Some(((time_s / own_s).ln(), near))
    }

    /// A draw; it may lie outside what the family and the prior allow.
    pub fn draw(&self, stream: &Stream) -> Particle {
        let members = self.family.members();
        let member = stream.below(0, members.len() as u64) as usize;
        let (low, high) = self.family.trip_multiples();
        let trip_multiple = low + (high - low) * stream.uniform(1);
        let (slow, fast) = self.log_paces();
        let log_pace = match self.asked(member, trip_multiple) {
            Some((asked, near)) if stream.uniform(2) < NEAR => asked + near * stream.normal(3),
            _ => slow + (fast - slow) * stream.uniform(3),
        };
        Particle {
            drawn: Drawn {
                member,
                placing: Placing {
                    trip_multiple,
                    pace: log_pace.exp(),
                },
            },
            lost_phase: self.prior.lost_phase,
            x: draw_in(ORDER, stream, |k, x, choice, p| {
                self.number(k, x, choice, p)
            }),
        }
    }

    /// One number, given those that are drawn before it; `choice` picks the part of a sum.
    pub fn number(&self, which: usize, x: &[f64; COUNT], choice: f64, probability: f64) -> f64 {
        let leads = &self.leads[which];
        if leads.is_empty() {
            return self.prior.at(which, x, choice, probability);
        }
        if choice < PRIOR {
            return self.prior.at(which, x, choice / PRIOR, probability);
        }
        let k = (choice - PRIOR) / (1.0 - PRIOR) * leads.len() as f64;
        let lead = &leads[(k as usize).min(leads.len() - 1)];
        lead.centre(x) + lead.deviation * normal::quantile(probability)
    }

    /// Logarithm of the density of [`Aim::number`].
    pub fn log_number(&self, which: usize, x: &[f64; COUNT]) -> f64 {
        self.log_given(which, x, self.prior.log(which, x))
    }

    /// The same where that of prior is known.
    fn log_given(&self, which: usize, x: &[f64; COUNT], own: f64) -> f64 {
        let leads = &self.leads[which];
        if leads.is_empty() {
            return own;
        }
        let near = leads.iter().map(|lead| {
            normal::density((x[which] - lead.centre(x)) / lead.deviation) / lead.deviation
        });
        let near = near.sum::<f64>() / leads.len() as f64;
        (PRIOR * own.exp() + (1.0 - PRIOR) * near).ln()
    }

    /// Logarithm of the density of the draws, over member, trip multiple, logarithm of the pace,
    /// and the unknowns; `believed`: the logarithms of prior of each of these.
    pub fn log(&self, particle: &Particle, believed: &[f64; COUNT]) -> f64 {
        let placing = particle.drawn.placing;
        let (low, high) = self.family.trip_multiples();
        let (slow, fast) = self.log_paces();
        let even = 1.0 / (fast - slow);
        let pace = match self.asked(particle.drawn.member, placing.trip_multiple) {
            Some((asked, near)) => {
                let z = (placing.pace.ln() - asked) / near;
                NEAR * normal::density(z) / near + (1.0 - NEAR) * even
            }
            None => even,
        };
        let anywhere = (self.family.members().len() as f64 * (high - low)).ln();
        let numbers = ORDER.map(|k| self.log_given(k, &particle.x, believed[k]));
        pace.ln() - anywhere + numbers.iter().sum::<f64>()
    }

    fn log_paces(&self) -> (f64, f64) {
        let (slow, fast) = self.family.paces();
        (slow.ln(), fast.ln())
    }
}

/// Where a measurement says that a number lies.
#[derive(Debug, Clone, Copy)]
struct Lead {
    mean: f64,
    deviation: f64,
    /// Numbers that it hangs on, with their factors.
    by: [(usize, f64); 2],
}

impl Lead {
    fn centre(&self, x: &[f64; COUNT]) -> f64 {
        self.mean
            + self
                .by
                .iter()
                .map(|(k, factor)| factor * x[*k])
                .sum::<f64>()
    }
}

/// What the direct measurements of a case say of each number.
fn leads(scales: &Scales<'_>) -> Vec<Vec<Lead>> {
    let case = scales.case;
    let mut all = vec![Vec::new(); COUNT];
    let mut lead = |which: usize, mean: f64, deviation: f64, by: [(usize, f64); 2]| {
        all[which].push(Lead {
            mean,
            deviation,
            by,
        });
    };
    const ALONE: [(usize, f64); 2] = [(0, 0.0); 2];
    let rated = case.nameplate.rated_current_a;
    let up_to_the_trip = |taken: Taken| taken == Taken::UpToTheTrip;
    // What a mend has changed points elsewhere.
    let readings = || case.readings.iter().filter(|r| r.mended == 0);
    let any_up_to_the_trip = readings().any(|r| up_to_the_trip(r.taken));
    for reading in readings() {
        let shown = (reading.current_a.value / rated).ln();
        let u = (2.0 * reading.current_a.relative()).max(0.03);
        let forms: &[f64] = match (reading.meter, case.waveform) {
            (_, Waveform::Sine) | (Meter::TrueRms, _) => &[0.0],
            (Meter::AverageResponding, _) => &[1.0],
            (Meter::Unknown, _) => &[0.0, 1.0],
        };
        for form in forms {
            if up_to_the_trip(reading.taken) || !any_up_to_the_trip {
                lead(LOAD, shown, u, [(FORM, -form), (0, 0.0)]);
            }
            if !up_to_the_trip(reading.taken) {
                lead(BURST, -shown, u, [(LOAD, 1.0), (FORM, *form)]);
            }
        }
    }
    let air = |place: AirPlace| {
        let mut all = case.air.iter();
        all.find(|a| a.place == place && a.mended == 0)
    };
    let somewhere = air(AirPlace::NotSaid);
    let room = air(AirPlace::InTheRoom).or(somewhere);
    if let Some(room) = room {
        let t = room.temperature_k;
        lead(ROOM, t.value, t.standard_uncertainty.max(1.0), ALONE);
    }
    let at_part = air(AirPlace::AtThePart)
        .or(somewhere)
        .map(|a| a.temperature_k)
        .or_else(|| {
            case.events
                .iter()
                .filter(|e| e.is_in_service() && e.mended == 0)
                .find_map(|e| e.air_k)
        });
    if let Some(part) = at_part {
        let u = part.standard_uncertainty.max(1.5);
        lead(PLACE, part.value, u, [(ROOM, -1.0), (0, 0.0)]);
    }
    if let Some(start) = &case.start {
        lead(START, start.duration_s.value.max(1e-3).ln(), 0.2, ALONE);
        let u = (2.0 * start.peak_a.relative()).max(0.03);
        let peak = (start.peak_a.value / rated).max(1e-6).ln();
        lead(PEAK, peak, u, [(LOAD, -1.0), (BURST, 1.0)]);
    }
    // A sister part shows how much of the drop is the joint's.
    for drop in case.drops.iter().filter(|d| d.mended == 0) {
        let Some(sister) = drop.sister_v else {
            continue;
        };
        let ratio = drop.voltage_v.value / sister.value.max(1e-9);
        if ratio > 1.15 {
            let u = RESISTANCE * ratio / (ratio - 1.0);
            lead(JOINT, (ratio - 1.0).ln(), u.max(0.15), ALONE);
        }
    }
    if let Some(terminals) = case.terminals.as_ref().filter(|t| t.mended == 0) {
        // By the heat of the current at other times.
        let apart_k = terminals.hotter_k.value - terminals.other_k.value;
        if apart_k > TERMINALS_K {
            let ratio = (apart_k / scales.quick.joint_apart_k()).ln() + 2.0 * TRIP_MULTIPLE.ln();
            lead(
                JOINT,
                ratio,
                2.0 * TERMINALS_APART,
                [(LOAD, -2.0), (BURST, 2.0)],
            );
        }
    }
    all
}
