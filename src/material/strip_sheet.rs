//! What a layered strip does per kelvin.

use super::Alloy;
use super::library;
use crate::diagnostic::nearest;
use crate::physics::layered_section::{Section, SectionLayer, stresses};
use crate::quantity::{Dimension, Quantity};
use std::sync::Arc;

/// Temperatures between which flexivity is quoted (ASTM B106 lets the user choose; room to 130 degC
/// is what catalogues print), K.
const FROM_K: f64 = 293.15;
const TO_K: f64 = 403.15;

/// What a strip of several layers does; curvature and stress are means from 20 to 130 degC.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct StripSheet {
    /// Its layers, low-expansion side first.
    pub layers: Vec<StripLayer>,
    /// Thickness, m.
    pub thickness_m: f64,
    /// Curvature of the free strip per kelvin, 1/(m K).
    pub curvature_per_m_k: f64,
    /// Resistivity of the whole along the strip at 20 degC.
    pub resistivity_ohm_m: f64,
    /// Density of the whole at 20 degC.
    pub density_kg_per_m3: f64,
    /// Modulus in bending at 130 degC, Pa.
    pub modulus_pa: f64,
}

/// A layer of a strip.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct StripLayer {
    /// Name of its alloy.
    pub alloy: String,
    /// Thickness, m.
    pub thickness_m: f64,
    /// Largest stress in it per kelvin, strip free, Pa/K.
    pub largest_stress_pa_per_k: f64,
}

/// The sheet of a strip of library alloys written as `alloy thickness, alloy thickness, ...`,
/// low-expansion side first.
///
/// # Errors
/// What is wrong with the text, in words.
pub fn strip_sheet(layers: &str) -> Result<StripSheet, String> {
    let read: Vec<_> = layers
        .split(',')
        .map(layer)
        .collect::<Result<_, String>>()?;
    let thickness: f64 = read.iter().map(|(_, t)| t).sum();
    if !(thickness > 0.0) {
        return Err("the layers are zero thick together".into());
    }
    let hot = read.iter().map(|(alloy, thickness_m)| SectionLayer {
        thickness_m: *thickness_m,
        modulus_pa: alloy.youngs_modulus.at(TO_K),
        thermal_strain: alloy.expansion.strain_with_slope(FROM_K, TO_K).0,
    });
    let hot: Vec<SectionLayer> = hot.collect();
    let section = Section::of(hot.iter().copied());
    let conductance: f64 = read.iter().map(|(a, t)| t / a.resistivity.at(FROM_K)).sum();
    let mass: f64 = read.iter().map(|(a, t)| t * a.density.at(FROM_K)).sum();
    let stresses = stresses(&hot, 0.0, 0.0);
    let layers = read
        .iter()
        .zip(&stresses)
        .map(|((alloy, thickness_m), stress)| StripLayer {
            alloy: alloy.name.clone(),
            thickness_m: *thickness_m,
            largest_stress_pa_per_k: stress.largest_pa() / (TO_K - FROM_K),
        });
    Ok(StripSheet {
        layers: layers.collect(),
        thickness_m: thickness,
        curvature_per_m_k: section.thermal_curvature_per_m() / (TO_K - FROM_K),
        resistivity_ohm_m: thickness / conductance,
        density_kg_per_m3: mass / thickness,
        modulus_pa: 12.0 * section.bending_stiffness_n_m() / thickness.powi(3),
    })
}

fn layer(text: &str) -> Result<(Arc<Alloy>, f64), String> {
    let text = text.trim();
    // The thickness is the last number with its unit: "22Ni-3Cr-Fe 0.40 mm".
    let words: Vec<&str> = text.split_whitespace().collect();
    let Some(split) = words.len().checked_sub(2).filter(|n| *n > 0) else {
        return Err(format!(
            "\"{text}\" is not a layer; write for example \"Fe-36Ni 0.40 mm\""
        ));
    };
    let (name, thickness) = (words[..split].join(" "), words[split..].join(" "));
    let quantity = Quantity::read(&thickness, Dimension::Length).map_err(|e| {
        format!(
            "the thickness \"{thickness}\" of {name}: {}; {}",
            e.found(),
            e.help()
        )
    })?;
    if !(0.0..=0.05).contains(&quantity.value_si) {
        return Err(format!("a layer {thickness} thick is not part of a strip"));
    }
    let alloy = library::alloy(&name).ok_or_else(|| {
        let names = library::alloy_names();
        let near = nearest(&name, names.iter().copied()).map(|n| format!("; did you mean {n}?"));
        format!(
            "no strip alloy is called \"{name}\"{}",
            near.unwrap_or_default()
        )
    })?;
    Ok((alloy, quantity.value_si))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_strip_of_equal_layers_bends() {
        let strip = strip_sheet("Fe-36Ni 0.4 mm, 22Ni-3Cr-Fe 0.4 mm").expect("a strip");
        assert!(
            strip.curvature_per_m_k > 0.0 && strip.layers.len() == 2,
            "{strip:?}"
        );
    }

    #[test]
    fn what_is_no_layer_is_explained() {
        for wrong in [
            "",
            "Fe-36Ni",
            "0.4 mm",
            "Fe-36Ni 0.4",
            "Fe-37Ni 0.4 mm",
            "Fe-36Ni 2 m",
            "Fe-36Ni 0 mm",
            "Fe-36Ni -1 mm",
        ] {
            assert!(strip_sheet(wrong).is_err(), "{wrong}");
        }
    }
}
