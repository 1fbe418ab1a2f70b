//! The Rayleigh number, and gaps too narrow for one.

use crate::physics::air::Air;
use crate::physics::constants::GRAVITY_M_PER_S2;

/// Rayleigh number g |T − T_air| L³/(T_film ν α) and the air at film temperature it was made with.
///
/// A surface colder than the air counts by the size of the difference.
#[must_use]
pub fn rayleigh(surface_k: f64, air_k: f64, length_m: f64, pressure_pa: f64) -> (f64, Air) {
    let film_k = 0.5 * (surface_k + air_k);
    let air = Air::at(film_k, pressure_pa);
    let buoyancy = GRAVITY_M_PER_S2 * (surface_k - air_k).abs() / film_k;
    let ra = buoyancy * length_m.powi(3) / (air.kinematic_viscosity * air.diffusivity);
    (ra, air)
}

/// Coefficient of a gap too narrow for the air in it to move (Rayleigh number of the gap below
/// about 1700): conduction only, k/gap, W/(m² K).
#[must_use]
pub fn narrow_gap_w_per_m2_k(conductivity_w_per_m_k: f64, gap_m: f64) -> f64 {
    conductivity_w_per_m_k / gap_m
}
