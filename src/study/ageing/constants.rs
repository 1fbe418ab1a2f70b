//! Constants of wear with plain numbers, as the scenario gives them or as they were drawn, and what
//! follows from them at a time.

use crate::physics::constants::GAS_CONSTANT_J_PER_MOL_K;
use crate::physics::relaxation;
use crate::scenario::ageing::{Ageing, Friction, Relaxation, TimeScale};

/// Seconds of a Julian year.
pub const YEAR_S: f64 = 31_557_600.0;

/// Loss from which on the model does not hold.
pub const MOST_LOSS: f64 = 0.949;

/// Everything that wears, in numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Constants {
    /// Law of relaxation.
    pub relaxation: Relaxation,
    /// Loss before time zero: what the scenario's part has lost already, and the first loading.
    pub start_loss: f64,
    /// Contact force lost before time zero.
    pub start_contact_loss: f64,
    /// Loss per trip.
    pub loss_per_trip: f64,
    /// Whether the contact force is lost with the preload.
    pub contact_ages: bool,
    /// Friction of the latch.
    pub friction: Option<Friction>,
    /// Film gained per operation, ohm.
    pub film_per_operation_ohm: f64,
    /// Trips, 1/s.
    pub trips_per_s: f64,
    /// Operations with trips, 1/s.
    pub operations_per_s: f64,
    /// Time between two movements of the latch, s (infinite: it is never moved).
    pub moved_every_s: f64,
    /// Contact film as it is now, ohm.
    pub film_ohm: f64,
    /// Constriction at the contact force as new, ohm.
    pub constriction_ohm: f64,
    /// Factor on the current of each shift.
    pub current_factors: Vec<f64>,
}

impl Constants {
    /// As the scenario gives them. `losses`: preload and contact force that the part has lost
    /// already; `contact_ohm`: film and constriction as new.
    #[must_use]
    pub fn nominal(ageing: &Ageing, losses: (f64, f64), contact_ohm: (f64, f64)) -> Constants {
        let duty = &ageing.duty;
        let rate = |every: Option<f64>| every.map_or(0.0, |s| 1.0 / s);
        let trips_per_s = rate(duty.trips_every_s);
        let at_start = if ageing.contact_ages {
            ageing.first_loading
        } else {
            0.0
        };
        Constants {
            relaxation: ageing.relaxation,
            start_loss: losses.0 + ageing.first_loading,
            start_contact_loss: losses.1 + at_start,
            loss_per_trip: ageing.loss_per_trip,
            contact_ages: ageing.contact_ages,
            friction: ageing.friction,
            film_per_operation_ohm: ageing.film_per_operation_ohm,
            trips_per_s,
            operations_per_s: trips_per_s + rate(duty.operations_every_s),
            moved_every_s: duty
                .trips_every_s
                .into_iter()
                .chain(duty.exercise_every_s)
                .fold(f64::INFINITY, f64::min),
            film_ohm: contact_ohm.0,
            constriction_ohm: contact_ohm.1,
            current_factors: vec![1.0; duty.shifts.len()],
        }
    }

    /// Loss by relaxation at a state of the law: the logarithm of the exposure, or the
    /// Larson-Miller parameter.
    #[must_use]
    pub fn relaxed(&self, state: f64) -> f64 {
        match self.relaxation {
            Relaxation::Logarithmic { coefficient, .. } => {
                relaxation::logarithmic_loss(coefficient, state.exp())
            }
            Relaxation::Power {
                coefficient,
                exponent,
                ..
            } => relaxation::power_law_loss(coefficient, exponent, state.exp()),
            Relaxation::LarsonMiller {
                start_k,
                loss_per_k,
                ..
            } => (loss_per_k * (state - start_k)).max(0.0),
        }
    }

    /// Loss of preload at a time and a state of the law, without an upper bound.
    #[must_use]
    pub fn loss(&self, time_s: f64, state: f64) -> f64 {
        self.start_loss + self.relaxed(state) + self.loss_per_trip * self.trips_per_s * time_s
    }

    /// Loss of contact force when so much preload is lost.
    #[must_use]
    pub fn contact_loss(&self, loss: f64) -> f64 {
        if self.contact_ages {
            self.start_contact_loss + (loss - self.start_loss)
        } else {
            self.start_contact_loss
        }
    }

    /// Film that the contact has gained, ohm.
    #[must_use]
    pub fn added_film_ohm(&self, time_s: f64) -> f64 {
        self.film_per_operation_ohm * self.operations_per_s * time_s
    }

    /// Contact resistance, ohm: film and constriction, which goes as the force to the power -1/2
    /// (Holm).
    #[must_use]
    pub fn contact_ohm(&self, time_s: f64, loss: f64) -> f64 {
        let left = 1.0 - self.contact_loss(loss).clamp(0.0, MOST_LOSS);
        self.film_ohm + self.added_film_ohm(time_s) + self.constriction_ohm / left.sqrt()
    }

    /// Multiple of the release force that the latch takes: just moved, and just before it is moved.
    #[must_use]
    pub fn stuck_factors(&self, time_s: f64) -> (f64, f64) {
        let Some(friction) = self.friction else {
            return (1.0, 1.0);
        };
        let (just_moved, before) = rise_of_friction(
            time_s,
            self.moved_every_s,
            friction.time_constant_s,
            friction.relieved,
        );
        let rise = friction.stuck_factor - 1.0;
        (1.0 + rise * just_moved, 1.0 + rise * before)
    }

    /// Rate of the law's state against the logarithm of time, at the temperatures (share, kelvin)
    /// of the held states: the exposure's relative growth, or the growth of the parameter in
    /// kelvin.
    pub fn slope(
        &self,
        time_s: f64,
        state: f64,
        temperatures: impl Iterator<Item = (f64, f64)>,
    ) -> f64 {
        match self.relaxation {
            Relaxation::Logarithmic { scale, .. } | Relaxation::Power { scale, .. } => {
                let rate: f64 = temperatures
                    .map(|(share, k)| share * rate_per_s(&scale, k))
                    .sum();
                time_s * (-state).exp() * rate
            }
            Relaxation::LarsonMiller { constant, .. } => {
                let hours = time_s / 3600.0;
                let sum: f64 = temperatures
                    .map(|(share, k)| share * k * (TEN_LN * (constant - state / k)).exp())
                    .sum();
                hours * sum / TEN_LN
            }
        }
    }

    /// State of the law after a short time at these temperatures; `None` when nothing is under
    /// stress.
    pub fn start(&self, time_s: f64, temperatures: &[(f64, f64)]) -> Option<f64> {
        let held = temperatures
            .iter()
            .copied()
            .filter(|(share, _)| *share > 0.0);
        match self.relaxation {
            Relaxation::Logarithmic { scale, .. } | Relaxation::Power { scale, .. } => {
                let rate: f64 = held.map(|(share, k)| share * rate_per_s(&scale, k)).sum();
                (rate > 0.0).then(|| (time_s * rate).ln())
            }
            // The state that has gone furthest; what the others add is forgotten within a few
            // decades of time.
            Relaxation::LarsonMiller { constant, .. } => held
                .map(|(share, k)| relaxation::larson_miller_k(k, share * time_s / 3600.0, constant))
                .reduce(f64::max),
        }
    }

    /// Change of the law's state that counts as one: of a logarithm 1, of a Larson-Miller parameter
    /// what an e-fold of time changes at 300 K or so.
    #[must_use]
    pub fn state_scale(&self) -> f64 {
        match self.relaxation {
            Relaxation::Logarithmic { .. } | Relaxation::Power { .. } => 1.0,
            Relaxation::LarsonMiller { .. } => 130.0,
        }
    }

    /// State of the law that a test of a length at a temperature reaches.
    #[must_use]
    pub fn state_of_test(&self, time_s: f64, temperature_k: f64) -> Option<f64> {
        self.start(time_s, &[(1.0, temperature_k)])
    }

    /// Factor on the coefficient of the law.
    #[must_use]
    pub fn with_coefficient(&self, factor: f64) -> Constants {
        let mut changed = self.clone();
        match &mut changed.relaxation {
            Relaxation::Logarithmic { coefficient, .. } | Relaxation::Power { coefficient, .. } => {
                *coefficient *= factor;
            }
            Relaxation::LarsonMiller { loss_per_k, .. } => *loss_per_k *= factor,
        }
        changed
    }

    /// Factor on every current.
    #[must_use]
    pub fn with_current(&self, factor: f64) -> Constants {
        let mut changed = self.clone();
        for f in &mut changed.current_factors {
            *f *= factor;
        }
        changed
    }
}

const TEN_LN: f64 = std::f64::consts::LN_10;

/// One over the time scale, 1/s.
fn rate_per_s(scale: &TimeScale, temperature_k: f64) -> f64 {
    let inverse = scale.at_k.map_or(0.0, |k| 1.0 / k);
    let exponent =
        scale.activation_j_per_mol / GAS_CONSTANT_J_PER_MOL_K * (1.0 / temperature_k - inverse);
    (-exponent).exp() / scale.time_constant_s
}

/// Rise of friction (0 just moved for the first time, 1 at most) at a time: right after the last
/// movement, and the most that it was right before one. Between movements the rest to 1 falls
/// exponentially; a movement takes the part `relieved` away. Common practice, no source: no
/// published law exists.
fn rise_of_friction(time_s: f64, every_s: f64, constant_s: f64, relieved: f64) -> (f64, f64) {
    let free = |s: f64| -(-s / constant_s).exp_m1();
    if !(time_s >= every_s) {
        return (free(time_s), free(time_s));
    }
    let kept = (-every_s / constant_s).exp();
    let per_round = kept * (1.0 - relieved);
    let rounds = (time_s / every_s).floor();
    // Before movement n: (1 - kept) (1 + per_round + ... + per_round^(n-1)).
    let before = if per_round < 1.0 {
        free(every_s) * -(rounds * per_round.ln()).exp_m1() / (1.0 - per_round)
    } else {
        free(time_s)
    };
    ((1.0 - relieved) * before, before)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn friction_of_a_latch_that_is_moved_goes_as_round_by_round() {
        let (every, constant, relieved) = (2.0, 5.0, 0.7);
        let mut rise = 0.0;
        for round in 1..20 {
            rise = 1.0 - (1.0 - rise) * f64::exp(-every / constant);
            let (just_moved, before) =
                rise_of_friction(f64::from(round) * every + 0.1, every, constant, relieved);
            assert!((before - rise).abs() < 1e-12, "{round}: {before} {rise}");
            rise *= 1.0 - relieved;
            assert!(
                (just_moved - rise).abs() < 1e-12,
                "{round}: {just_moved} {rise}"
            );
        }
    }

    #[test]
    fn friction_of_a_latch_that_is_never_moved_or_never_relieved() {
        let free = |t: f64| 1.0 - f64::exp(-t / 5.0);
        for t in [0.0, 1.0, 7.0] {
            assert!((rise_of_friction(t, f64::INFINITY, 5.0, 1.0).1 - free(t)).abs() < 1e-12);
        }
        let (just_moved, before) = rise_of_friction(8.0, 2.0, 5.0, 0.0);
        assert!((before - free(8.0)).abs() < 1e-12 && just_moved == before);
        // A movement that takes everything away.
        assert!((rise_of_friction(8.5, 2.0, 5.0, 1.0).1 - free(2.0)).abs() < 1e-12);
    }
}
