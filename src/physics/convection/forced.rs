//! Air blown along a plate, laminar (Re < 5e5), mean over the flow length.

use crate::physics::air::Air;

/// Reynolds number V L/ν.
#[must_use]
pub fn reynolds(speed_m_per_s: f64, length_m: f64, air: &Air) -> f64 {
    speed_m_per_s * length_m / air.kinematic_viscosity
}

/// Mean Nu = 0.664 Re^(1/2) Pr^(1/3), Pr > 0.6 (E. Pohlhausen, Z. angew. Math. Mech. 1 (1921) 115).
#[must_use]
pub fn forced_plate_laminar(re: f64, pr: f64) -> f64 {
    0.664 * re.sqrt() * pr.cbrt()
}
