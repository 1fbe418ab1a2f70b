//! Heat across the layers in the march: which currents need it, and its explicit steps.
//!
//! A strong current leaves no time for heat to settle across the layers, and its trip is over before the
//! equation becomes stiff: explicit steps serve it. A weak one heats all layers alike to the accuracy of the
//! model, so that one temperature a section serves it once the modes left by a stronger one have decayed.

use super::fast::by_difference;
use super::{Drive, Gauge, Model, Phase, Plant};
use crate::solve::wide::{Row, Wide};
use crate::solve::{Distance, Flow, ProfileMatrix, StiffFlow, System};
use pulp::Simd;

/// Decay of the slowest mode that is waited for, in its own time constants: a three-thousandth is left.
const SETTLED: f64 = 8.0;

impl Model {
    /// The same grid with one temperature a section, where a drive is too weak to need more.
    pub fn one_temperature(&self, drive: &Drive) -> Option<&Model> {
        let uniform = self.uniform_model.as_deref()?;
        let highest_a = match drive.phase {
            Phase::Closed => drive.current.highest_a(),
            Phase::Open => 0.0,
        };
        let squared = (self.device.current_share * highest_a).powi(2);
        (squared < self.device.across_from_a2).then_some(uniform)
    }

    /// Time that the modes across the layers take to decay, s.
    pub fn across_settles_s(&self) -> f64 {
        match &self.device.through {
            Some(through) if !through.is_empty() => SETTLED / through.rate_per_s(0),
            _ => 0.0,
        }
    }

    /// A state of one temperature a section as a state of this model.
    pub fn widened(&self, mut y: Vec<f64>) -> Vec<f64> {
        y.resize(self.layout.len, 0.0);
        y
    }
}

/// How the march sees a state: an amplitude is counted from the ambient and in kelvin, so that its errors weigh
/// like those of a temperature.
#[derive(Clone, Copy)]
struct Packing {
    kelvin: f64,
    reference_k: f64,
    modes: usize,
}

impl Packing {
    fn pack(&self, y: &[f64], out: &mut [f64]) {
        out[..y.len()].copy_from_slice(y);
        for v in &mut out[self.modes..y.len()] {
            *v = *v / self.kelvin + self.reference_k;
        }
        out[y.len()..].fill(self.reference_k);
    }

    fn unpack(&self, packed: &[f64], y: &mut [f64]) {
        y.copy_from_slice(&packed[..y.len()]);
        for v in &mut y[self.modes..] {
            *v = (*v - self.reference_k) * self.kelvin;
        }
    }

    /// A slope of the state; nothing is added to it.
    fn pack_slope(&self, dy: &[f64], out: &mut [f64]) {
        out[..dy.len()].copy_from_slice(dy);
        for v in &mut out[self.modes..dy.len()] {
            *v /= self.kelvin;
        }
        out[dy.len()..].fill(0.0);
    }
}

/// The heat equation with its modes across the layers, for the march.
pub struct Across<'a, S> {
    simd: S,
    plant: Plant<'a>,
    packing: Packing,
    len: usize,
    fastest_per_s: f64,
    y: Vec<f64>,
    dy: Vec<f64>,
}

impl<'a, S: Simd> Across<'a, S> {
    /// Of a model whose heat across the layers is resolved.
    pub fn new(simd: S, model: &'a Model, drive: Drive) -> Option<Across<'a, S>> {
        let through = model.device.through.as_ref()?;
        let along_per_s = model.uniform_model.as_ref()?.fastest_per_s()?;
        let unknowns = model.layout.len;
        Some(Across {
            simd,
            plant: Plant { model, drive },
            packing: Packing {
                kelvin: model.device.laws.capacity_per_area(350.0).sqrt(),
                reference_k: drive.ambient.value_k,
                modes: model.layout.modes,
            },
            len: unknowns.div_ceil(S::F64_LANES) * S::F64_LANES,
            fastest_per_s: through.fastest_per_s(along_per_s),
            y: vec![0.0; unknowns],
            dy: vec![0.0; unknowns],
        })
    }

    /// The state as the march sees it.
    pub fn pack(&self, y: &[f64]) -> Row {
        let mut out = Row::zeros(self.len);
        self.packing.pack(y, &mut out);
        out
    }

    /// The march's state as the model's.
    pub fn unpack(&self, packed: &[f64], y: &mut [f64]) {
        self.packing.unpack(packed, y);
    }

    /// Distance from an event.
    pub fn distance(&self, gauge: Gauge) -> AcrossDistance<'a> {
        AcrossDistance {
            plant: Plant { ..self.plant },
            packing: self.packing,
            gauge,
        }
    }
}

impl<S: Simd> Flow<S> for Across<'_, S> {
    fn len(&self) -> usize {
        self.len
    }

    fn unknowns(&self) -> usize {
        self.y.len()
    }

    fn rates(&mut self, t: Wide<S>, y: &[f64], dy: &mut [f64]) {
        self.packing.unpack(y, &mut self.y);
        self.plant.rhs(t.range().0, &self.y, &mut self.dy);
        self.packing.pack_slope(&self.dy, dy);
    }

    fn reference(&self) -> Wide<S> {
        Wide::splat(self.simd, self.packing.reference_k)
    }

    fn fastest_per_s(&self) -> f64 {
        self.fastest_per_s
    }
}

impl<S: Simd> StiffFlow<S> for Across<'_, S> {
    fn implicit_from(&self) -> f64 {
        // The inverse of so large a matrix is dearer than the band of the general way.
        f64::INFINITY
    }

    fn jacobian_columns(&mut self, t: f64, y: &[f64], columns: &mut [f64]) {
        self.packing.unpack(y, &mut self.y);
        let mut jacobian = ProfileMatrix::zeros(self.plant.shape());
        self.plant.jacobian(t, &self.y, &mut jacobian);
        let n = self.y.len();
        let kelvin = |i: usize| {
            if i < self.packing.modes {
                1.0
            } else {
                self.packing.kelvin
            }
        };
        for (c, column) in columns.chunks_exact_mut(self.len).enumerate() {
            column.fill(0.0);
            for (r, v) in column[..n].iter_mut().enumerate() {
                *v = jacobian.get(r, c) * kelvin(c) / kelvin(r);
            }
        }
    }

    fn time_slope(&mut self, t: f64, y: &[f64], dfdt: &mut [f64]) -> bool {
        self.packing.unpack(y, &mut self.y);
        self.dy.fill(0.0);
        self.plant.time_slope(t, &self.y, &mut self.dy);
        self.packing.pack_slope(&self.dy, dfdt);
        self.dy.iter().any(|v| *v != 0.0)
    }
}

/// Distance from an event where heat across the layers is resolved.
pub struct AcrossDistance<'a> {
    plant: Plant<'a>,
    packing: Packing,
    gauge: Gauge,
}

impl Distance for AcrossDistance<'_> {
    fn value_and_rate(&mut self, t: f64, y: &[f64], dy: &[f64]) -> (f64, f64) {
        let mut state = vec![0.0; self.plant.model.layout.len];
        by_difference(y, dy, |after_s, y| {
            self.packing.unpack(y, &mut state);
            self.plant.distance_m(self.gauge, t + after_s, &state)
        })
    }
}
