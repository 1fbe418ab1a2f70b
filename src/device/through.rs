//! Heat across the layers at every station: a few slow modes are unknowns with their own relaxation, the
//! fast ones follow at once.
//!
//! A station's source in mode k (per unit area) is the Joule heat of each layer, the axial conduction of
//! the mean temperature through each layer, and the loss at the two faces. The mean itself is the
//! one-temperature equation; the deviation does not act back on it (an effect of second order).

use super::{Line, StripLaws};
use crate::physics::through_thickness::{AcrossLayer, Mode, modes, quasi_steady};

/// Slow modes carried as unknowns.
const SLOW: usize = 3;
/// Temperature at which the modes are computed, K: half-way to a usual release.
const REFERENCE_K: f64 = 350.0;

/// The modes of a strip and what feeds them.
#[derive(Debug, Clone)]
pub struct ThroughLaw {
    slow: Vec<Feed>,
    /// Curvature of all fast modes together per unit of each source.
    fast: Feed,
    laws: StripLaws,
}

/// What sources of unit strength feed into a mode.
#[derive(Debug, Clone, Default)]
struct Feed {
    rate_per_s: f64,
    curvature_per_m: f64,
    /// Per W/m^3 in each layer.
    layers: Vec<f64>,
    /// Per K/m^2 of `d^2T/dx^2`: the axial conduction of the mean.
    axial: f64,
    /// Per W/m^2 lost at each face.
    faces: f64,
}

impl Feed {
    fn source(&self, per_layer: &[f64], second_derivative: f64, face_flux: f64) -> f64 {
        let joule: f64 = self.layers.iter().zip(per_layer).map(|(a, b)| a * b).sum();
        joule + self.axial * second_derivative - self.faces * face_flux
    }
}

/// Local sources at one station.
#[derive(Debug, Clone, Copy)]
pub struct Station {
    /// Temperature, K.
    pub t_k: f64,
    /// Square of the strip current, A^2.
    pub current_squared: f64,
    /// `d^2T/dx^2`, K/m^2.
    pub second_derivative: f64,
    /// Flux lost at the faces, W/m^2.
    pub face_flux: f64,
}

impl ThroughLaw {
    /// Modes of a strip.
    pub fn new(laws: &StripLaws) -> ThroughLaw {
        let layers = across_layers(laws, REFERENCE_K);
        let feed = |m: &Mode| Feed {
            rate_per_s: m.rate_per_s,
            curvature_per_m: m.curvature_per_m,
            layers: m.layer_m.clone(),
            axial: m
                .layer_m
                .iter()
                .zip(&layers)
                .map(|(l, a)| l * a.conductivity_w_per_m_k)
                .sum(),
            faces: m.first_face + m.last_face,
        };
        let slow: Vec<Feed> = modes(&layers).iter().take(SLOW).map(feed).collect();
        // All modes at rest are the exact parabolas; what the slow ones leave of them is the fast part.
        let rest = |source: &[f64], fed: &dyn Fn(&Feed) -> f64| {
            let slow_part: f64 = slow
                .iter()
                .map(|m| m.curvature_per_m * fed(m) / m.rate_per_s)
                .sum();
            quasi_steady(&layers, source).0 - slow_part
        };
        let unit = |i: usize| {
            (0..layers.len())
                .map(|j| if i == j { 1.0 } else { 0.0 })
                .collect::<Vec<f64>>()
        };
        let conduction: Vec<f64> = layers.iter().map(|l| l.conductivity_w_per_m_k).collect();
        let fast = Feed {
            rate_per_s: 1.0,
            curvature_per_m: 1.0,
            layers: (0..layers.len())
                .map(|i| rest(&unit(i), &|m| m.layers[i]))
                .collect(),
            axial: rest(&conduction, &|m| m.axial),
            faces: 0.0,
        };
        ThroughLaw {
            slow,
            fast,
            laws: laws.clone(),
        }
    }

    /// Modes carried as unknowns at each station.
    pub fn len(&self) -> usize {
        self.slow.len()
    }

    /// Whether everything follows at once.
    pub fn is_empty(&self) -> bool {
        self.slow.is_empty()
    }

    /// Relaxation rate of mode `k`, 1/s.
    pub fn rate_per_s(&self, k: usize) -> f64 {
        self.slow[k].rate_per_s
    }

    /// Joule heat per volume of each layer, W/m^3.
    fn joule(&self, t_k: f64, current_squared: f64) -> Vec<f64> {
        joule_per_volume(&self.laws, t_k, current_squared)
    }

    /// Sources of every slow mode at a station.
    pub fn sources(&self, at: Station, out: &mut [f64]) {
        let joule = self.joule(at.t_k, at.current_squared);
        for (o, mode) in out.iter_mut().zip(&self.slow) {
            *o = mode.source(&joule, at.second_derivative, at.face_flux);
        }
    }

    /// Slopes of the source of mode `k` against the station's temperature through the Joule heat,
    /// against the second derivative, and against the face flux.
    pub fn source_slopes(&self, k: usize, at: Station) -> (f64, f64, f64) {
        let step = 1e-2;
        let (up, down) = (
            self.joule(at.t_k + step, at.current_squared),
            self.joule(at.t_k - step, at.current_squared),
        );
        let mode = &self.slow[k];
        let joule: f64 = mode
            .layers
            .iter()
            .zip(up.iter().zip(&down))
            .map(|(l, (a, b))| l * (a - b) / (2.0 * step))
            .sum();
        (joule, mode.axial, -mode.faces)
    }

    /// Curvature of a station, 1/m, from the amplitudes of its slow modes.
    pub fn curvature_per_m(&self, amplitudes: impl Iterator<Item = f64>, at: Station) -> f64 {
        let slow: f64 = self
            .slow
            .iter()
            .zip(amplitudes)
            .map(|(m, b)| m.curvature_per_m * b)
            .sum();
        let joule = self.joule(at.t_k, at.current_squared);
        slow + self.fast.source(&joule, at.second_derivative, at.face_flux)
    }
}

/// Joule heat per volume of each layer, W/m^3: (I R')^2 / r_i.
fn joule_per_volume(laws: &StripLaws, t_k: f64, current_squared: f64) -> Vec<f64> {
    let Line { resistance, .. } = laws.line(t_k);
    let field_squared = current_squared * resistance * resistance;
    laws.layers
        .iter()
        .filter(|l| l.thickness_m > 0.0)
        .map(|l| field_squared / l.alloy.resistivity.at(t_k))
        .collect()
}

/// Curvature (1/m) and spread (K) that the difference in Joule heat alone would make if it were steady.
pub fn quasi_steady_across(laws: &StripLaws, t_k: f64, current_squared: f64) -> (f64, f64) {
    quasi_steady(
        &across_layers(laws, t_k),
        &joule_per_volume(laws, t_k, current_squared),
    )
}

fn across_layers(laws: &StripLaws, t_k: f64) -> Vec<AcrossLayer> {
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
                modulus_pa: section.modulus_pa,
                expansion_per_k: laws.strain_slope(layer, t_k),
            }
        })
        .collect()
}
