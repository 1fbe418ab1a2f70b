//! Alloys of latch and contact springs.

use super::{Expansion, Property};

/// An alloy that a spring can be made of. SI units, kelvin.
#[derive(Debug, Clone, PartialEq)]
pub struct SpringAlloy {
    /// Name, as scenarios call it.
    pub name: String,
    /// Pa; stiffness of leaf springs.
    pub youngs_modulus: Property,
    /// Pa; stiffness of coil springs.
    pub shear_modulus: Property,
    /// kg/m^3.
    pub density: Option<Property>,
    /// ohm m.
    pub resistivity: Option<Property>,
    /// W/(m K).
    pub conductivity: Option<Property>,
    /// 1/K.
    pub expansion: Option<Expansion>,
    /// Pa.
    pub yield_strength: Option<Property>,
    /// Tensile strength of drawn wire by diameter.
    pub wire_strength: Option<WireStrength>,
    /// Fraction of the stress lost on first loading, before any thermal relaxation.
    pub first_loading_loss: Option<f64>,
    /// Highest recommended temperature, K.
    pub highest_recommended_k: Option<f64>,
}

/// Tensile strength of drawn wire, `S = A (1 mm / d)^m`.
#[derive(Debug, Clone, PartialEq)]
pub struct WireStrength {
    /// Strength of wire of 1 mm diameter, Pa.
    pub at_1_mm_pa: f64,
    /// Exponent m.
    pub exponent: f64,
    /// Key in `references.toml`.
    pub source: String,
    /// Written down from memory.
    pub from_memory: bool,
}

impl WireStrength {
    /// Tensile strength of a wire, Pa; meant for diameters of 0.1 to 6.5 mm.
    ///
    /// ```
    /// use relatch::internals::material::library;
    /// let wire = library::spring_alloy("music wire").unwrap();
    /// let strength = wire.wire_strength.as_ref().unwrap();
    /// assert!((strength.tensile_strength_pa(0.5e-3) - 2444.8e6).abs() < 0.1e6);
    /// ```
    pub fn tensile_strength_pa(&self, diameter_m: f64) -> f64 {
        self.at_1_mm_pa * (1e-3 / diameter_m).powf(self.exponent)
    }
}
