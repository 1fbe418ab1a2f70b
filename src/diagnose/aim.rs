//! Where to look first: near what was measured directly.

use super::density::Density;
use super::latent::{JOINT, LOAD, PLACE, Particle, Prior, ROOM, START, USUAL_ROOM_K, draw, log_of};
use super::scatter::RESISTANCE;
use crate::evidence::{AirPlace, Before, Case, Meter, Outcome, Setting, Taken, Unit, Waveform};
use crate::family::{Drawn, Family, Placing};
use crate::statistics::normal;
use crate::statistics::stream::Stream;

/// Part of the paces that are drawn near a timed trip.
const NEAR: f64 = 0.75;
/// How far they lie from it, in natural logarithms: of a part as new, of a part that may be worn.
const AS_NEW: f64 = 0.2;
const PERHAPS_WORN: f64 = 0.45;

/// A density of particles near what was measured.
pub struct Aim<'a> {
    family: &'a Family,
    prior: Prior,
    /// A timed trip from cold on a bench: multiple of the rating, time, s, and how near the pace of
    /// a part is to what that says.
    timed: Option<(f64, f64, f64)>,
}

impl<'a> Aim<'a> {
    /// At a case, under some prior.
    pub fn at(case: &Case, prior: &Prior, family: &'a Family) -> Aim<'a> {
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
            prior: mixed(case, prior),
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
            x: draw(&self.prior, stream),
        }
    }

    /// Logarithm of the density of the draws, over member, trip multiple, logarithm of the pace,
    /// and the unknowns.
    pub fn log(&self, particle: &Particle) -> f64 {
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
        pace.ln() - anywhere + log_of(&self.prior, particle)
    }

    fn log_paces(&self) -> (f64, f64) {
        let (slow, fast) = self.family.paces();
        (slow.ln(), fast.ln())
    }
}

/// Prior with the direct measurements of the case mixed in.
fn mixed(case: &Case, prior: &Prior) -> Prior {
    let mut aimed = prior.clone();
    let mut aim = |which: usize, mean: f64, deviation: f64| {
        let prior = aimed.each[which].clone();
        aimed.each[which] = Density::mixed(0.4, prior, Density::normal(mean, deviation));
    };
    let rated = case.nameplate.rated_current_a;
    let best = case
        .readings
        .iter()
        .filter(|r| r.meter == Meter::TrueRms || case.waveform == Waveform::Sine)
        .max_by_key(|r| r.taken == Taken::UpToTheTrip)
        .or(case.readings.first());
    if let Some(reading) = best {
        let u = (2.0 * reading.current_a.relative()).max(0.03);
        aim(LOAD, (reading.current_a.value / rated).ln(), u);
    }
    let air = |place: AirPlace| case.air.iter().find(|a| a.place == place);
    let room = air(AirPlace::InTheRoom);
    if let Some(room) = room {
        let t = room.temperature_k;
        aim(ROOM, t.value, t.standard_uncertainty.max(1.0));
    }
    let at_part = air(AirPlace::AtThePart)
        .map(|a| a.temperature_k)
        .or_else(|| {
            case.events
                .iter()
                .filter(|e| !matches!(e.setting, Setting::Bench { .. }))
                .find_map(|e| e.air_k)
        });
    if let Some(part) = at_part {
        let room_k = room.map_or(USUAL_ROOM_K.0, |r| r.temperature_k.value);
        let u = part
            .standard_uncertainty
            .max(1.5)
            .hypot(if room.is_some() { 1.5 } else { 5.0 });
        aim(PLACE, part.value - room_k, u);
    }
    if let Some(start) = &case.start {
        aim(START, start.duration_s.value.max(1e-3).ln(), 0.2);
    }
    // A sister part shows how much of the drop is the joint's.
    for drop in &case.drops {
        let Some(sister) = drop.sister_v else {
            continue;
        };
        let ratio = drop.voltage_v.value / sister.value.max(1e-9);
        if ratio > 1.15 {
            let u = RESISTANCE * ratio / (ratio - 1.0);
            aim(JOINT, (ratio - 1.0).ln(), u.max(0.15));
        }
    }
    aimed
}
