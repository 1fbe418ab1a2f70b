//! Heat across the layers at every station: a few slow modes are unknowns with their own
//! relaxation, the fast ones follow at once.
//!
//! A station's source in a mode (per unit area) is the Joule heat of each layer at that layer's own
//! temperature, the axial conduction through each layer, and the loss at the two faces. The modes
//! act back on the mean: a hotter copper layer has more resistance and conducts along the strip. At
//! the ends the terminals hold all layers together, so that every mode vanishes there.

use super::fast::fit::USUAL_K;
use super::{Line, StripFit, StripLaws};
use crate::physics::through_thickness::{AcrossLayer, Mode, modes, quasi_steady};
use crate::scenario::Layer;
use nalgebra::DMatrix;
use std::sync::Arc;

/// Slow modes carried as unknowns.
pub(super) const SLOW: usize = 4;
/// Temperature at which the modes are computed, K: half-way to a usual release.
pub(super) const REFERENCE_K: f64 = 350.0;

/// The modes of a strip and what feeds them.
#[derive(Debug, Clone)]
pub struct ThroughLaw {
    pub(super) slow: Vec<Feed>,
    /// Curvature of all fast modes together per unit of each source.
    pub(super) fast: Feed,
    /// What the fast modes add to the mean of layer `i` per W/m^3 in layer `j`, K m^3/W, row-major
    /// by `i`.
    pub(super) fast_mean: Vec<f64>,
    /// Conductivities of the layers for the registers, where there are few enough.
    pub(super) fit: Option<Arc<StripFit>>,
    laws: StripLaws,
}

/// What sources of unit strength feed into a mode, and what the mode does.
#[derive(Debug, Clone, Default)]
pub(super) struct Feed {
    pub(super) rate_per_s: f64,
    pub(super) curvature_per_m: f64,
    /// Source per W/m^3 in each layer.
    pub(super) layers: Vec<f64>,
    /// Mean value over each layer.
    pub(super) layer_mean: Vec<f64>,
    /// Source per K/m^2 of `d^2T/dx^2`; also the axial flux per unit slope of the amplitude and
    /// width.
    pub(super) axial: f64,
    /// Source per unit `d^2b_l/dx^2` of each slow mode.
    pub(super) coupling: Vec<f64>,
    /// Source per W/m^2 lost at each face.
    pub(super) faces: f64,
}

/// One station of the strip.
#[derive(Debug, Clone, Copy)]
pub struct Station<'a> {
    /// Mean temperature, K.
    pub t_k: f64,
    /// Amplitudes of the slow modes.
    pub amplitudes: &'a [f64],
    /// Square of the strip current, A^2.
    pub current_squared: f64,
    /// `d^2T/dx^2` of the mean, K/m^2.
    pub second_derivative: f64,
    /// `d^2b/dx^2` of each slow mode.
    pub mode_second_derivative: &'a [f64],
    /// Flux lost at the faces, W/m^2.
    pub face_flux: f64,
}

/// Joule heat of the layers in parallel, each at its own temperature.
#[derive(Debug, Clone)]
pub struct LayerHeat {
    /// Heat per volume of each layer, W/m^3.
    pub joule_w_per_m3: Vec<f64>,
    /// Resistance per length, ohm/m.
    pub resistance: f64,
    /// What a kelvin more in each layer takes from its own heat in the same field, W/(m^3 K).
    own_slopes: Vec<f64>,
    /// Part by which a kelvin more in each layer raises the common field, 1/K.
    field_slopes: Vec<f64>,
}

impl ThroughLaw {
    /// Modes of a strip.
    pub fn new(laws: &StripLaws) -> ThroughLaw {
        let layers = across_layers(laws, REFERENCE_K);
        let feed = |m: &Mode| Feed {
            rate_per_s: m.rate_per_s,
            curvature_per_m: m.curvature_per_m,
            layers: m.layer_m.clone(),
            layer_mean: m
                .layer_m
                .iter()
                .zip(&layers)
                .map(|(l, a)| l / a.thickness_m)
                .collect(),
            axial: m
                .layer_m
                .iter()
                .zip(&layers)
                .map(|(l, a)| l * a.conductivity_w_per_m_k)
                .sum(),
            coupling: m.coupling.iter().take(SLOW).copied().collect(),
            faces: m.first_face + m.last_face,
        };
        let slow: Vec<Feed> = modes(&layers).iter().take(SLOW).map(feed).collect();
        // All modes at rest are the exact parabolas; what the slow ones leave of them is the fast
        // part.
        let rest = |source: &[f64], fed: &dyn Fn(&Feed) -> f64| {
            let slow_part: f64 = slow
                .iter()
                .map(|m| m.curvature_per_m * fed(m) / m.rate_per_s)
                .sum();
            quasi_steady(&layers, source).curvature_per_m - slow_part
        };
        let unit = |i: usize| {
            (0..layers.len())
                .map(|j| if i == j { 1.0 } else { 0.0 })
                .collect::<Vec<f64>>()
        };
        let conduction: Vec<f64> = layers.iter().map(|l| l.conductivity_w_per_m_k).collect();
        let fast = Feed {
            layers: (0..layers.len())
                .map(|i| rest(&unit(i), &|m| m.layers[i]))
                .collect(),
            axial: rest(&conduction, &|m| m.axial),
            ..Feed::default()
        };
        let n = layers.len();
        let mut fast_mean = vec![0.0; n * n];
        for j in 0..n {
            let exact = quasi_steady(&layers, &unit(j)).layer_mean_k;
            for i in 0..n {
                let slow_part: f64 = slow
                    .iter()
                    .map(|m| m.layer_mean[i] * m.layers[j] / m.rate_per_s)
                    .sum();
                fast_mean[i * n + j] = exact[i] - slow_part;
            }
        }
        ThroughLaw {
            slow,
            fast,
            fast_mean,
            fit: StripFit::of_layers(laws, USUAL_K).map(Arc::new),
            laws: laws.clone(),
        }
    }

    /// The same with the layers' conductivities fitted over other temperatures, K.
    pub(super) fn fitted_over(&self, range_k: (f64, f64)) -> ThroughLaw {
        ThroughLaw {
            fit: StripFit::of_layers(&self.laws, range_k).map(Arc::new),
            ..self.clone()
        }
    }

    /// Modes carried as unknowns at each station.
    pub fn len(&self) -> usize {
        self.slow.len()
    }

    /// Cross sections of the layers, m^2.
    pub(super) fn sections_m2(&self) -> impl Iterator<Item = f64> {
        solid(&self.laws).map(|l| l.thickness_m * self.laws.width_m)
    }

    /// Whether everything follows at once.
    pub fn is_empty(&self) -> bool {
        self.slow.is_empty()
    }

    /// Relaxation rate of mode `k`, 1/s.
    pub fn rate_per_s(&self, k: usize) -> f64 {
        self.slow[k].rate_per_s
    }

    /// Bound of all rates of a strip whose mean evens out along it at this rate, 1/s: the fastest
    /// of the mean and the first modes together at the steepest profile along the strip.
    pub fn fastest_per_s(&self, along_per_s: f64, moving: usize) -> f64 {
        let layers = across_layers(&self.laws, REFERENCE_K);
        let sum = |f: &dyn Fn(&AcrossLayer) -> f64| layers.iter().map(f).sum::<f64>();
        let capacity = sum(&|l| l.thickness_m * l.capacity_j_per_m3_k);
        let mean = sum(&|l| l.thickness_m * l.conductivity_w_per_m_k) / capacity;
        let along = |k: usize, l: usize| match (k, l) {
            (0, 0) => mean,
            (0, m) | (m, 0) => self.slow[m - 1].axial / capacity.sqrt(),
            (k, l) => self.slow[k - 1].coupling[l - 1],
        };
        let rates = DMatrix::from_fn(1 + moving, 1 + moving, |k, l| {
            let relaxes = if k == l && k > 0 {
                self.slow[k - 1].rate_per_s
            } else {
                0.0
            };
            relaxes + along_per_s / mean * along(k, l)
        });
        rates.symmetric_eigenvalues().max()
    }

    /// Axial conduction of the mean by mode `k`: flux per slope of its amplitude, per width.
    pub fn axial(&self, k: usize) -> f64 {
        self.slow[k].axial
    }

    /// Axial conduction in mode `k` by the curvature along the strip of mode `l`.
    pub fn coupling(&self, k: usize, l: usize) -> f64 {
        self.slow[k].coupling[l]
    }

    /// Loss at the faces per source of mode `k`.
    pub fn faces(&self, k: usize) -> f64 {
        self.slow[k].faces
    }

    /// Heat of the layers at a station. The fast modes' share of the layers' temperatures follows
    /// the heat that the slow ones' share makes; its slopes are left out (they are a hundredth of
    /// the others).
    pub fn heat(&self, t_k: f64, amplitudes: &[f64], current_squared: f64) -> LayerHeat {
        let n = self.laws.layers.iter().filter(|l| is_solid(l)).count();
        let mut deviation = vec![0.0; n];
        for (m, b) in self.slow.iter().zip(amplitudes) {
            for (d, mean) in deviation.iter_mut().zip(&m.layer_mean) {
                *d += mean * b;
            }
        }
        if current_squared > 0.0 {
            let mut first = Vec::with_capacity(n);
            self.joule(t_k, &deviation, current_squared, &mut first);
            for (d, row) in deviation.iter_mut().zip(self.fast_mean.chunks_exact(n)) {
                *d += row.iter().zip(&first).map(|(m, q)| m * q).sum::<f64>();
            }
        }
        let mut joule = Vec::with_capacity(n);
        let resistance = self.joule(t_k, &deviation, current_squared, &mut joule);
        let (mut own_slopes, mut field_slopes) = (Vec::with_capacity(n), Vec::with_capacity(n));
        for ((layer, deviation), joule) in solid(&self.laws).zip(&deviation).zip(&joule) {
            let (r, slope) = layer.alloy.resistivity.at_with_slope(t_k + deviation);
            own_slopes.push(joule * slope / r);
            let conductance = layer.thickness_m * self.laws.width_m / r;
            field_slopes.push(conductance * resistance * slope / r);
        }
        LayerHeat {
            joule_w_per_m3: joule,
            resistance,
            own_slopes,
            field_slopes,
        }
    }

    /// Heat of the layers at their own temperatures, W/m^3, and the resistance per length, ohm/m.
    fn joule(
        &self,
        t_k: f64,
        deviation_k: &[f64],
        current_squared: f64,
        joule: &mut Vec<f64>,
    ) -> f64 {
        let mut conductance = 0.0;
        for (layer, deviation) in solid(&self.laws).zip(deviation_k) {
            let r = layer.alloy.resistivity.at(t_k + deviation);
            conductance += layer.thickness_m / r;
            joule.push(1.0 / r);
        }
        let resistance = 1.0 / (self.laws.width_m * conductance);
        let field_squared = current_squared * resistance * resistance;
        joule.iter_mut().for_each(|q| *q *= field_squared);
        resistance
    }

    /// Part by which a kelvin more in the mean (`None`) or a mode's amplitude raises the common
    /// field.
    fn field_slope(&self, heat: &LayerHeat, mode: Option<usize>) -> f64 {
        match mode {
            None => heat.field_slopes.iter().sum(),
            Some(k) => dot(&heat.field_slopes, &self.slow[k].layer_mean),
        }
    }

    /// Slope of the resistance per length against the mean temperature (`None`) or a mode's
    /// amplitude.
    pub fn resistance_slope(&self, heat: &LayerHeat, mode: Option<usize>) -> f64 {
        heat.resistance * self.field_slope(heat, mode)
    }

    /// Slope of mode `k`'s Joule source against the mean temperature (`None`) or mode `l`'s
    /// amplitude.
    pub fn joule_slope(&self, heat: &LayerHeat, k: usize, l: Option<usize>) -> f64 {
        let feed = &self.slow[k].layers;
        let own: f64 = match l {
            None => dot(feed, &heat.own_slopes),
            Some(l) => (feed.iter().zip(&heat.own_slopes))
                .zip(&self.slow[l].layer_mean)
                .map(|((f, s), m)| f * s * m)
                .sum(),
        };
        2.0 * self.joule_source(heat, k) * self.field_slope(heat, l) - own
    }

    /// Joule source of mode `k`.
    pub fn joule_source(&self, heat: &LayerHeat, k: usize) -> f64 {
        dot(&self.slow[k].layers, &heat.joule_w_per_m3)
    }

    /// Source of mode `k` at a station: Joule heat, axial conduction, loss at the faces.
    pub fn source(&self, k: usize, heat: &LayerHeat, at: &Station<'_>) -> f64 {
        let feed = &self.slow[k];
        let coupled = dot(&feed.coupling, at.mode_second_derivative);
        self.joule_source(heat, k) + feed.axial * at.second_derivative + coupled
            - feed.faces * at.face_flux
    }

    /// Curvature of a station, 1/m, from its modes.
    pub fn curvature_per_m(&self, at: &Station<'_>) -> f64 {
        let slow: f64 = self
            .slow
            .iter()
            .zip(at.amplitudes)
            .map(|(m, b)| m.curvature_per_m * b)
            .sum();
        let heat = self.heat(at.t_k, at.amplitudes, at.current_squared);
        slow + dot(&self.fast.layers, &heat.joule_w_per_m3) + self.fast.axial * at.second_derivative
    }
}

fn is_solid(layer: &Layer) -> bool {
    layer.thickness_m > 0.0
}

fn solid(laws: &StripLaws) -> impl Iterator<Item = &Layer> {
    laws.layers.iter().filter(|l| is_solid(l))
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Joule heat per volume of each layer at one temperature, W/m^3: (I R')^2 / r_i.
fn joule_per_volume(laws: &StripLaws, t_k: f64, current_squared: f64) -> Vec<f64> {
    let Line { resistance, .. } = laws.line(t_k);
    let field_squared = current_squared * resistance * resistance;
    solid(laws)
        .map(|l| field_squared / l.alloy.resistivity.at(t_k))
        .collect()
}

/// Curvature (1/m) and spread (K) that the difference in Joule heat alone would make if it were
/// steady.
pub fn quasi_steady_across(laws: &StripLaws, t_k: f64, current_squared: f64) -> (f64, f64) {
    let layers = across_layers(laws, t_k);
    let rest = quasi_steady(&layers, &joule_per_volume(laws, t_k, current_squared));
    (rest.curvature_per_m, rest.spread_k)
}

fn across_layers(laws: &StripLaws, t_k: f64) -> Vec<AcrossLayer> {
    laws.layers
        .iter()
        .zip(laws.thermal_layers(t_k))
        .filter(|(l, _)| is_solid(l))
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
