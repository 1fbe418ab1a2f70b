//! Heat across the layers: where one layer makes most of the heat, that heat must cross the others,
//! and the strip bends by it. Resolved by through-thickness modes with their own relaxation.

use super::StripLaws;
use crate::physics::through_thickness::{Across, AcrossLayer};

/// Curvature and spread of the quasi-steady profile per square of strip current, and how it relaxes.
#[derive(Debug, Clone)]
pub struct ThroughLaw {
    /// Relaxation rates of the modes, 1/s, at the reference temperature.
    pub rate_per_s: Vec<f64>,
    /// Share of the quasi-steady curvature carried by each mode; the rest follows at once.
    pub curvature_share: Vec<f64>,
    laws: StripLaws,
}

/// Temperature at which the modes are computed, K: half-way to a usual release.
const REFERENCE_K: f64 = 350.0;

impl ThroughLaw {
    /// Modes of a strip.
    pub fn new(laws: &StripLaws) -> ThroughLaw {
        let across = Across::of(&across_layers(laws, REFERENCE_K));
        let modes = across.modes();
        ThroughLaw {
            rate_per_s: modes.iter().map(|m| m.rate_per_s).collect(),
            curvature_share: modes.iter().map(|m| m.curvature_share).collect(),
            laws: laws.clone(),
        }
    }

    /// Number of modes carried as unknowns.
    pub fn len(&self) -> usize {
        self.rate_per_s.len()
    }

    /// Whether everything follows at once.
    pub fn is_empty(&self) -> bool {
        self.rate_per_s.is_empty()
    }

    /// Quasi-steady curvature per square ampere of strip current, 1/(m A^2), at a temperature.
    pub fn curvature_per_a2(&self, t_k: f64) -> f64 {
        curvature_per_a2(&self.laws, t_k)
    }

    /// Share of the curvature that follows the current at once.
    pub fn instant_share(&self) -> f64 {
        1.0 - self.curvature_share.iter().sum::<f64>()
    }
}

/// Quasi-steady curvature per square ampere of strip current, 1/(m A^2).
pub fn curvature_per_a2(laws: &StripLaws, t_k: f64) -> f64 {
    Across::of(&across_layers(laws, t_k)).curvature_per_m()
}

/// Quasi-steady temperature difference across the strip per square ampere, K/A^2.
pub fn spread_per_a2(laws: &StripLaws, t_k: f64) -> f64 {
    Across::of(&across_layers(laws, t_k)).spread_k()
}

fn across_layers(laws: &StripLaws, t_k: f64) -> Vec<AcrossLayer> {
    let per_length = laws.line(t_k).resistance;
    laws.layers
        .iter()
        .zip(laws.thermal_layers(t_k))
        .filter(|(l, _)| l.thickness_m > 0.0)
        .map(|(layer, section)| {
            let a = &layer.alloy;
            AcrossLayer {
                thickness_m: layer.thickness_m,
                conductivity_w_per_m_k: a.conductivity.at(t_k),
                capacity_j_per_m3_k: a.density.at(t_k) * a.specific_heat.at(t_k),
                generation_w_per_m3: per_length * per_length / a.resistivity.at(t_k),
                modulus_pa: section.modulus_pa,
                expansion_per_k: a
                    .expansion
                    .strain_with_slope(laws.flat_temperature_k, t_k)
                    .1,
            }
        })
        .collect()
}
