//! Heat of a current shared by layers in parallel.

/// Resistance per length, Ω/m, of layers (thickness m, resistivity Ω m) in parallel:
/// 1/(w Σ t/ρ). No layer: infinite.
#[must_use]
pub fn resistance_per_length(width_m: f64, layers: impl IntoIterator<Item = (f64, f64)>) -> f64 {
    let sheet_conductance: f64 = layers.into_iter().map(|(t, rho)| t / rho).sum();
    1.0 / (width_m * sheet_conductance)
}

/// Heat made per volume in a layer, W/m³: (I R')²/ρ. All layers feel the same field I R'.
#[must_use]
pub fn generation_w_per_m3(
    current_a: f64,
    resistance_per_length_ohm_per_m: f64,
    resistivity_ohm_m: f64,
) -> f64 {
    let field_v_per_m = current_a * resistance_per_length_ohm_per_m;
    field_v_per_m * field_v_per_m / resistivity_ohm_m
}

/// Share of current and of heat in each layer (thickness m, resistivity Ω m); the shares add up to
/// 1.
#[must_use]
pub fn power_shares(layers: &[(f64, f64)]) -> Vec<f64> {
    let total: f64 = layers.iter().map(|(t, rho)| t / rho).sum();
    layers.iter().map(|(t, rho)| t / rho / total).collect()
}
