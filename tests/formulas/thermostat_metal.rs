//! Flexivity and the cantilever formulas by which thermostat metal is bought and tested.

/// Flexivity F = h (1/R2 − 1/R1)/(T2 − T1), 1/K (ASTM B106-08(2013), 3.1.2, Eq. 1).
#[must_use]
pub fn flexivity_per_k(
    thickness_m: f64,
    curvature_1_per_m: f64,
    curvature_2_per_m: f64,
    temperature_change_k: f64,
) -> f64 {
    thickness_m * (curvature_2_per_m - curvature_1_per_m) / temperature_change_k
}

/// Specific deflection K = δ h/(L² ΔT) of a cantilever, 1/K; ideally F/2 for a narrow strip, about
/// 0.53 F for catalogue strips clamped across their width.
#[must_use]
pub fn specific_deflection_per_k(
    deflection_m: f64,
    thickness_m: f64,
    length_m: f64,
    temperature_change_k: f64,
) -> f64 {
    deflection_m * thickness_m / (length_m * length_m * temperature_change_k)
}

/// Small deflection at the tip of a cantilever of uniform curvature, κL²/2, m.
#[must_use]
pub fn cantilever_deflection_m(curvature_per_m: f64, length_m: f64) -> f64 {
    0.5 * curvature_per_m * length_m * length_m
}

/// Deflection at the tip of a cantilever bent to a circular arc, (1 − cos κL)/κ, m; exact for any
/// rotation. Written as a square so that a straight strip gives zero without loss of digits.
#[must_use]
pub fn cantilever_arc_deflection_m(curvature_per_m: f64, length_m: f64) -> f64 {
    let half = 0.5 * curvature_per_m * length_m;
    if half == 0.0 {
        return 0.0;
    }
    length_m * half.sin() * (half.sin() / half)
}

/// Small deflection at the middle of a simply supported strip of uniform curvature, κL²/8, m.
#[must_use]
pub fn simply_supported_deflection_m(curvature_per_m: f64, length_m: f64) -> f64 {
    curvature_per_m * length_m * length_m / 8.0
}

/// Tip stiffness of a uniform cantilever, 3EI/L³, N/m (elementary beam theory).
#[must_use]
pub fn cantilever_tip_stiffness_n_per_m(stiffness_ei_n_m2: f64, length_m: f64) -> f64 {
    3.0 * stiffness_ei_n_m2 / length_m.powi(3)
}

/// Force that holds back a tip which would move the given distance freely, E w h³ δ/(4L³), N.
#[must_use]
pub fn blocked_force_n(
    modulus_pa: f64,
    width_m: f64,
    thickness_m: f64,
    length_m: f64,
    deflection_m: f64,
) -> f64 {
    modulus_pa * width_m * (thickness_m / length_m).powi(3) * deflection_m / 4.0
}

/// Modulus from the cantilever load test, E = 4PL³/(δ w h³), Pa (form of ASTM B223, from memory).
#[must_use]
pub fn cantilever_test_modulus_pa(
    force_n: f64,
    length_m: f64,
    deflection_m: f64,
    width_m: f64,
    thickness_m: f64,
) -> f64 {
    4.0 * force_n * (length_m / thickness_m).powi(3) / (deflection_m * width_m)
}
