//! Rectangular blade between immovable hinges in one term, as textbooks print it.
//!
//! S. Timoshenko, J. Appl. Mech. 2 (1935) A17 (from memory, re-derived). With m = h²/(3a²), b =
//! rise/a and u = δ_T/a, δ_T = κ l²/8: u(b) = 1 − b + b (1 − b²)/m. Supports expand with the strip;
//! up to 16 % late.

/// m = h²/(3 a²) of a blade of thickness h and stress-free rise a.
#[must_use]
pub fn slenderness(thickness_m: f64, rise_m: f64) -> f64 {
    thickness_m * thickness_m / (3.0 * rise_m * rise_m)
}

/// Thermal bow over rise, u, at which a relative rise b is in equilibrium.
#[must_use]
pub fn relative_bow(relative_rise: f64, slenderness: f64) -> f64 {
    let b = relative_rise;
    1.0 - b + b * (1.0 - b * b) / slenderness
}

/// Snap through, snap back and travel of the snap in one term.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Snap {
    /// u at the snap through.
    pub forward_bow: f64,
    /// u at the snap back.
    pub back_bow: f64,
    /// Travel of the middle in either snap over the rise.
    pub relative_travel: f64,
}

/// Symmetrical snap, u = 1 ± √(4 (1 − m)³/(27 m²)) at b = ±√((1 − m)/3); `None` when m ≥ 1.
#[must_use]
pub fn symmetrical_snap(slenderness: f64) -> Option<Snap> {
    let m = slenderness;
    let half = (4.0 * (1.0 - m).powi(3) / (27.0 * m * m)).sqrt();
    (m < 1.0).then(|| Snap {
        forward_bow: 1.0 + half,
        back_bow: 1.0 - half,
        relative_travel: 3.0 * ((1.0 - m) / 3.0).sqrt(),
    })
}

/// Snap by way of the antisymmetric mode, u = 1 ± 3 √(1 − 4m), which comes first when m < 2/11:
/// (forward, back).
#[must_use]
pub fn antisymmetric_snap(slenderness: f64) -> Option<(f64, f64)> {
    let half = 3.0 * (1.0 - 4.0 * slenderness).sqrt();
    (slenderness < 2.0 / 11.0).then_some((1.0 + half, 1.0 - half))
}
