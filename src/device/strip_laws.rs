//! What the layers make of the strip at one temperature: per length for heat, per section for
//! bending.

use crate::physics::layered_section::{Section, SectionLayer};
use crate::scenario::{Layer, SectionKind, Strip};
use std::sync::Arc;

/// Layers, width and how the width bends.
#[derive(Debug, Clone)]
pub struct StripLaws {
    /// Layers, low-expansion side first, with the laws of their coil.
    pub layers: Vec<Layer>,
    /// What the thermal strains and resistivities of the alloys were multiplied by for that.
    pub coil: [f64; 2],
    /// m.
    pub width_m: f64,
    /// Total thickness, m.
    pub thickness_m: f64,
    /// K.
    pub flat_temperature_k: f64,
    /// 1/m.
    pub initial_curvature_per_m: f64,
    /// How the width bends.
    pub section: SectionKind,
}

/// Heat properties per length of strip, each with its slope against temperature.
#[derive(Debug, Clone, Copy, Default)]
pub struct Line {
    /// Heat capacity per length, J/(m K).
    pub capacity: f64,
    /// d capacity / dT.
    pub capacity_slope: f64,
    /// Conductivity times area, W m/K.
    pub conduction: f64,
    /// Resistance per length, ohm/m.
    pub resistance: f64,
    /// d resistance / dT.
    pub resistance_slope: f64,
}

/// Bending of the section at one temperature.
#[derive(Debug, Clone, Copy)]
pub struct Bend {
    /// Curvature of the free strip, 1/m (with the initial curvature).
    pub curvature_per_m: f64,
    /// Bending stiffness EI against forces, N m^2.
    pub stiffness_n_m2: f64,
    /// Axial stiffness EA, N.
    pub axial_stiffness_n: f64,
    /// Axial strain of the free strip.
    pub axial_strain: f64,
}

impl StripLaws {
    /// Laws of a scenario's strip.
    pub fn new(strip: &Strip) -> StripLaws {
        let coil = [strip.flexivity_factor, strip.resistivity_factor];
        let mut layers = strip.layers.clone();
        if coil != [1.0; 2] {
            for layer in &mut layers {
                let alloy = Arc::make_mut(&mut layer.alloy);
                alloy.expansion.property.scale(coil[0]);
                alloy.resistivity.scale(coil[1]);
            }
        }
        StripLaws {
            layers,
            coil,
            width_m: strip.width_m,
            thickness_m: strip.layers.iter().map(|l| l.thickness_m).sum(),
            flat_temperature_k: strip.flat_temperature_k,
            initial_curvature_per_m: strip.initial_curvature_per_m,
            section: strip.section,
        }
    }

    /// Layers in parallel, for heat and for current.
    pub fn line(&self, t_k: f64) -> Line {
        let (mut c, mut dc, mut k, mut s, mut ds) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for layer in &self.layers {
            let (a, t) = (&layer.alloy, layer.thickness_m);
            let (specific, specific_slope) = a.specific_heat.at_with_slope(t_k);
            let density = a.density.at(t_k);
            c += density * specific * t;
            dc += density * specific_slope * t;
            k += a.conductivity.at(t_k) * t;
            let (r, dr) = a.resistivity.at_with_slope(t_k);
            s += t / r;
            ds -= t * dr / (r * r);
        }
        let w = self.width_m;
        Line {
            capacity: w * c,
            capacity_slope: w * dc,
            conduction: w * k,
            resistance: 1.0 / (w * s),
            resistance_slope: -ds / (w * s * s),
        }
    }

    /// Integral of conductivity times area between two temperatures, W m (Kirchhoff's
    /// transformation).
    pub fn conduction_integral(&self, from_k: f64, to_k: f64) -> f64 {
        let per_width: f64 = self
            .layers
            .iter()
            .map(|l| l.alloy.conductivity.integral(from_k, to_k) * l.thickness_m)
            .sum();
        self.width_m * per_width
    }

    /// Heat stored per length between two temperatures, J/m.
    pub fn heat_j_per_m(&self, from_k: f64, to_k: f64) -> f64 {
        let per_width: f64 = self
            .layers
            .iter()
            .map(|l| {
                l.alloy.density.at(from_k)
                    * l.alloy.specific_heat.integral(from_k, to_k)
                    * l.thickness_m
            })
            .sum();
        self.width_m * per_width
    }

    /// Bending at one temperature through the thickness.
    pub fn bend(&self, t_k: f64) -> Bend {
        self.bend_with(t_k, t_k)
    }

    /// The same with the moduli of another temperature.
    pub fn bend_with(&self, t_k: f64, modulus_at_k: f64) -> Bend {
        let layers = |width| self.section_layers(t_k, modulus_at_k, width);
        let thermal = Section::of(layers(self.thermal_width()));
        let force = match self.section {
            SectionKind::WideFree => Section::of(layers(self.force_width())),
            SectionKind::Narrow | SectionKind::HeldFlat => thermal,
        };
        Bend {
            curvature_per_m: self.initial_curvature_per_m + thermal.thermal_curvature_per_m(),
            stiffness_n_m2: self.width_m * force.bending_stiffness_n_m(),
            axial_stiffness_n: self.width_m * force.axial_stiffness_n_per_m(),
            axial_strain: thermal.free_axial_strain(),
        }
    }

    /// The layers as the section sees them at one temperature.
    pub fn thermal_layers(&self, t_k: f64) -> Vec<SectionLayer> {
        self.section_layers(t_k, t_k, self.thermal_width())
            .collect()
    }

    /// The layers as a force sees them at one temperature.
    pub fn force_layers(&self, t_k: f64) -> Vec<SectionLayer> {
        self.section_layers(t_k, t_k, self.force_width()).collect()
    }

    /// Slope of a layer's thermal strain against temperature, as the section sees it, 1/K.
    pub fn strain_slope(&self, layer: &Layer, t_k: f64) -> f64 {
        let (_, slope) = layer
            .alloy
            .expansion
            .strain_with_slope(self.flat_temperature_k, t_k);
        match self.section {
            SectionKind::HeldFlat => {
                slope
                    * (1.0
                        + layer
                            .alloy
                            .poisson_ratio
                            .as_ref()
                            .map_or(0.0, |p| p.at(t_k)))
            }
            SectionKind::Narrow | SectionKind::WideFree => slope,
        }
    }

    /// Heat capacity per area of the strip's face, J/(m^2 K).
    pub fn capacity_per_area(&self, t_k: f64) -> f64 {
        self.line(t_k).capacity / self.width_m
    }

    fn thermal_width(&self) -> fn(SectionLayer, f64) -> SectionLayer {
        match self.section {
            SectionKind::Narrow => |layer, _| layer,
            SectionKind::WideFree => SectionLayer::wide_for_thermal_curvature,
            SectionKind::HeldFlat => SectionLayer::held_flat,
        }
    }

    fn force_width(&self) -> fn(SectionLayer, f64) -> SectionLayer {
        match self.section {
            SectionKind::WideFree => SectionLayer::wide_for_force,
            SectionKind::Narrow | SectionKind::HeldFlat => self.thermal_width(),
        }
    }

    fn section_layers(
        &self,
        t_k: f64,
        modulus_at_k: f64,
        width: fn(SectionLayer, f64) -> SectionLayer,
    ) -> impl Iterator<Item = SectionLayer> + '_ {
        self.layers.iter().map(move |layer| {
            let nu = layer
                .alloy
                .poisson_ratio
                .as_ref()
                .map_or(0.0, |p| p.at(t_k));
            let (thermal_strain, _) = layer
                .alloy
                .expansion
                .strain_with_slope(self.flat_temperature_k, t_k);
            let modulus_pa = layer.alloy.youngs_modulus.at(modulus_at_k);
            width(
                SectionLayer {
                    thickness_m: layer.thickness_m,
                    modulus_pa,
                    thermal_strain,
                },
                nu,
            )
        })
    }
}
