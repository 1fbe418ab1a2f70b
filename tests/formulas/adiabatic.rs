//! Conductors heated so fast that no heat leaves them: times far below their time constant to the
//! surroundings.

/// Action J² t that heats a conductor, A² s/m⁴, when its resistivity rises linearly and its heat
/// capacity is constant: (ρ_m c/(ρ0 a)) ln[(1 + a (T_f − T_0))/(1 + a (T_i − T_0))]. Elementary; a
/// ≠ 0.
#[must_use]
pub fn action_a2_s_per_m4(
    heat_capacity_j_per_m3_k: f64,
    resistivity_ohm_m: f64,
    coefficient_per_k: f64,
    reference_k: f64,
    initial_k: f64,
    final_k: f64,
) -> f64 {
    let relative = |t: f64| 1.0 + coefficient_per_k * (t - reference_k);
    heat_capacity_j_per_m3_k / (resistivity_ohm_m * coefficient_per_k)
        * (relative(final_k) / relative(initial_k)).ln()
}

/// Short-circuit constant K = √(σ_c (β + 20)/ρ20), A √s/m²; β is minus the temperature in °C at
/// which the resistance would vanish (IEC 60949:1988).
#[must_use]
pub fn short_circuit_constant(
    heat_capacity_j_per_m3_k: f64,
    resistivity_20_ohm_m: f64,
    beta_c: f64,
) -> f64 {
    (heat_capacity_j_per_m3_k * (beta_c + 20.0) / resistivity_20_ohm_m).sqrt()
}

/// Current density that heats from θ_i to θ_f (°C) in a time, K √(ln[(θ_f + β)/(θ_i + β)]/t), A/m²
/// (IEC 60949:1988); up to 5 s.
#[must_use]
pub fn short_circuit_density_a_per_m2(
    constant: f64,
    beta_c: f64,
    initial_c: f64,
    final_c: f64,
    time_s: f64,
) -> f64 {
    constant * (((final_c + beta_c) / (initial_c + beta_c)).ln() / time_s).sqrt()
}

/// The same in the form of ICEA P-32-382 (from memory): (I/A)² t = k log10[(T2 + β)/(T1 + β)], A
/// per circular mil; k = 0.0297 and β = 234 for copper, 0.0125 and 228 for aluminium.
#[must_use]
pub fn icea_density_a_per_cmil(
    factor: f64,
    beta_c: f64,
    initial_c: f64,
    final_c: f64,
    time_s: f64,
) -> f64 {
    (factor * ((final_c + beta_c) / (initial_c + beta_c)).log10() / time_s).sqrt()
}

/// Density that melts a copper wire, √(log10[1 + (1083 − T_a)/(234 + T_a)]/(33 t)), A per circular
/// mil (I. M. Onderdonk, from memory); below about 10 s.
#[must_use]
pub fn copper_fusing_density_a_per_cmil(ambient_c: f64, time_s: f64) -> f64 {
    ((1.0 + (1083.0 - ambient_c) / (234.0 + ambient_c)).log10() / (33.0 * time_s)).sqrt()
}

/// Area of one circular mil, m²: a circle of one thousandth of an inch across.
pub const CIRCULAR_MIL_M2: f64 = std::f64::consts::FRAC_PI_4 * 25.4e-6 * 25.4e-6;
