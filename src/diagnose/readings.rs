//! What a guess makes of everything that was read off an instrument and needs no simulation.

use super::latent::{BURST, FORM, Guess, LOAD, PEAK, ROOM, START};
use super::scales::Scales;
use super::scatter::{RESISTANCE, TERMINALS_K, UNSTEADY, gauss};
use crate::evidence::{AirPlace, Case, Meter, Taken, Terminals, Waveform};

/// What a guess makes of the evidence.
#[derive(Debug, Clone, Copy)]
pub struct Weighed {
    /// Logarithm of the likelihood.
    pub log: f64,
    /// The same when nothing is wrong and a trip in service was one of those that nobody explains.
    pub log_unexplained: f64,
}

impl Weighed {
    /// By what was read, item by item.
    pub fn read(items: &[f64]) -> Weighed {
        let log = items.iter().sum();
        Weighed {
            log,
            log_unexplained: log,
        }
    }

    /// With an item that says the same whether something is wrong or not.
    pub fn add(&mut self, log: f64) {
        self.log += log;
        self.log_unexplained += log;
    }
}

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

impl Scales<'_> {
    /// Logarithms of the likelihoods of everything that needs no simulation, in the order of
    /// [`labels`].
    pub fn readings(&self, guess: &Guess, out: &mut Vec<f64>) {
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
    }
}

/// Logarithm of the likelihood of the temperatures of the terminals when they differ by so much, K, with a further
/// doubt of that, K.
pub fn terminals(seen: &Terminals, difference_k: f64, doubt_k: f64) -> f64 {
    let u = seen
        .hotter_k
        .standard_uncertainty
        .hypot(seen.other_k.standard_uncertainty)
        .hypot(TERMINALS_K)
        .hypot(doubt_k);
    gauss(
        seen.hotter_k.value - seen.other_k.value - difference_k.abs(),
        u,
    )
}
