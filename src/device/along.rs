//! The heat equation with the nodes of one strip side by side in registers: the fast right-hand side.
//!
//! It is the same discretisation as [`Plant`](super::Plant), with the laws taken from their fits. The lumped
//! nodes stand in the same registers as the strip's, so that a state is one row of numbers. Devices whose
//! heat across the layers is resolved, or whose surface law has no short form, go the general way.

use super::build::winding_resistance;
use super::cooling::FilmFit;
use super::drive::{Drive, Phase};
use super::fit::Fitted;
use super::station::{Surface, place};
use super::{Grid, Layout, Model};
use crate::scenario::ShuntNode;
use crate::solve::Flow;
use crate::solve::wide::{Wide, lanes, registers, registers_mut, splat};
use pulp::Simd;

/// What the fast right-hand side needs of a model, padded to full registers.
#[derive(Debug, Clone)]
pub struct AlongParts {
    /// Numbers in a state.
    pub len: usize,
    /// Numbers in a register when this was built.
    lanes: usize,
    /// 1 at the nodes of the strip.
    strip: Vec<f64>,
    pub(super) weight_m: Vec<f64>,
    /// Heat capacity besides the strip's, J/K; 1 in the padding.
    lumped_j_per_k: Vec<f64>,
    clamped: Vec<f64>,
    moving: Vec<f64>,
    fixed: Vec<f64>,
    winding: Vec<f64>,
    housing: Vec<f64>,
    /// Stiffness matrix by register of rows.
    pub(super) stiffness: Vec<RowBlock>,
    /// Fastest rate of the heat equation, 1/s.
    pub fastest_per_s: f64,
    film: FilmFit,
}

/// The columns of the stiffness matrix that reach one register of rows.
#[derive(Debug, Clone)]
pub(super) struct RowBlock {
    pub(super) first: usize,
    columns: usize,
    /// One register of entries a column, 1/m.
    pub(super) entries: Vec<f64>,
}

impl AlongParts {
    /// Parts of a model; `None` when it has to go the general way.
    pub fn new(device: &super::Device, grid: &Grid, layout: &Layout) -> Option<AlongParts> {
        let film = device.film.clone()?;
        if device.through.is_some() {
            return None;
        }
        let lanes = lanes();
        let len = layout.len.div_ceil(lanes) * lanes;
        let at = |i: Option<usize>| {
            let mut v = vec![0.0; len];
            if let Some(i) = i {
                v[i] = 1.0;
            }
            v
        };
        let n = layout.strip;
        let pad = |x: &[f64]| {
            let mut v = x.to_vec();
            v.resize(len, 0.0);
            v
        };
        let mut lumped = vec![0.0; len];
        lumped[layout.len..].fill(1.0);
        lumped[0] = device.clamped.heat_capacity_j_per_k;
        lumped[n - 1] = device.moving.heat_capacity_j_per_k;
        lumped[layout.fixed] = device.fixed.heat_capacity_j_per_k;
        if let (Some(i), Some(w)) = (layout.winding, &device.winding) {
            lumped[i] = w.heat_capacity_j_per_k;
        }
        if let (Some(i), Some(h)) = (layout.housing, &device.housing) {
            lumped[i] = h.heat_capacity_j_per_k;
        }
        let stiffness = stiffness(grid, lanes, len);
        let mut parts = AlongParts {
            len,
            lanes,
            strip: pad(&vec![1.0; n]),
            weight_m: pad(&grid.weight_m),
            lumped_j_per_k: lumped,
            clamped: at(Some(0)),
            moving: at(Some(n - 1)),
            fixed: at(Some(layout.fixed)),
            winding: at(layout.winding),
            housing: at(layout.housing),
            stiffness,
            fastest_per_s: 0.0,
            film,
        };
        parts.fastest_per_s = parts.fastest(device, n);
        Some(parts)
    }

    /// Lowest and highest temperature of the strip that the fits cover when the air has this temperature, K.
    pub(super) fn range_k(&self, device: &super::Device, air_k: f64) -> (f64, f64) {
        let (low, high) = self.film.range_k();
        (
            device.fit.low_k.max(2.0 * low - air_k),
            device.fit.high_k.min(2.0 * high - air_k),
        )
    }

    /// Largest eigenvalue of conduction against heat capacity, with a margin for the laws' spread over
    /// temperature. By the power method; a margin covers what it has not reached.
    fn fastest(&self, device: &super::Device, n: usize) -> f64 {
        let line = device.laws.line(350.0);
        let mass: Vec<f64> = (0..n)
            .map(|j| self.weight_m[j] * line.capacity + self.lumped_j_per_k[j])
            .collect();
        let mut x: Vec<f64> = (0..n)
            .map(|j| if j % 2 == 0 { 1.0 } else { -0.9 })
            .collect();
        let mut rate = 0.0;
        for _ in 0..30 {
            let mut flow = vec![0.0; n];
            for (block, rows) in self.stiffness.iter().zip(0..) {
                for c in 0..block.columns {
                    let column = &block.entries[c * self.lanes..(c + 1) * self.lanes];
                    for (k, entry) in column.iter().enumerate() {
                        let r: usize = rows * self.lanes + k;
                        if r < n {
                            flow[r] += entry * x[block.first + c] * line.conduction;
                        }
                    }
                }
            }
            // Rayleigh's quotient: from below, and quadratically near.
            let (mut up, mut down) = (0.0, 0.0);
            for j in 0..n {
                up += x[j] * flow[j];
                down += x[j] * x[j] * mass[j];
            }
            if !(up > 0.0) {
                return 0.0;
            }
            rate = up / down;
            let norm = down.sqrt() * rate;
            x = flow
                .iter()
                .zip(&mass)
                .map(|(f, m)| f / (m * norm))
                .collect();
        }
        let around = line.conduction / line.capacity;
        let spread = [250.0, 450.0]
            .map(|t| {
                let l = device.laws.line(t);
                l.conduction / l.capacity / around
            })
            .into_iter()
            .fold(1.0, f64::max);
        1.03 * rate * spread
    }
}

/// The stiffness matrix `integral phi_r' phi_c' dx` by registers of rows.
fn stiffness(grid: &Grid, lanes: usize, len: usize) -> Vec<RowBlock> {
    let n = grid.len();
    let p = grid.order + 1;
    let mut full = vec![0.0; n * n];
    for e in &grid.elements {
        for q in 0..p {
            let row = &e.derivative_per_m[q * p..(q + 1) * p];
            for (r, a) in row.iter().enumerate() {
                for (c, b) in row.iter().enumerate() {
                    full[(e.first + r) * n + e.first + c] += a * e.weight_m[q] * b;
                }
            }
        }
    }
    (0..len / lanes)
        .map(|block| {
            let rows = (block * lanes).min(n)..((block + 1) * lanes).min(n);
            let touches = |c: usize| rows.clone().any(|r| full[r * n + c] != 0.0);
            let first = (0..n).find(|c| touches(*c)).unwrap_or(0);
            let last = (0..n).rev().find(|c| touches(*c));
            let columns = last.map_or(0, |l| l + 1 - first);
            let mut entries = vec![0.0; columns * lanes];
            for r in rows.clone() {
                for c in 0..columns {
                    entries[c * lanes + r - rows.start] = full[r * n + first + c];
                }
            }
            RowBlock {
                first,
                columns,
                entries,
            }
        })
        .collect()
}

/// One strip under a drive, in registers.
pub struct Along<'a, S: Simd> {
    pub(super) simd: S,
    /// The device on its grid.
    pub model: &'a Model,
    pub(super) parts: &'a AlongParts,
    /// What drives it.
    pub drive: Drive,
    pub(super) constant: bool,
    /// Conductance from the winding per length of strip, W/(m K).
    per_length: f64,
    has_winding: bool,
    has_housing: bool,
    has_shunt: bool,
    theta: Vec<f64>,
    pub(super) mass: Vec<f64>,
    pub(super) rates_here: Vec<f64>,
    pub(super) slopes: SlopeScratch,
}

/// Slopes of the terms of the equation at every node.
#[derive(Default)]
pub(super) struct SlopeScratch {
    pub(super) inverse_mass: Vec<f64>,
    pub(super) diagonal: Vec<f64>,
    pub(super) conduction: Vec<f64>,
    pub(super) resistance: Vec<f64>,
    pub(super) loss: Vec<f64>,
    pub(super) against_air: Vec<f64>,
}

impl SlopeScratch {
    fn new(len: usize) -> SlopeScratch {
        let zero = || vec![0.0; len];
        SlopeScratch {
            inverse_mass: zero(),
            diagonal: zero(),
            conduction: zero(),
            resistance: zero(),
            loss: zero(),
            against_air: zero(),
        }
    }
}

/// Lumped flows of one moment, W.
struct Lumped {
    clamped: f64,
    moving: f64,
    fixed: f64,
    winding: f64,
    housing: f64,
}

impl<'a, S: Simd> Along<'a, S> {
    /// A model under a drive; `None` when the model has no fast form.
    pub fn new(simd: S, model: &'a Model, drive: Drive) -> Option<Along<'a, S>> {
        let parts = model.along.as_ref()?;
        (parts.lanes == S::F64_LANES).then(|| Along {
            simd,
            model,
            parts,
            drive,
            constant: drive.current.is_constant() && drive.ambient.slope_k_per_s == 0.0,
            per_length: model.device.winding.map_or(0.0, |w| {
                w.conductance_to_strip_w_per_k / model.device.length_m
            }),
            has_winding: model.device.winding.is_some(),
            has_housing: model.device.housing.is_some(),
            has_shunt: model.device.shunt_heat_to.is_some(),
            theta: vec![0.0; parts.len],
            mass: vec![0.0; parts.len],
            rates_here: vec![0.0; parts.len],
            slopes: SlopeScratch::new(parts.len),
        })
    }

    pub(super) fn surface(&self) -> Surface<'a> {
        let cooling = &self.model.device.cooling;
        Surface {
            film: &self.parts.film,
            perimeter_m: cooling.perimeter_m,
            emissivity: cooling.emissivity(),
        }
    }

    #[inline(always)]
    pub(super) fn state(&self, y: &[f64], s: usize) -> Wide<S> {
        Wide::of(self.simd, registers::<S>(y)[s])
    }

    #[inline(always)]
    pub(super) fn part(&self, x: &[f64], s: usize) -> Wide<S> {
        Wide::of(self.simd, registers::<S>(x)[s])
    }

    /// Temperatures of one register, at which the laws are evaluated: the lumped nodes and the padding are
    /// given the clamped end's, so that they do not lead out of the fits.
    #[inline(always)]
    pub(super) fn strip_temperature(&self, y: &[f64], s: usize) -> Wide<S> {
        let base = splat(self.simd, y[0]);
        (self.state(y, s) - base).times_plus(self.part(&self.parts.strip, s), base)
    }

    #[inline(always)]
    pub(super) fn rates_at(&mut self, t: f64, y: &[f64], dy: &mut [f64]) {
        let (i, _) = self.drive.current(t);
        self.rates_with(i * i, self.drive.ambient_k(t), y, dy);
    }

    /// Rates under a square of the current and an ambient.
    #[inline(always)]
    pub(super) fn rates_with(&mut self, squared: f64, ambient: f64, y: &[f64], dy: &mut [f64]) {
        let simd = self.simd;
        let model = self.model;
        let (d, l) = (&model.device, &model.layout);
        let share = d.current_share;
        let strip_squared = splat(simd, squared * share * share);
        let air = l.housing.map_or(ambient, |h| y[h]);
        let surface = self.surface();
        let slots = self.parts.len / S::F64_LANES;
        let (mut to_air, mut resistance, mut from_winding) =
            (splat(simd, 0.0), splat(simd, 0.0), splat(simd, 0.0));
        let winding_k = if self.has_winding {
            l.winding.map_or(0.0, |w| y[w])
        } else {
            0.0
        };
        for s in 0..slots {
            let t_k = self.strip_temperature(y, s);
            let at = place(simd, &d.fit, t_k);
            let capacity = at.value(simd, &d.fit, Fitted::Capacity);
            let ohm = at.value(simd, &d.fit, Fitted::Resistance);
            let theta = at.value(simd, &d.fit, Fitted::Conduction);
            registers_mut::<S>(&mut self.theta)[s] = theta.raw();
            let loss = surface.loss(simd, t_k, splat(simd, air));
            let w = self.part(&self.parts.weight_m, s);
            let mut gain = strip_squared.times_plus(ohm, -loss);
            if self.has_housing {
                to_air = loss.times_plus(w, to_air);
            }
            if self.has_shunt {
                resistance = ohm.times_plus(w, resistance);
            }
            if self.has_winding {
                let q = (splat(simd, winding_k) - t_k) * splat(simd, self.per_length);
                gain = gain + q;
                from_winding = q.times_plus(w, from_winding);
            }
            registers_mut::<S>(dy)[s] = (gain * w).raw();
            registers_mut::<S>(&mut self.mass)[s] = capacity
                .times_plus(w, self.part(&self.parts.lumped_j_per_k, s))
                .raw();
        }
        let lumped = self.lumped(y, squared, ambient, air, || {
            (to_air.sum(), resistance.sum(), from_winding.sum())
        });
        for s in 0..slots {
            let mut flow = self.state(dy, s);
            let block = &self.parts.stiffness[s];
            let (mut even, mut odd) = (splat(simd, 0.0), splat(simd, 0.0));
            let columns = registers::<S>(&block.entries);
            let theta = &self.theta[block.first..block.first + block.columns];
            let mut pairs = columns.chunks_exact(2).zip(theta.chunks_exact(2));
            for (k, x) in &mut pairs {
                even = Wide::of(simd, k[0]).times_plus(splat(simd, x[0]), even);
                odd = Wide::of(simd, k[1]).times_plus(splat(simd, x[1]), odd);
            }
            if block.columns % 2 == 1 {
                let c = block.columns - 1;
                even = Wide::of(simd, columns[c]).times_plus(splat(simd, theta[c]), even);
            }
            let p = self.parts;
            flow = self
                .part(&p.clamped, s)
                .times_plus(splat(simd, lumped.clamped), flow);
            flow = self
                .part(&p.moving, s)
                .times_plus(splat(simd, lumped.moving), flow);
            flow = self
                .part(&p.fixed, s)
                .times_plus(splat(simd, lumped.fixed), flow);
            if self.has_winding {
                flow = self
                    .part(&p.winding, s)
                    .times_plus(splat(simd, lumped.winding), flow);
            }
            if self.has_housing {
                flow = self
                    .part(&p.housing, s)
                    .times_plus(splat(simd, lumped.housing), flow);
            }
            flow = flow - (even + odd);
            let mass = self.state(&self.mass, s);
            registers_mut::<S>(dy)[s] = (flow / mass).raw();
        }
    }

    /// Flows into the lumped nodes; `sums` gives the strip's loss to the air, its resistance and what the
    /// winding gives it, when they are needed.
    #[inline(always)]
    fn lumped(
        &self,
        y: &[f64],
        squared: f64,
        ambient: f64,
        air: f64,
        sums: impl FnOnce() -> (f64, f64, f64),
    ) -> Lumped {
        let (d, l) = (&self.model.device, &self.model.layout);
        let n = l.strip;
        let (moving_k, fixed_k) = (y[n - 1], y[l.fixed]);
        let moving_loss = d.moving.conductance_w_per_k * (moving_k - air);
        let mut flow = Lumped {
            clamped: squared * d.clamped.resistance_ohm
                - d.clamped.conductance_w_per_k * (y[0] - ambient),
            moving: -moving_loss,
            fixed: -d.fixed.conductance_w_per_k * (fixed_k - ambient),
            winding: 0.0,
            housing: 0.0,
        };
        if self.drive.phase == Phase::Closed {
            let half = 0.5 * squared * d.contact.resistance_ohm;
            let (conductance, _) = d.contact.conductance(moving_k, fixed_k);
            let across = conductance * (moving_k - fixed_k);
            flow.moving += half - across;
            flow.fixed += half + across;
        }
        if !(self.has_winding || self.has_housing || self.has_shunt) {
            return flow;
        }
        let (mut to_air, resistance, from_winding) = sums();
        to_air += moving_loss;
        if let (Some(iw), Some(w)) = (l.winding, &d.winding) {
            let loss = w.conductance_to_air_w_per_k * (y[iw] - air);
            to_air += loss;
            flow.winding = squared * winding_resistance(w, y[iw]).0 - from_winding - loss;
        }
        if let (Some(ih), Some(h)) = (l.housing, &d.housing) {
            flow.housing = to_air - h.conductance_w_per_k * (y[ih] - ambient);
        }
        let shunt = squared * d.current_share * (1.0 - d.current_share) * resistance;
        match d.shunt_heat_to {
            None => {}
            Some(ShuntNode::ClampedTerminal) => flow.clamped += shunt,
            Some(ShuntNode::MovingContact) => flow.moving += shunt,
            Some(ShuntNode::Housing) => flow.housing += shunt,
        }
        flow
    }
}

impl<S: Simd> Flow<S> for Along<'_, S> {
    fn len(&self) -> usize {
        self.parts.len
    }

    #[inline(always)]
    fn rates(&mut self, t: Wide<S>, y: &[f64], dy: &mut [f64]) {
        let t = if self.constant { 0.0 } else { t.range().1 };
        self.rates_at(t, y, dy);
    }

    fn unknowns(&self) -> usize {
        self.model.layout.len
    }

    fn fastest_per_s(&self) -> f64 {
        self.parts.fastest_per_s
    }

    fn reference(&self) -> Wide<S> {
        splat(self.simd, self.drive.ambient.value_k)
    }
}
