//! Alloys of strips and metals of contacts.

use super::Property;

/// An alloy that a strip layer can be made of. SI units, kelvin.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Alloy {
    /// Name, as scenarios call it.
    pub name: String,
    /// kg/m^3.
    pub density: Property,
    /// Pa.
    pub youngs_modulus: Property,
    /// ohm m.
    pub resistivity: Property,
    /// W/(m K).
    pub conductivity: Property,
    /// J/(kg K).
    pub specific_heat: Property,
    /// 1/K.
    pub expansion: Expansion,
    /// Needed only for wide sections.
    pub poisson_ratio: Option<Property>,
    /// Pa.
    pub yield_strength: Option<Property>,
    /// Highest recommended temperature, K.
    pub highest_recommended_k: Option<f64>,
}

/// Thermal expansion.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Expansion {
    /// Mean or instantaneous.
    pub kind: ExpansionKind,
    /// Coefficient, 1/K.
    pub property: Property,
}

/// Which coefficient a table holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ExpansionKind {
    /// Mean from a reference temperature (K).
    Mean {
        /// Reference temperature, K.
        reference_k: f64,
    },
    /// Instantaneous.
    Instantaneous,
}

impl Expansion {
    /// Thermal strain from `flat_k` to `t_k`, and its slope against `t_k` (the instantaneous
    /// coefficient).
    ///
    /// Mean coefficient `a_m` about `T0`: `a_m(T)(T - T0) - a_m(T_flat)(T_flat - T0)`;
    /// instantaneous coefficient: its integral. Outside the range of validity the coefficient is
    /// continued as [`Property`] says.
    pub fn strain_with_slope(&self, flat_k: f64, t_k: f64) -> (f64, f64) {
        let coefficient = &self.property;
        let (a, slope) = coefficient.at_with_slope(t_k);
        match self.kind {
            ExpansionKind::Mean { reference_k } => (
                a * (t_k - reference_k) - coefficient.at(flat_k) * (flat_k - reference_k),
                a + slope * (t_k - reference_k),
            ),
            ExpansionKind::Instantaneous => (coefficient.integral(flat_k, t_k), a),
        }
    }
}

/// A contact metal.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct ContactMetal {
    /// Name, as scenarios call it.
    pub name: String,
    /// ohm m.
    pub resistivity: Property,
    /// Contact hardness, Pa.
    pub hardness: Property,
    /// Voltage at which the spot softens, V.
    pub softening_voltage_v: f64,
    /// Voltage at which the spot melts, V, where known.
    pub melting_voltage_v: Option<f64>,
    /// Source key of the softening voltage.
    pub softening_source: String,
}
