//! The closed contact: its resistance and the heat that crosses it.

use crate::physics::{constants, contact};
use crate::scenario::{Contact, ContactResistance};

/// Contact with the present force.
#[derive(Debug, Clone)]
pub struct ContactPair {
    /// Whole resistance, ohm.
    pub resistance_ohm: f64,
    /// Film part of it, ohm.
    pub film_ohm: f64,
    /// Fixed film conductance, W/K; `None`: Wiedemann-Franz of the whole resistance.
    film_conductance_w_per_k: Option<f64>,
    /// Softening voltage of the metal, V.
    pub softening_voltage_v: Option<f64>,
    /// Name of the metal.
    pub metal: Option<String>,
}

/// Film part and whole of the closed contact's resistance after losing part of the force, ohm.
pub(in crate::device) fn resistance_ohm(pair: &Contact, loss: f64) -> (f64, f64) {
    match (pair.resistance, &pair.metal) {
        (ContactResistance::Constant(r), _) => (0.0, r),
        (ContactResistance::Holm { film_ohm, force_n }, Some(metal)) => {
            let constriction = contact::constriction_ohm(
                metal.resistivity.at(293.15),
                metal.hardness.at(293.15),
                force_n * (1.0 - loss),
            );
            (film_ohm, film_ohm + constriction)
        }
        (ContactResistance::Holm { film_ohm, .. }, None) => (film_ohm, film_ohm),
    }
}

impl ContactPair {
    /// Contact of a scenario after losing part of its force. The resistivity of the contact metal
    /// is taken at 20 degC, so that the resistance is a number and not a function of the spot.
    pub fn new(contact: &Contact, loss: f64) -> ContactPair {
        let (film_ohm, resistance_ohm) = resistance_ohm(contact, loss);
        ContactPair {
            resistance_ohm,
            film_ohm,
            film_conductance_w_per_k: contact.film_conductance_w_per_k,
            softening_voltage_v: contact.metal.as_ref().map(|m| m.softening_voltage_v),
            metal: contact.metal.as_ref().map(|m| m.name.clone()),
        }
    }

    /// Heat conductance of the closed pair where it was given, W/K.
    pub fn given_conductance_w_per_k(&self) -> Option<f64> {
        self.film_conductance_w_per_k
    }

    /// Thermal conductance of the closed pair, W/K, and its slope against either temperature.
    pub fn conductance(&self, moving_k: f64, fixed_k: f64) -> (f64, f64) {
        match self.film_conductance_w_per_k {
            Some(g) => (g, 0.0),
            None => {
                let g = contact::wiedemann_franz_conductance_w_per_k(
                    self.resistance_ohm,
                    0.5 * (moving_k + fixed_k),
                );
                (
                    g,
                    0.5 * constants::LORENZ_W_OHM_PER_K2 / self.resistance_ohm,
                )
            }
        }
    }

    /// Voltage across the constriction, V.
    pub fn constriction_voltage_v(&self, current_a: f64) -> f64 {
        current_a * (self.resistance_ohm - self.film_ohm)
    }
}
