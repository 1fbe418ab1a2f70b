//! The heat equation with the nodes of one strip side by side in registers: the fast right-hand side.
//!
//! It is the same discretisation as [`Plant`](crate::device::Plant), with the laws taken from their fits. The lumped
//! nodes stand in the same registers as the strip's, so that a state is one row of numbers. Devices whose
//! heat across the layers is resolved go the general way.

use super::fit::{Fitted, GROUP};
use super::station::{Located, OnePiece, Place, Surface};
use crate::device::build::winding_resistance;
use crate::device::cooling::FilmFit;
use crate::device::drive::{Drive, Phase};
use crate::device::{Grid, Layout, Model};
use crate::scenario::ShuntNode;
use crate::solve::Flow;
use crate::solve::wide::{Row, Wide, lanes, registers, registers_mut, splat, vectorized};
use pulp::Simd;

/// What the fast right-hand side needs of a model, padded to full registers.
#[derive(Debug, Clone)]
pub struct AlongParts {
    /// Numbers in a state.
    pub len: usize,
    /// Numbers in a register when this was built.
    lanes: usize,
    /// By register of the state, `CONSTANTS` registers each.
    constants: Row,
    pub(in crate::device) weight_m: Row,
    /// Stiffness matrix by register of rows.
    pub(in crate::device) stiffness: Vec<RowBlock>,
    /// Fastest rate of the heat equation, 1/s.
    pub fastest_per_s: f64,
    film: Option<FilmFit>,
}

/// Constants of one register of the state: 1 at the nodes of the strip; weight, m; heat capacity besides the
/// strip's, J/K (1 in the padding); 1 at the clamped terminal, the moving and the fixed contact, the winding
/// and the housing.
const CONSTANTS: usize = 8;

/// The columns of the stiffness matrix that reach one register of rows.
#[derive(Debug, Clone)]
pub(in crate::device) struct RowBlock {
    pub(in crate::device) first: usize,
    pub(in crate::device) columns: usize,
    /// One register of entries a column, 1/m.
    pub(in crate::device) entries: Row,
}

impl AlongParts {
    /// Parts of a model; `None` when it has to go the general way.
    pub fn new(device: &crate::device::Device, grid: &Grid, layout: &Layout) -> Option<AlongParts> {
        let film = device.film.clone();
        if device.through.is_some() {
            return None;
        }
        let lanes = lanes();
        let len = layout.len.div_ceil(lanes) * lanes;
        let at = |i: Option<usize>| {
            let mut v = Row::zeros(len);
            if let Some(i) = i {
                v[i] = 1.0;
            }
            v
        };
        let n = layout.strip;
        let pad = |x: &[f64]| Row::padded(x, len);
        let mut lumped = Row::zeros(len);
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
        let rows = [
            pad(&vec![1.0; n]),
            pad(&grid.weight_m),
            lumped.clone(),
            at(Some(0)),
            at(Some(n - 1)),
            at(Some(layout.fixed)),
            at(layout.winding),
            at(layout.housing),
        ];
        let mut constants = Row::zeros(CONSTANTS * len);
        for (slot, out) in constants.chunks_exact_mut(CONSTANTS * lanes).enumerate() {
            for (row, out) in rows.iter().zip(out.chunks_exact_mut(lanes)) {
                out.copy_from_slice(&row[slot * lanes..(slot + 1) * lanes]);
            }
        }
        let mut parts = AlongParts {
            len,
            lanes,
            constants,
            weight_m: pad(&grid.weight_m),
            stiffness,
            fastest_per_s: 0.0,
            film,
        };
        parts.fastest_per_s = parts.fastest(device, &lumped[..n]);
        Some(parts)
    }

    /// Lowest and highest temperature of the strip that the fits cover when the air has this temperature, K.
    pub(in crate::device) fn range_k(
        &self,
        device: &crate::device::Device,
        air_k: f64,
    ) -> (f64, f64) {
        // Where the law has no short form, it is the law itself and good at any temperature.
        let (low, high) = self
            .film
            .as_ref()
            .map_or((f64::NEG_INFINITY, f64::INFINITY), FilmFit::range_k);
        (
            device.fit.low_k.max(2.0 * low - air_k),
            device.fit.high_k.min(2.0 * high - air_k),
        )
    }

    /// Largest eigenvalue of conduction against heat capacity, with a margin for the laws' spread over
    /// temperature. By the power method; a margin covers what it has not reached.
    fn fastest(&self, device: &crate::device::Device, lumped_j_per_k: &[f64]) -> f64 {
        let n = lumped_j_per_k.len();
        let line = device.laws.line(350.0);
        let mass: Vec<f64> = (0..n)
            .map(|j| self.weight_m[j] * line.capacity + lumped_j_per_k[j])
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
                            let x = x.get(block.first + c).copied().unwrap_or(0.0);
                            flow[r] += entry * x * line.conduction;
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
    let full = grid.stiffness_per_m();
    (0..len / lanes)
        .map(|block| {
            let rows = (block * lanes).min(n)..((block + 1) * lanes).min(n);
            let touches = |c: usize| rows.clone().any(|r| full[r * n + c] != 0.0);
            let first = (0..n).find(|c| touches(*c)).unwrap_or(0);
            let last = (0..n).rev().find(|c| touches(*c));
            // Columns are taken in groups; the last beyond the strip's are zero.
            let columns = last.map_or(0, |l| (l + 1 - first).next_multiple_of(GROUP));
            let mut entries = Row::zeros(columns * lanes);
            for r in rows.clone() {
                for c in 0..columns.min(n - first) {
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
    pub(in crate::device) simd: S,
    /// The device on its grid.
    pub model: &'a Model,
    pub(in crate::device) parts: &'a AlongParts,
    /// What drives it.
    pub drive: Drive,
    pub(in crate::device) constant: bool,
    /// Conductance from the winding per length of strip, W/(m K).
    per_length: f64,
    share_squared: f64,
    one_piece: bool,
    has_winding: bool,
    has_housing: bool,
    has_shunt: bool,
    theta: Row,
    pub(in crate::device) inverse_mass: Row,
    pub(in crate::device) rates_here: Row,
    pub(in crate::device) slopes: SlopeScratch,
}

/// Slopes of the terms of the equation at every node.
pub(in crate::device) struct SlopeScratch {
    pub(in crate::device) diagonal: Row,
    pub(in crate::device) conduction: Row,
    pub(in crate::device) resistance: Row,
    pub(in crate::device) loss: Row,
    pub(in crate::device) against_air: Row,
}

impl SlopeScratch {
    fn new(len: usize) -> SlopeScratch {
        let zero = || Row::zeros(len);
        SlopeScratch {
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
            share_squared: model.device.current_share * model.device.current_share,
            one_piece: model.device.fit.pieces() == 1,
            has_winding: model.device.winding.is_some(),
            has_housing: model.device.housing.is_some(),
            has_shunt: model.device.shunt_heat_to.is_some(),
            theta: Row::zeros(parts.len + GROUP),
            inverse_mass: Row::zeros(parts.len),
            rates_here: Row::zeros(parts.len),
            slopes: SlopeScratch::new(parts.len),
        })
    }

    pub(in crate::device) fn surface(&self) -> Surface<'a> {
        let cooling = &self.model.device.cooling;
        Surface {
            law: cooling,
            film: self.parts.film.as_ref(),
            perimeter_m: cooling.perimeter_m,
            emissivity: cooling.emissivity(),
        }
    }

    #[inline(always)]
    pub(in crate::device) fn state(&self, y: &[f64], s: usize) -> Wide<S> {
        Wide::of(self.simd, registers::<S>(y)[s])
    }

    /// The constants of one register of the state.
    #[inline(always)]
    fn constants(&self, s: usize) -> [Wide<S>; CONSTANTS] {
        let all = registers::<S>(&self.parts.constants);
        let mut out = [splat(self.simd, 0.0); CONSTANTS];
        for (out, c) in out.iter_mut().zip(&all[s * CONSTANTS..(s + 1) * CONSTANTS]) {
            *out = Wide::of(self.simd, *c);
        }
        out
    }

    /// Weights of one register of nodes, m; 0 at the lumped nodes.
    #[inline(always)]
    pub(in crate::device) fn weight(&self, s: usize) -> Wide<S> {
        self.constants(s)[1]
    }

    /// Temperatures of one register, at which the laws are evaluated: the lumped nodes and the padding are
    /// given the clamped end's, so that they do not lead out of the fits.
    #[inline(always)]
    pub(in crate::device) fn strip_temperature(&self, y: &[f64], s: usize) -> Wide<S> {
        let base = splat(self.simd, y[0]);
        (self.state(y, s) - base).times_plus(self.constants(s)[0], base)
    }

    pub(in crate::device) fn rates_at(&mut self, t: f64, y: &[f64], dy: &mut [f64]) {
        let (i, _) = self.drive.current(t);
        self.rates_with(i * i, self.drive.ambient_k(t), y, dy);
    }

    /// Rates under a square of the current and an ambient.
    pub(in crate::device) fn rates_with(
        &mut self,
        squared: f64,
        ambient: f64,
        y: &[f64],
        dy: &mut [f64],
    ) {
        vectorized!(self.simd, {
            if self.one_piece {
                self.rates_of::<OnePiece<S>>(squared, ambient, y, dy);
            } else {
                self.rates_of::<Place<S>>(squared, ambient, y, dy);
            }
        });
    }

    #[inline(always)]
    fn rates_of<L: Located<S>>(&mut self, squared: f64, ambient: f64, y: &[f64], dy: &mut [f64]) {
        let simd = self.simd;
        let model = self.model;
        let (d, l) = (&model.device, &model.layout);
        let fit = &*d.fit;
        let strip_squared = splat(simd, squared * self.share_squared);
        let air = if self.has_housing {
            l.housing.map_or(ambient, |h| y[h])
        } else {
            ambient
        };
        let winding_k = if self.has_winding {
            l.winding.map_or(0.0, |w| y[w])
        } else {
            0.0
        };
        let surface = self.surface();
        let slots = self.parts.len / S::F64_LANES;
        let (mut to_air, mut resistance, mut from_winding) =
            (splat(simd, 0.0), splat(simd, 0.0), splat(simd, 0.0));
        let base = splat(simd, y[0]);
        {
            let ys = &registers::<S>(y)[..slots];
            let constants = &registers::<S>(&self.parts.constants)[..slots * CONSTANTS];
            let theta = &mut registers_mut::<S>(&mut self.theta)[..slots];
            let inverse = &mut registers_mut::<S>(&mut self.inverse_mass)[..slots];
            let dy = &mut registers_mut::<S>(dy)[..slots];
            for (s, c) in constants.chunks_exact(CONSTANTS).enumerate() {
                let (strip, w) = (Wide::of(simd, c[0]), Wide::of(simd, c[1]));
                let t_k = (Wide::of(simd, ys[s]) - base).times_plus(strip, base);
                let at = L::find(simd, fit, t_k);
                theta[s] = at.value(simd, fit, Fitted::Conduction).raw();
                let loss = surface.loss(simd, t_k, splat(simd, air));
                let ohm = at.value(simd, fit, Fitted::Resistance);
                let capacity = at.value(simd, fit, Fitted::Capacity);
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
                dy[s] = (gain * w).raw();
                // Inverted here, where nothing waits for it.
                let mass = capacity.times_plus(w, Wide::of(simd, c[2]));
                inverse[s] = (splat(simd, 1.0) / mass).raw();
            }
        }
        let sums = if self.has_winding || self.has_housing || self.has_shunt {
            Some((to_air.sum(), resistance.sum(), from_winding.sum()))
        } else {
            None
        };
        let lumped = self.lumped(y, squared, ambient, air, sums);
        let constants = &registers::<S>(&self.parts.constants)[..slots * CONSTANTS];
        let inverse = &registers::<S>(&self.inverse_mass)[..slots];
        let dy = &mut registers_mut::<S>(dy)[..slots];
        let rows = &self.parts.stiffness[..slots];
        for (s, c) in constants.chunks_exact(CONSTANTS).enumerate() {
            let block = &rows[s];
            let (mut even, mut odd) = (splat(simd, 0.0), splat(simd, 0.0));
            let columns = registers::<S>(&block.entries).as_chunks::<GROUP>().0;
            let theta = self.theta[block.first..].as_chunks::<GROUP>().0;
            for (k, x) in columns.iter().zip(theta) {
                even = Wide::of(simd, k[0]).times_plus(splat(simd, x[0]), even);
                odd = Wide::of(simd, k[1]).times_plus(splat(simd, x[1]), odd);
                even = Wide::of(simd, k[2]).times_plus(splat(simd, x[2]), even);
                odd = Wide::of(simd, k[3]).times_plus(splat(simd, x[3]), odd);
            }
            let mut nodes = Wide::of(simd, c[3]) * splat(simd, lumped.clamped);
            nodes = Wide::of(simd, c[4]).times_plus(splat(simd, lumped.moving), nodes);
            nodes = Wide::of(simd, c[5]).times_plus(splat(simd, lumped.fixed), nodes);
            if self.has_winding {
                nodes = Wide::of(simd, c[6]).times_plus(splat(simd, lumped.winding), nodes);
            }
            if self.has_housing {
                nodes = Wide::of(simd, c[7]).times_plus(splat(simd, lumped.housing), nodes);
            }
            let flow = Wide::of(simd, dy[s]) - (even + odd);
            dy[s] = ((flow + nodes) * Wide::of(simd, inverse[s])).raw();
        }
    }

    /// Flows into the lumped nodes; `sums` are the strip's loss to the air, its resistance and what the winding
    /// gives it, where they are needed.
    #[inline(always)]
    fn lumped(
        &self,
        y: &[f64],
        squared: f64,
        ambient: f64,
        air: f64,
        sums: Option<(f64, f64, f64)>,
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
        let Some((mut to_air, resistance, from_winding)) = sums else {
            return flow;
        };
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

    #[inline(always)]
    fn reference(&self) -> Wide<S> {
        splat(self.simd, self.drive.ambient.value_k)
    }
}
