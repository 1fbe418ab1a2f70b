//! Which properties a material can have, with their keys and units.

/// A property that varies with temperature and is kept with range, source and uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum PropertyKind {
    /// Mass per volume.
    Density,
    /// Young's modulus.
    YoungsModulus,
    /// Modulus of rigidity.
    ShearModulus,
    /// Electrical resistivity.
    Resistivity,
    /// Heat conductivity.
    Conductivity,
    /// Heat capacity per mass.
    SpecificHeat,
    /// Coefficient of linear expansion.
    Expansion,
    /// Poisson ratio.
    PoissonRatio,
    /// 0.2 % yield strength.
    YieldStrength,
    /// Indentation hardness of a contact surface.
    Hardness,
}

impl PropertyKind {
    /// Every kind, in the order in which they are shown.
    pub const ALL: [PropertyKind; 10] = [
        PropertyKind::Density,
        PropertyKind::YoungsModulus,
        PropertyKind::ShearModulus,
        PropertyKind::Resistivity,
        PropertyKind::Conductivity,
        PropertyKind::SpecificHeat,
        PropertyKind::Expansion,
        PropertyKind::PoissonRatio,
        PropertyKind::YieldStrength,
        PropertyKind::Hardness,
    ];

    /// Key in a material file.
    pub const fn key(self) -> &'static str {
        match self {
            PropertyKind::Density => "density",
            PropertyKind::YoungsModulus => "youngs_modulus",
            PropertyKind::ShearModulus => "shear_modulus",
            PropertyKind::Resistivity => "resistivity",
            PropertyKind::Conductivity => "conductivity",
            PropertyKind::SpecificHeat => "specific_heat",
            PropertyKind::Expansion => "expansion",
            PropertyKind::PoissonRatio => "poisson_ratio",
            PropertyKind::YieldStrength => "yield_strength",
            PropertyKind::Hardness => "hardness",
        }
    }

    /// Name for people.
    pub const fn label(self) -> &'static str {
        match self {
            PropertyKind::Density => "density",
            PropertyKind::YoungsModulus => "Young's modulus",
            PropertyKind::ShearModulus => "shear modulus",
            PropertyKind::Resistivity => "resistivity",
            PropertyKind::Conductivity => "conductivity",
            PropertyKind::SpecificHeat => "specific heat",
            PropertyKind::Expansion => "expansion",
            PropertyKind::PoissonRatio => "Poisson ratio",
            PropertyKind::YieldStrength => "yield strength",
            PropertyKind::Hardness => "hardness",
        }
    }

    /// Unit in which tables show it, and its size in SI.
    pub const fn shown_unit(self) -> (&'static str, f64) {
        match self {
            PropertyKind::Density => ("g/cm³", 1e3),
            PropertyKind::YoungsModulus | PropertyKind::ShearModulus | PropertyKind::Hardness => {
                ("GPa", 1e9)
            }
            PropertyKind::Resistivity => ("µΩ m", 1e-6),
            PropertyKind::Conductivity => ("W/(m K)", 1.0),
            PropertyKind::SpecificHeat => ("J/(kg K)", 1.0),
            PropertyKind::Expansion => ("10⁻⁶/K", 1e-6),
            PropertyKind::PoissonRatio => ("", 1.0),
            PropertyKind::YieldStrength => ("MPa", 1e6),
        }
    }
}
