//! Everything a material file says.

use super::{Alloy, ContactMetal, Expansion, ExpansionKind, Property, PropertyKind};

/// What a material may be used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MaterialKind {
    /// Layers of a strip.
    Strip,
    /// Springs.
    Spring,
    /// Layers of a strip and springs.
    StripAndSpring,
    /// Contacts.
    Contact,
}

impl MaterialKind {
    /// Properties without which the use is not possible.
    pub const fn needs(self) -> &'static [PropertyKind] {
        use PropertyKind as P;
        match self {
            MaterialKind::Strip => &[
                P::Density,
                P::YoungsModulus,
                P::Resistivity,
                P::Conductivity,
                P::SpecificHeat,
                P::Expansion,
            ],
            MaterialKind::Spring => &[P::YoungsModulus, P::ShearModulus],
            MaterialKind::StripAndSpring => &[
                P::Density,
                P::YoungsModulus,
                P::ShearModulus,
                P::Resistivity,
                P::Conductivity,
                P::SpecificHeat,
                P::Expansion,
            ],
            MaterialKind::Contact => &[P::Resistivity, P::Hardness],
        }
    }

    /// Whether layers of a strip may be made of it.
    pub const fn is_strip(self) -> bool {
        matches!(self, Self::Strip | Self::StripAndSpring)
    }

    /// Whether springs may be made of it.
    pub const fn is_spring(self) -> bool {
        matches!(self, Self::Spring | Self::StripAndSpring)
    }

    /// As files and tables call it.
    pub const fn label(self) -> &'static str {
        match self {
            MaterialKind::Strip => "strip alloy",
            MaterialKind::Spring => "spring alloy",
            MaterialKind::StripAndSpring => "strip and spring alloy",
            MaterialKind::Contact => "contact metal",
        }
    }
}

/// A single number with its source.
#[derive(Debug, Clone, PartialEq)]
pub struct Sourced {
    /// Value, SI.
    pub value_si: f64,
    /// Key in `references.toml`.
    pub source: String,
    /// Written down from memory.
    pub from_memory: bool,
}

/// A remark of the file on one of its entries.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Note {
    /// Key of the entry.
    pub key: &'static str,
    /// The remark.
    pub text: String,
}

/// How a spring alloy loses stress, as far as a source says.
#[derive(Debug, Clone, PartialEq)]
pub struct Relaxation {
    /// Fraction of the stress lost on first loading.
    pub first_loading_loss: Option<f64>,
    /// Key in `references.toml`.
    pub source: String,
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

/// Everything a material file says; uses are made from it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Name, as scenarios call it.
    pub name: String,
    /// Other names that are understood.
    pub aliases: Vec<String>,
    /// What it may be used for.
    pub kind: MaterialKind,
    /// What it is, in a sentence.
    pub summary: String,
    /// Properties in the order of [`PropertyKind::ALL`].
    pub properties: Vec<(PropertyKind, Property)>,
    /// Which coefficient the expansion holds, where there is one.
    pub expansion_kind: Option<ExpansionKind>,
    /// Highest recommended temperature, K.
    pub highest_recommended: Option<Sourced>,
    /// Voltage at which a contact spot softens, V.
    pub softening_voltage: Option<Sourced>,
    /// Voltage at which a contact spot melts, V.
    pub melting_voltage: Option<Sourced>,
    /// Strength of drawn wire.
    pub wire_strength: Option<WireStrength>,
    /// Loss of stress.
    pub relaxation: Option<Relaxation>,
    /// Remarks.
    pub notes: Vec<Note>,
}

impl Sheet {
    /// A property, where the file gives it.
    pub fn property(&self, kind: PropertyKind) -> Option<&Property> {
        self.properties
            .iter()
            .find(|(k, _)| *k == kind)
            .map(|(_, p)| p)
    }

    /// The expansion, where the file gives it.
    pub fn expansion(&self) -> Option<Expansion> {
        Some(Expansion {
            kind: self.expansion_kind?,
            property: self.property(PropertyKind::Expansion)?.clone(),
        })
    }

    /// The alloy of a strip layer; `None` if a needed property is missing.
    pub fn alloy(&self) -> Option<Alloy> {
        let get = |kind| self.property(kind).cloned();
        Some(Alloy {
            name: self.name.clone(),
            density: get(PropertyKind::Density)?,
            youngs_modulus: get(PropertyKind::YoungsModulus)?,
            resistivity: get(PropertyKind::Resistivity)?,
            conductivity: get(PropertyKind::Conductivity)?,
            specific_heat: get(PropertyKind::SpecificHeat)?,
            expansion: self.expansion()?,
            poisson_ratio: get(PropertyKind::PoissonRatio),
            yield_strength: get(PropertyKind::YieldStrength),
            highest_recommended_k: self.highest_recommended_k(),
        })
    }

    /// The contact metal; `None` if a needed property is missing.
    pub fn contact_metal(&self) -> Option<ContactMetal> {
        let softening = self.softening_voltage.as_ref()?;
        Some(ContactMetal {
            name: self.name.clone(),
            resistivity: self.property(PropertyKind::Resistivity)?.clone(),
            hardness: self.property(PropertyKind::Hardness)?.clone(),
            softening_voltage_v: softening.value_si,
            melting_voltage_v: self.melting_voltage.as_ref().map(|m| m.value_si),
            softening_source: softening.source.clone(),
        })
    }

    /// Keys of every source the file names, without repetition, in the order of the file.
    pub fn sources(&self) -> Vec<&str> {
        let singles = [
            &self.highest_recommended,
            &self.softening_voltage,
            &self.melting_voltage,
        ];
        let all = self
            .properties
            .iter()
            .map(|(_, p)| p.source.as_str())
            .chain(singles.into_iter().flatten().map(|s| s.source.as_str()))
            .chain(self.wire_strength.iter().map(|w| w.source.as_str()))
            .chain(self.relaxation.iter().map(|r| r.source.as_str()));
        let mut keys = Vec::new();
        for key in all.flat_map(source_keys) {
            if !keys.contains(&key) {
                keys.push(key);
            }
        }
        keys
    }

    fn highest_recommended_k(&self) -> Option<f64> {
        self.highest_recommended.as_ref().map(|h| h.value_si)
    }
}

/// The single keys of a source entry, which may name several.
pub fn source_keys(source: &str) -> impl Iterator<Item = &str> {
    source.split(',').map(str::trim).filter(|s| !s.is_empty())
}
