//! `[magnetic]`: an instantaneous element, a coil or yoke that pulls an armature against the trigger.

use crate::physics::electromagnet::MagneticCircuit;

/// The instantaneous element. Distances are those of the armature at its pole; the mass is reduced to it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Magnetic {
    /// Iron and gaps.
    pub circuit: MagneticCircuit,
    /// Moving mass at the pole, kg.
    pub mass_kg: f64,
    /// Spring force at rest, N.
    pub preload_n: f64,
    /// Spring stiffness, N/m.
    pub stiffness_n_per_m: f64,
    /// Weight that works against the pull, N (negative: with it).
    pub weight_n: f64,
    /// Closing of the gap at which the striker meets the trigger, m.
    pub strike_m: f64,
    /// Travel of the striker over that of the armature.
    pub lever: f64,
    /// Force that moves the trigger, N.
    pub trigger_force_n: f64,
    /// Travel of the trigger to the release, m.
    pub trigger_travel_m: f64,
}

impl Magnetic {
    /// Closing of the gap at which the trigger releases, m.
    pub fn release_m(&self) -> f64 {
        self.strike_m + self.trigger_travel_m / self.lever
    }
}
