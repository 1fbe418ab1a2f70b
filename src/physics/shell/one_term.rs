//! One term only: the disc bends into the same paraboloid everywhere. A named approximation; it
//! trips too soon.
//!
//! K = κ R² √(1-ν)/(4h) = K0 ± 2 ((K0² - 1)/3)^(3/2), K0 = H √(1-ν)/(2h): W. H. Wittrick, D. M.
//! Myers & W. R. Blunden, Quart. J. Mech. Appl. Math. 6 (1953) 15 (from memory), derived here from
//! the energy of a shallow shell whose layers have one modulus.

/// Even curvatures at which a disc snaps through and back, times R²/h; `None`: it creeps.
#[must_use]
pub fn folds(rise_over_thickness: f64, poisson: f64) -> Option<(f64, f64)> {
    let root = (1.0 - poisson).sqrt();
    let made = 0.5 * rise_over_thickness * root;
    let reach = ((made * made - 1.0) / 3.0).max(0.0).powf(1.5);
    let at = |sign: f64| 4.0 / root * (made + sign * 2.0 * reach);
    (made > 1.0).then(|| (at(1.0), at(-1.0)))
}
