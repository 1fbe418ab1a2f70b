//! What a layered strip does per kelvin.

use super::Alloy;
use super::library;
use super::show::significant;
use crate::diagnostic::nearest;
use crate::physics::layered_section::{Section, SectionLayer, stresses};
use crate::quantity::{Dimension, Quantity};
use std::fmt::Write;
use std::sync::Arc;

/// Temperatures between which flexivity is quoted (ASTM B106 lets the user choose; room to 130 degC is
/// what catalogues print), K.
const FROM_K: f64 = 293.15;
const TO_K: f64 = 403.15;

/// The sheet of a strip of library alloys written as `alloy thickness, alloy thickness, ...`, low-expansion side first.
///
/// # Errors
/// What is wrong with the text, in words.
pub fn strip_text(layers: &str) -> Result<String, String> {
    let read: Vec<_> = layers
        .split(',')
        .map(layer)
        .collect::<Result<_, String>>()?;
    let thickness: f64 = read.iter().map(|(_, t)| t).sum();
    if !(thickness > 0.0) {
        return Err("the layers are zero thick together".into());
    }
    let at = |t_k: f64| -> Vec<SectionLayer> {
        read.iter()
            .map(|(alloy, thickness_m)| SectionLayer {
                thickness_m: *thickness_m,
                modulus_pa: alloy.youngs_modulus.at(t_k),
                thermal_strain: alloy.expansion.strain_with_slope(FROM_K, t_k).0,
            })
            .collect()
    };
    let hot = at(TO_K);
    let section = Section::of(hot.iter().copied());
    let per_kelvin = section.thermal_curvature_per_m() / (TO_K - FROM_K);
    let conductance: f64 = read.iter().map(|(a, t)| t / a.resistivity.at(FROM_K)).sum();
    let mass: f64 = read.iter().map(|(a, t)| t * a.density.at(FROM_K)).sum();
    let modulus = 12.0 * section.bending_stiffness_n_m() / thickness.powi(3);
    let mut out = String::new();
    let names: Vec<String> = read
        .iter()
        .map(|(a, t)| format!("{} mm {}", significant(1e3 * t, 3), a.name))
        .collect();
    let _ = writeln!(
        out,
        "Strip of {} (low-expansion side first)",
        names.join(" / ")
    );
    let mut line = |what: &str, value: f64, unit: &str| {
        let _ = writeln!(out, "  {what:<34} {:>9}  {unit}", significant(value, 4));
    };
    line("thickness", 1e3 * thickness, "mm");
    line("curvature, 20 to 130 degC", per_kelvin, "1/m per kelvin");
    line(
        "flexivity F = curvature x thickness",
        1e6 * per_kelvin * thickness,
        "1e-6 per kelvin",
    );
    line(
        "deflection of a 40 mm cantilever",
        1e3 * per_kelvin * 0.04 * 0.04 / 2.0,
        "mm per kelvin",
    );
    line(
        "resistivity of the whole, 20 degC",
        1e6 * thickness / conductance,
        "uohm m",
    );
    line("density of the whole", 1e-3 * mass / thickness, "g/cm3");
    line("modulus in bending, 130 degC", 1e-9 * modulus, "GPa");
    let largest = |i: usize| stresses(&hot, 0.0, 0.0)[i].largest_pa() / (TO_K - FROM_K);
    for (i, (alloy, _)) in read.iter().enumerate() {
        line(
            &format!("largest stress in {}", alloy.name),
            1e-6 * largest(i),
            "MPa per kelvin, free strip",
        );
    }
    Ok(out)
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
    fn a_strip_of_equal_layers_shows_its_flexivity() {
        let text = strip_text("Fe-36Ni 0.4 mm, 22Ni-3Cr-Fe 0.4 mm").expect("a strip");
        assert!(text.contains("flexivity"), "{text}");
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
            assert!(strip_text(wrong).is_err(), "{wrong}");
        }
    }
}
