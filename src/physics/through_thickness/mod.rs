//! Heat that crosses the layers: where one layer makes most of it, the section is not at one temperature.
//!
//! Between insulated faces d/dz(k θ') = −(q_i − c_i q̄/c̄): of the heat made per volume, only what exceeds a
//! layer's share of the common heating drives θ, whose mean weighted by heat capacity is zero. One-dimensional
//! conduction, properties constant in each layer; H. S. Carslaw & J. C. Jaeger, Conduction of Heat in Solids,
//! 2nd ed. (1959), ch. 3 (composite slab). All of it is proportional to the generation, so it may be
//! worked out for 1 A² and scaled.

mod profile;
mod relaxation;

pub use profile::{Profile, quasi_steady};
pub use relaxation::{Mode, Relaxation, relaxation};

/// One layer that conducts, stores and makes heat, and grows with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeatedLayer {
    /// Thickness, m (> 0).
    pub thickness_m: f64,
    /// Thermal conductivity, W/(m K).
    pub conductivity_w_per_m_k: f64,
    /// Heat capacity per volume ρ c, J/(m³ K).
    pub heat_capacity_j_per_m3_k: f64,
    /// Heat made per volume, W/m³ (or per A²: see [`joule::generation_w_per_m3`](super::joule::generation_w_per_m3)).
    pub generation_w_per_m3: f64,
    /// Young's modulus, Pa.
    pub modulus_pa: f64,
    /// Slope of the thermal strain in temperature, 1/K.
    pub expansion_per_k: f64,
}

/// Heat made above a layer's share of the common heating, W/m³, layer by layer.
fn excess_generation(layers: &[HeatedLayer]) -> impl Iterator<Item = f64> + '_ {
    let made: f64 = layers
        .iter()
        .map(|l| l.generation_w_per_m3 * l.thickness_m)
        .sum();
    let stored: f64 = layers
        .iter()
        .map(|l| l.heat_capacity_j_per_m3_k * l.thickness_m)
        .sum();
    layers
        .iter()
        .map(move |l| l.generation_w_per_m3 - l.heat_capacity_j_per_m3_k * (made / stored))
}

#[cfg(test)]
mod tests;
