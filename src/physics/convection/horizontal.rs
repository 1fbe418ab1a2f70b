//! Flat plate or strip lying level.

use super::vertical::prandtl_term;

/// Length scale of a level rectangle, area over perimeter w L/(2 (w + L)), m.
#[must_use]
pub fn horizontal_length_m(width_m: f64, length_m: f64) -> f64 {
    width_m * length_m / (2.0 * (width_m + length_m))
}

/// Hot side up, laminar: 1.4/ln(1 + 1.4/(0.835 c Ra^(1/4))), c = 0.671/[1 +
/// (0.492/Pr)^(9/16)]^(4/9). G. D. Raithby & K. G. T. Hollands, "Natural convection", Handbook of
/// Heat Transfer, 3rd ed. (1998). Zero at Ra = 0.
#[must_use]
pub fn raithby_hollands_upper(ra: f64, pr: f64) -> f64 {
    let c = 0.671 / prandtl_term(pr).powf(4.0 / 9.0);
    thick_layer(1.4, 0.835 * c * ra.sqrt().sqrt())
}

/// Hot side down: 2.5/ln(1 + 2.5/u), u = 0.527 Ra^(1/5)/[1 + (1.9/Pr)^0.9]^(2/9). Source as
/// [`raithby_hollands_upper`]. Zero at Ra = 0.
#[must_use]
pub fn raithby_hollands_lower(ra: f64, pr: f64) -> f64 {
    let u = 0.527 * ra.powf(0.2) / (1.0 + (1.9 / pr).powf(0.9)).powf(2.0 / 9.0);
    thick_layer(2.5, u)
}

/// Both sides of a level strip: mean of [`raithby_hollands_upper`] and [`raithby_hollands_lower`].
#[must_use]
pub fn raithby_hollands_horizontal(ra: f64, pr: f64) -> f64 {
    0.5 * (raithby_hollands_upper(ra, pr) + raithby_hollands_lower(ra, pr))
}

/// Correction of a thin-layer Nusselt number for a layer as thick as the plate is wide. At zero the
/// quotient is infinite, its logarithm too, and the result 0.
fn thick_layer(constant: f64, thin_layer: f64) -> f64 {
    constant / (constant / thin_layer).ln_1p()
}
