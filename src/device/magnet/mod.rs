//! The instantaneous element: pull against spring, weight and trigger, and the direct currents that
//! decide.

mod direct;

pub use direct::DirectCurrents;

use crate::scenario::Magnetic;

/// Where the armature is: between its rest and the trigger, or beyond where the trigger begins to
/// move.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reach {
    /// Free of the trigger.
    Free,
    /// Moving the trigger.
    Trigger,
}

/// An armature with what pulls it and what it works against.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Magnet {
    /// As built.
    pub built: Magnetic,
    /// From release to open contacts, s.
    pub opening_time_s: f64,
}

impl Magnet {
    /// Force against the pull, N.
    pub fn resistance_n(&self, x_m: f64, reach: Reach) -> f64 {
        let b = &self.built;
        let trigger = if reach == Reach::Trigger {
            b.lever * b.trigger_force_n
        } else {
            0.0
        };
        b.preload_n + b.weight_n + b.stiffness_n_per_m * x_m + trigger
    }

    /// Work against that force from rest to x, J.
    pub fn work_j(&self, x_m: f64) -> f64 {
        let b = &self.built;
        let trigger = b.lever * b.trigger_force_n * (x_m - b.strike_m).max(0.0);
        (b.preload_n + b.weight_n + 0.5 * b.stiffness_n_per_m * x_m) * x_m + trigger
    }

    /// Acceleration, m/s².
    pub fn acceleration_m_per_s2(&self, current_a: f64, x_m: f64, reach: Reach) -> f64 {
        (self.built.circuit.pull_n(current_a, x_m) - self.resistance_n(x_m, reach))
            / self.built.mass_kg
    }

    /// Smallest current that holds the armature against the force there, A; infinite where the iron
    /// forbids it.
    pub fn balance_a(&self, x_m: f64, reach: Reach) -> f64 {
        let force = self.resistance_n(x_m, reach);
        self.built.circuit.current_for_pull_a(force, x_m)
    }
}
