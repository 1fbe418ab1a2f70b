//! The heat equation with the nodes of one strip side by side in registers: the fast right-hand
//! side.
//!
//! It is the same discretisation as [`Plant`](crate::device::Plant), with the laws taken from their
//! fits. The lumped nodes stand in the same registers as the strip's, so that a state is one row of
//! numbers. What heat across the layers adds stands in [`Crossing`](super::Crossing).

mod parts;

pub use parts::AlongParts;

use super::fit::{Fitted, GROUP, StripFit};
use super::station::{Located, OnePiece, Place, Surface};
use crate::device::Model;
use crate::device::build::winding_resistance;
use crate::device::drive::{Drive, Phase};
use crate::scenario::ShuntNode;
use crate::solve::Flow;
use crate::solve::wide::{Row, Wide, registers, registers_mut, splat, vectorized};
use parts::CONSTANTS;
use pulp::Simd;

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
    pub(in crate::device) share_squared: f64,
    pub(in crate::device) one_piece: bool,
    has_winding: bool,
    has_housing: bool,
    has_shunt: bool,
    theta: Row,
    pub(in crate::device) inverse_mass: Row,
    /// Room for slopes, once they are asked for.
    pub(in crate::device) slopes: Option<SlopeScratch>,
}

/// Slopes of the terms of the equation at every node.
pub(in crate::device) struct SlopeScratch {
    pub(in crate::device) rates: Row,
    pub(in crate::device) diagonal: Row,
    pub(in crate::device) conduction: Row,
    pub(in crate::device) resistance: Row,
    pub(in crate::device) loss: Row,
    pub(in crate::device) against_air: Row,
}

impl SlopeScratch {
    pub(in crate::device) fn new(len: usize) -> SlopeScratch {
        let zero = || Row::zeros(len);
        SlopeScratch {
            rates: zero(),
            diagonal: zero(),
            conduction: zero(),
            resistance: zero(),
            loss: zero(),
            against_air: zero(),
        }
    }
}

/// How stations resist the current.
pub(in crate::device) trait Stations<S: Simd> {
    /// Resistances per length of register `s`, ohm/m, which lose heat to the air, W/m; `theta` is
    /// what conducts along the strip there.
    fn resistance<L: Located<S>>(
        &mut self,
        s: usize,
        at: &L,
        t_k: Wide<S>,
        loss: Wide<S>,
        theta: &mut Wide<S>,
    ) -> Wide<S>;
}

/// Stations of one temperature each.
struct Even<'a, S: Simd> {
    simd: S,
    fit: &'a StripFit,
}

impl<S: Simd> Stations<S> for Even<'_, S> {
    #[inline(always)]
    fn resistance<L: Located<S>>(
        &mut self,
        _: usize,
        at: &L,
        _: Wide<S>,
        _: Wide<S>,
        _: &mut Wide<S>,
    ) -> Wide<S> {
        at.value(self.simd, self.fit, Fitted::Resistance)
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
        Some(Along {
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
            slopes: None,
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

    /// Temperatures of one register, at which the laws are evaluated: the lumped nodes and the
    /// padding are given the clamped end's, so that they do not lead out of the fits.
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
            let mut even = Even {
                simd: self.simd,
                fit: &self.model.device.fit,
            };
            if self.one_piece {
                self.rates_of::<OnePiece<S>>(&mut even, squared, ambient, y, dy);
            } else {
                self.rates_of::<Place<S>>(&mut even, squared, ambient, y, dy);
            }
        });
    }

    /// The same of stations that resist in their own way.
    #[inline(always)]
    pub(in crate::device) fn rates_of<L: Located<S>>(
        &mut self,
        stations: &mut impl Stations<S>,
        squared: f64,
        ambient: f64,
        y: &[f64],
        dy: &mut [f64],
    ) {
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
                let mut conducts = at.value(simd, fit, Fitted::Conduction);
                let loss = surface.loss(simd, t_k, splat(simd, air));
                let ohm = stations.resistance(s, &at, t_k, loss, &mut conducts);
                theta[s] = conducts.raw();
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

    /// Flows into the lumped nodes; `sums` are the strip's loss to the air, its resistance and what
    /// the winding gives it, where they are needed.
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
