//! Convection from strips, plates and wires in air.
//!
//! Natural convection: properties at the film temperature, the mean of surface and air, and 1/T_film as the
//! expansion coefficient. Every Nusselt number is finite down to a Rayleigh number of zero, though its slope
//! there is not; the heat flux h (T − T_air) has a slope of zero or a finite one, so differentiate the flux.
//!
//! The engine uses [`churchill_chu_laminar`], [`raithby_hollands_horizontal`] and
//! [`forced_plate_laminar`]; the others stand beside them for comparison.

mod cylinder;
mod forced;
mod horizontal;
mod rayleigh;
mod vertical;

pub use cylinder::churchill_chu_cylinder;
pub use forced::{churchill_ozoe, forced_plate_laminar, reynolds};
pub use horizontal::{
    goldstein_sparrow_jones, horizontal_length_m, mcadams_lower, mcadams_upper,
    raithby_hollands_horizontal, raithby_hollands_lower, raithby_hollands_upper,
};
pub use rayleigh::{coefficient_w_per_m2_k, narrow_gap_w_per_m2_k, rayleigh};
pub use vertical::{churchill_chu_full, churchill_chu_laminar};
