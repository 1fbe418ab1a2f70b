//! Heat radiated by a small grey body into large surroundings (Stefan-Boltzmann).

use super::constants::STEFAN_BOLTZMANN_W_PER_M2_K4;

/// Net heat given off per area, ε σ (T⁴ − T_s⁴), W/m².
#[must_use]
pub fn net_flux(emissivity: f64, surface_k: f64, surroundings_k: f64) -> f64 {
    // Factored so that nearly equal temperatures keep their digits.
    coefficient(emissivity, surface_k, surroundings_k) * (surface_k - surroundings_k)
}

/// Radiation coefficient ε σ (T + T_s)(T² + T_s²), W/(m² K): exact, net flux over temperature
/// difference.
#[must_use]
pub fn coefficient(emissivity: f64, surface_k: f64, surroundings_k: f64) -> f64 {
    let squares = surface_k * surface_k + surroundings_k * surroundings_k;
    emissivity * STEFAN_BOLTZMANN_W_PER_M2_K4 * (surface_k + surroundings_k) * squares
}

/// Slope of the net flux in the surface temperature, 4 ε σ T³, W/(m² K).
#[must_use]
pub fn net_flux_slope(emissivity: f64, surface_k: f64) -> f64 {
    4.0 * emissivity * STEFAN_BOLTZMANN_W_PER_M2_K4 * surface_k.powi(3)
}
