//! Convection from strips, and plates in air.
//!
//! Natural convection: properties at the film temperature, the mean of surface and air, and
//! 1/T_film as the expansion coefficient. Every Nusselt number is finite down to a Rayleigh number
//! of zero, though its slope there is not; the heat flux h (T − T_air) has a slope of zero or a
//! finite one, so differentiate the flux.
//!
//! Laws of other authors, which these are held against, stand with the tests.

mod forced;
mod horizontal;
mod rayleigh;
mod vertical;

pub use forced::{forced_plate_laminar, reynolds};
pub use horizontal::{
    horizontal_length_m, raithby_hollands_horizontal, raithby_hollands_lower,
    raithby_hollands_upper,
};
pub use rayleigh::{narrow_gap_w_per_m2_k, rayleigh};
pub use vertical::churchill_chu_laminar;
