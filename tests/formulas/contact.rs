//! Contacts: R. Holm, Electric Contacts, 4th ed. (1967).

use relatch::internals::physics::contact::LORENZ_W_OHM_PER_K2;

/// Voltage at which the spot between two sides of one temperature reaches T_max,
/// V = √(4 L0 (T_max² − T²)), V; a contact metal softens at its own voltage (silver about 0.09 V).
pub fn voltage_for_spot_temperature_v(spot_k: f64, sides_k: f64) -> f64 {
    (4.0 * LORENZ_W_OHM_PER_K2 * (spot_k * spot_k - sides_k * sides_k)).sqrt()
}
