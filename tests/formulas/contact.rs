//! Contacts: R. Holm, Electric Contacts, 4th ed. (1967).

use relatch::internals::physics::contact::LORENZ_W_OHM_PER_K2;

/// Hottest temperature in the contact, K, for the voltage over the constriction and the temperature
/// of either side.
///
/// Between unequal sides T_max² = (T_M² + T_F²)/2 + V²/(4 L0) + L0 (T_M² − T_F²)²/(4 V²) as long as
/// the maximum lies inside, |T_M² − T_F²| < V²/L0; otherwise the hotter side is the hottest place.
pub fn spot_temperature_k(voltage_v: f64, moving_k: f64, fixed_k: f64) -> f64 {
    let (moving, fixed) = (moving_k * moving_k, fixed_k * fixed_k);
    let difference = (moving - fixed).abs();
    let span = voltage_v * voltage_v / LORENZ_W_OHM_PER_K2;
    if difference < span {
        (0.5 * (moving + fixed) + 0.25 * span + 0.25 * difference * difference / span).sqrt()
    } else {
        moving_k.max(fixed_k)
    }
}

/// Voltage at which the spot between two sides of one temperature reaches T_max,
/// V = √(4 L0 (T_max² − T²)), V; a contact metal softens at its own voltage (silver about 0.09 V).
pub fn voltage_for_spot_temperature_v(spot_k: f64, sides_k: f64) -> f64 {
    (4.0 * LORENZ_W_OHM_PER_K2 * (spot_k * spot_k - sides_k * sides_k)).sqrt()
}
