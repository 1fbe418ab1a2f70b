//! The properties of a scenario's metals that are not known exactly.

use crate::answer::{DataSource, PropertyName};
use crate::material::{Alloy, ContactMetal, Property};
use crate::scenario::{ContactResistance, Scenario, SectionKind};
use std::sync::Arc;

/// One property of one metal, and how well it is known.
pub(super) struct Unknown {
    pub source: DataSource,
    /// Standard deviation of its logarithm: lognormal, so that a wide spread stays above zero.
    spread: f64,
}

impl Unknown {
    /// Every property that moves an answer, of every layer's alloy and of the contact metal.
    pub fn of(scenario: &Scenario) -> Vec<Unknown> {
        let mut list = Vec::new();
        let mut scenario = scenario.clone();
        let wide = scenario.strip.section != SectionKind::Narrow;
        let mut add = |metal: &str, property: PropertyName, data: &Property| {
            let source = DataSource {
                metal: metal.to_owned(),
                property,
                from_memory: data.from_memory,
            };
            let squared = data.spread().powi(2);
            let spread = (1.0 + squared).ln().sqrt();
            let is_new = list.iter().all(|u: &Unknown| u.source != source);
            if spread > 0.0 && is_new {
                list.push(Unknown { source, spread });
            }
        };
        for layer in &mut scenario.strip.layers {
            let alloy = Arc::make_mut(&mut layer.alloy);
            let name = alloy.name.clone();
            for property in STRIP {
                if property == PropertyName::PoissonRatio && !wide {
                    continue;
                }
                if let Some(data) = of_alloy(alloy, property) {
                    add(&name, property, data);
                }
            }
        }
        let by_force = matches!(scenario.contact.resistance, ContactResistance::Holm { .. });
        if let Some(metal) = scenario.contact.metal.as_mut().filter(|_| by_force) {
            let metal = Arc::make_mut(metal);
            let name = metal.name.clone();
            for property in [PropertyName::Resistivity, PropertyName::Hardness] {
                if let Some(data) = of_contact(metal, property) {
                    add(&name, property, data);
                }
            }
        }
        list
    }

    /// The scenario with this property moved by so many standard deviations of its logarithm.
    pub fn moved(&self, scenario: &Scenario, deviations: f64) -> Scenario {
        let factor = (deviations * self.spread).exp();
        let (name, property) = (&self.source.metal, self.source.property);
        let mut moved = scenario.clone();
        for layer in &mut moved.strip.layers {
            if layer.alloy.name == *name
                && let Some(data) = of_alloy(Arc::make_mut(&mut layer.alloy), property)
            {
                data.scale(factor);
            }
        }
        if let Some(metal) = moved.contact.metal.as_mut().filter(|m| m.name == *name)
            && let Some(data) = of_contact(Arc::make_mut(metal), property)
        {
            data.scale(factor);
        }
        moved
    }
}

const STRIP: [PropertyName; 7] = [
    PropertyName::Density,
    PropertyName::YoungsModulus,
    PropertyName::Resistivity,
    PropertyName::ThermalConductivity,
    PropertyName::SpecificHeat,
    PropertyName::ThermalExpansion,
    PropertyName::PoissonRatio,
];

fn of_alloy(alloy: &mut Alloy, property: PropertyName) -> Option<&mut Property> {
    match property {
        PropertyName::Density => Some(&mut alloy.density),
        PropertyName::YoungsModulus => Some(&mut alloy.youngs_modulus),
        PropertyName::Resistivity => Some(&mut alloy.resistivity),
        PropertyName::ThermalConductivity => Some(&mut alloy.conductivity),
        PropertyName::SpecificHeat => Some(&mut alloy.specific_heat),
        PropertyName::ThermalExpansion => Some(&mut alloy.expansion.property),
        PropertyName::PoissonRatio => alloy.poisson_ratio.as_mut(),
        PropertyName::Hardness => None,
    }
}

fn of_contact(metal: &mut ContactMetal, property: PropertyName) -> Option<&mut Property> {
    match property {
        PropertyName::Resistivity => Some(&mut metal.resistivity),
        PropertyName::Hardness => Some(&mut metal.hardness),
        _ => None,
    }
}
