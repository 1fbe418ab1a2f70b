//! What all units of one design share when they are computed side by side: the grid of unit length,
//! the laws of the alloys at a few temperatures, and the rules that make polynomials of them.
//!
//! The laws of a unit are one polynomial each over the temperatures that matter, however many
//! corners its tables have: what that costs is measured against the nominal unit's exact run, not
//! assumed.

use super::fit::{Rule, SAMPLES};
use super::unit::{MOST_LAYERS, Unit, convection_scale_m};
use crate::device::cooling::FilmFit;
use crate::device::{Device, Fineness, Grid};
use crate::scenario::Convection;

/// Relative size of what is dropped from a polynomial.
const DROPPED: f64 = 2e-8;
/// Most terms of a polynomial. Over the corners of a table nine leave so much that units of 5 %
/// scatter came out 5e-3 beside their own answers.
const MOST_TERMS: usize = 16;
/// Range of push points covered about the nominal one, as a part of the length.
const PUSH_REACH: f64 = 0.08;
/// Push points between which weights are interpolated.
const PUSH_POINTS: usize = 6;

/// The laws of one layer at the sampling temperatures.
#[derive(Debug, Clone)]
pub(in crate::device) struct LayerSamples {
    /// Heat capacity per volume, J/(m^3 K).
    pub capacity: [f64; SAMPLES],
    /// Conductivity, W/(m K).
    pub conductivity: [f64; SAMPLES],
    /// Conductivity for current, S/m.
    pub conductance: [f64; SAMPLES],
    /// Modulus that bends with heat, Pa.
    pub modulus: [f64; SAMPLES],
    /// Modulus against forces, Pa.
    pub force_modulus: [f64; SAMPLES],
    /// Thermal strain.
    pub strain: [f64; SAMPLES],
}

/// Polynomial terms kept for each law.
#[derive(Debug, Clone, Copy)]
pub(in crate::device) struct Terms {
    pub capacity: usize,
    pub conduction: usize,
    pub resistance: usize,
    pub curvature: usize,
    pub flexibility: usize,
}

/// The shared part of units computed side by side.
#[derive(Debug, Clone)]
pub struct Sheet {
    /// Lowest temperature covered, K.
    pub low_k: f64,
    /// Highest temperature covered, K.
    pub high_k: f64,
    /// Nodes of the strip.
    pub nodes: usize,
    /// Integration weights of a strip of unit length.
    pub(in crate::device) weight: Vec<f64>,
    /// Stiffness matrix of a strip of unit length, by rows: first column and entries.
    pub(in crate::device) stiffness: Vec<(usize, Vec<f64>)>,
    /// Push points (parts of the length) and, for each, the weights of curvature in the deflection
    /// and of flexibility in the compliance of a strip of unit length.
    pub(in crate::device) push: Vec<(f64, Vec<f64>, Vec<f64>)>,
    pub(in crate::device) layers: Vec<LayerSamples>,
    pub(in crate::device) terms: Terms,
    /// Makes powers of samples: row `power` of `SAMPLES` numbers.
    pub(in crate::device) powers: Vec<[f64; SAMPLES]>,
    pub(in crate::device) film: FilmFit,
    /// Length scale of the convection law the film fit was made for, m.
    pub(in crate::device) scale_m: Option<f64>,
    pub(in crate::device) convection: Convection,
    /// Fastest rate of the nominal unit times the square of its length over its diffusivity.
    pub(in crate::device) fastest_part: f64,
    pub(in crate::device) nominal: Unit,
    pub(in crate::device) has_winding: bool,
    pub(in crate::device) has_housing: bool,
}

impl Sheet {
    /// Sheet of a device on a grid for temperatures of the strip within a range; `None` for a kind
    /// of device that cannot be computed side by side.
    pub fn new(device: &Device, fineness: Fineness, low_k: f64, high_k: f64) -> Option<Sheet> {
        let nominal = Unit::of(device)?;
        let wide = device.film.as_ref()?;
        let (low_k, high_k) = (low_k.max(device.fit.low_k), high_k.min(device.fit.high_k));
        let grid = Grid::new(
            1.0,
            Fineness {
                end_element_m: fineness.end_element_m / device.length_m,
                ..fineness
            },
        );
        let rule = Rule::new();
        let (middle, half) = (0.5 * (low_k + high_k), 0.5 * (high_k - low_k));
        let temperatures = rule.nodes.map(|z| middle + half * z);
        let layers = layer_samples(device, &temperatures);
        let count =
            |samples: [f64; SAMPLES]| rule.monomials(&samples, DROPPED).len().min(MOST_TERMS);
        let line = |f: fn(&crate::device::Line) -> f64| {
            count(temperatures.map(|t| f(&device.laws.line(t))))
        };
        let terms = Terms {
            capacity: line(|l| l.capacity),
            conduction: line(|l| l.conduction),
            resistance: line(|l| l.resistance),
            curvature: count(temperatures.map(|t| device.laws.bend(t).curvature_per_m)),
            flexibility: count(temperatures.map(|t| 1.0 / device.laws.bend(t).stiffness_n_m2)),
        };
        let mut powers = vec![[0.0; SAMPLES]; MOST_TERMS];
        rule.power_rows(&mut powers);
        let model = device.on(fineness);
        let mid = device.laws.line(middle);
        let diffusivity = mid.conduction / mid.capacity;
        Some(Sheet {
            low_k,
            high_k,
            nodes: grid.len(),
            stiffness: stiffness_rows(&grid),
            push: push_weights(&grid, nominal.push_part),
            weight: grid.weight_m,
            layers,
            terms,
            powers,
            film: wide.narrowed(low_k, high_k),
            scale_m: convection_scale_m(device.cooling.convection(), &nominal),
            convection: device.cooling.convection(),
            fastest_part: model.fastest_per_s()? * device.length_m.powi(2) / diffusivity,
            nominal,
            has_winding: nominal.winding.is_some(),
            has_housing: nominal.housing.is_some(),
        })
    }

    /// The unit that the device itself is.
    pub fn nominal(&self) -> &Unit {
        &self.nominal
    }

    /// Unknowns of one unit: nodes, fixed contact, winding, housing.
    pub fn unknowns(&self) -> usize {
        self.nodes + 1 + usize::from(self.has_winding) + usize::from(self.has_housing)
    }

    /// Places of fixed contact, winding and housing among the unknowns of one unit; a missing one
    /// has the place of what follows it.
    pub(in crate::device) fn lumped(&self) -> [usize; 3] {
        let winding = self.nodes + 1;
        [self.nodes, winding, winding + usize::from(self.has_winding)]
    }

    /// First unknown on which each depends: within its element, the moving contact for the fixed
    /// one, all for winding and housing.
    pub fn first_columns(&self) -> Vec<usize> {
        let strip = self.stiffness.iter().map(|(first, _)| *first);
        let fixed = std::iter::once(self.nodes - 1);
        let mut first: Vec<usize> = strip.chain(fixed).collect();
        first.resize(self.unknowns(), 0);
        first
    }

    /// Whether a unit can be computed on this sheet.
    pub fn serves(&self, unit: &Unit) -> bool {
        let p = unit.push_part;
        unit.winding.is_some() == self.has_winding
            && unit.housing.is_some() == self.has_housing
            && (p == self.nominal.push_part
                || self.push.len() > 1
                    && (p - self.nominal.push_part).abs() <= PUSH_REACH
                    && p <= 1.0)
    }
}

fn layer_samples(device: &Device, temperatures: &[f64; SAMPLES]) -> Vec<LayerSamples> {
    // Units multiply the alloys' own laws by what their coil makes of them.
    let [flexivity, resistivity] = device.laws.coil;
    (0..device.laws.layers.len().min(MOST_LAYERS))
        .map(|i| {
            let a = &device.laws.layers[i].alloy;
            LayerSamples {
                capacity: temperatures.map(|t| a.density.at(t) * a.specific_heat.at(t)),
                conductivity: temperatures.map(|t| a.conductivity.at(t)),
                conductance: temperatures.map(|t| resistivity / a.resistivity.at(t)),
                modulus: temperatures.map(|t| device.laws.thermal_layers(t)[i].modulus_pa),
                force_modulus: temperatures.map(|t| device.laws.force_layers(t)[i].modulus_pa),
                strain: temperatures
                    .map(|t| device.laws.thermal_layers(t)[i].thermal_strain / flexivity),
            }
        })
        .collect()
}

fn stiffness_rows(grid: &Grid) -> Vec<(usize, Vec<f64>)> {
    let n = grid.len();
    let full = grid.stiffness_per_m();
    (0..n)
        .map(|r| {
            let row = &full[r * n..(r + 1) * n];
            let first = row.iter().position(|v| *v != 0.0).unwrap_or(0);
            let last = row.iter().rposition(|v| *v != 0.0).unwrap_or(0);
            (first, row[first..=last].to_vec())
        })
        .collect()
}

/// Weights at the nominal push point and, where others may occur, at points about it.
fn push_weights(grid: &Grid, nominal: f64) -> Vec<(f64, Vec<f64>, Vec<f64>)> {
    let at = |p: f64| {
        (
            p,
            grid.functional(p, |x| p - x),
            grid.functional(p, |x| (p - x).powi(2)),
        )
    };
    let mut all = vec![at(nominal)];
    let (low, high) = (nominal - PUSH_REACH, (nominal + PUSH_REACH).min(1.0));
    for k in 0..PUSH_POINTS {
        let angle = std::f64::consts::PI * (k as f64 + 0.5) / PUSH_POINTS as f64;
        all.push(at(0.5 * (low + high) + 0.5 * (high - low) * angle.cos()));
    }
    all
}
