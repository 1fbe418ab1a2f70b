//! What heat across the layers adds to the heat equation along the strip, in registers.
//!
//! The nodes lie side by side as in [`Along`]; below that row stands one for each slow mode, with
//! its amplitude, in kelvin, at every node. The two ends, where the terminals hold the layers
//! together, and the lumped nodes have none.

use super::along::Along;
use super::fit::{Fitted, GROUP, LAWS, StripFit};
use super::station::{Located, OnePiece, Place};
use crate::device::through::{Feed, SLOW};
use crate::device::{Device, Drive, Grid, Layout, Model};
use crate::scenario::ShuntNode;
use crate::solve::wide::{Row, Wide, registers, registers_mut, splat, vectorized};
use pulp::Simd;
use std::sync::Arc;

/// What the registers need of a model whose heat across the layers is resolved.
#[derive(Debug, Clone)]
pub struct CrossingParts {
    /// One mode's worth of amplitude a kelvin.
    unit: f64,
    slow: Vec<Feed>,
    fast: Feed,
    fast_mean: Vec<f64>,
    fit: Arc<StripFit>,
    sections_m2: Vec<f64>,
    width_m: f64,
    /// Flux at the faces, W/m^2, per loss of the strip, W/m.
    faces_per_m: f64,
    /// One over the weights of the nodes inside the strip, 1/m; 0 elsewhere.
    inner_per_m: Row,
    /// Weight of the curvature at the nodes in the free deflection, m^2.
    deflection: Row,
    /// What a kelvin of the nodes adds to the free deflection by the second derivative along the
    /// strip, m/K.
    second: Row,
}

impl CrossingParts {
    /// Parts of a model; `None` where there are more layers than registers are laid out for.
    pub(in crate::device) fn new(
        device: &Device,
        grid: &Grid,
        layout: &Layout,
        len: usize,
    ) -> Option<CrossingParts> {
        let through = device.through.as_ref()?;
        let n = layout.strip;
        let deflection = grid.functional(device.push_point_m, |x| device.push_point_m - x);
        let mut inner_per_m = Row::zeros(len);
        for (inner, w) in inner_per_m[1..n - 1].iter_mut().zip(&grid.weight_m[1..]) {
            *inner = 1.0 / w;
        }
        let stiffness = grid.stiffness_per_m();
        let mut second = Row::zeros(len);
        for (r, d) in deflection.iter().enumerate() {
            for c in 0..n {
                second[c] -= through.fast.axial * d * inner_per_m[r] * stiffness[r * n + c];
            }
        }
        let around_m = device.cooling.perimeter_m;
        Some(CrossingParts {
            unit: device.laws.capacity_per_area(350.0).sqrt(),
            slow: through.slow.clone(),
            fast: through.fast.clone(),
            fast_mean: through.fast_mean.clone(),
            fit: through.fit.clone()?,
            sections_m2: through.sections_m2().collect(),
            width_m: device.laws.width_m,
            faces_per_m: if around_m > 0.0 {
                device.cooling.uncovered() / around_m
            } else {
                0.0
            },
            inner_per_m,
            deflection: Row::padded(&deflection, len),
            second,
        })
    }
}

/// A strip whose heat across the layers is resolved, under a drive, in registers.
pub struct Crossing<'a, S: Simd> {
    simd: S,
    along: Along<'a, S>,
    parts: &'a CrossingParts,
    one_piece: bool,
    /// What the stiffness matrix acts on: what the modes add to the mean's conduction, and each
    /// mode's own.
    spread: Vec<Row>,
    /// Heat made at every node, W.
    gain: Row,
}

/// The fits that a strip is computed with, and where they hold.
#[derive(Clone, Copy)]
pub struct CrossingFits<'a> {
    uniform: &'a Model,
    parts: &'a CrossingParts,
    ambient_k: f64,
}

impl CrossingFits<'_> {
    /// Whether all layers everywhere lie in their range.
    pub fn hold(&self, y: &[f64]) -> bool {
        let len = y.len() / (1 + self.parts.slow.len());
        let mut away_k = 0.0;
        for (feed, row) in self.parts.slow.iter().zip(y[len..].chunks_exact(len)) {
            let mean = feed.layer_mean.iter().fold(0.0f64, |m, v| m.max(v.abs()));
            let largest = row
                .iter()
                .fold(0.0f64, |m, a| m.max((a - self.ambient_k).abs()));
            away_k += mean * self.parts.unit * largest;
        }
        let moved = |by_k: f64| {
            let all: Vec<f64> = y[..len].iter().map(|t| t + by_k).collect();
            self.uniform.within_fits(self.ambient_k, &all)
        };
        moved(away_k) && moved(-away_k)
    }
}

type Amplitudes<S> = [Wide<S>; SLOW];

impl<'a, S: Simd> Crossing<'a, S> {
    /// A model under a drive; `None` when it has no such form.
    pub fn new(simd: S, model: &'a Model, drive: Drive) -> Option<Crossing<'a, S>> {
        let parts = model.crossing.as_ref()?;
        let along = Along::new(simd, model.uniform_model.as_deref()?, drive)?.without_joule_heat();
        let len = along.parts.len;
        Some(Crossing {
            simd,
            parts,
            one_piece: parts.fit.pieces() == 1,
            spread: vec![Row::zeros(len + GROUP); 1 + parts.slow.len()],
            gain: Row::zeros(len),
            along,
        })
    }

    /// The fits it is computed with.
    pub fn fits(&self) -> CrossingFits<'a> {
        CrossingFits {
            uniform: self.along.model,
            parts: self.parts,
            ambient_k: self.along.drive.ambient.value_k,
        }
    }

    fn squared(&self, t: f64) -> f64 {
        let (i, _) = self.along.drive.current(t);
        i * i
    }

    fn strip_squared(&self, t: f64) -> Wide<S> {
        let share = self.along.model.device.current_share;
        splat(self.simd, self.squared(t) * share * share)
    }

    #[inline(always)]
    fn amplitudes(&self, y: &[f64], s: usize) -> Amplitudes<S> {
        let slots = self.along.parts.len / S::F64_LANES;
        let reference = splat(self.simd, self.along.drive.ambient.value_k);
        let mut all = [splat(self.simd, 0.0); SLOW];
        for (k, a) in all.iter_mut().enumerate().take(self.parts.slow.len()) {
            *a = Wide::of(self.simd, registers::<S>(y)[(k + 1) * slots + s]) - reference;
        }
        all
    }

    /// Heat per volume of each layer at its own temperature, W/m^3, and the resistance per length,
    /// ohm/m.
    #[inline(always)]
    fn heat<L: Located<S>>(
        &self,
        t_k: Wide<S>,
        amplitudes: &Amplitudes<S>,
        squared: Wide<S>,
    ) -> ([Wide<S>; LAWS], Wide<S>) {
        let (simd, parts) = (self.simd, self.parts);
        let layers = parts.sections_m2.len();
        let mut own_k = [t_k; LAWS];
        for (feed, a) in parts.slow.iter().zip(amplitudes) {
            let a = *a * splat(simd, parts.unit);
            for (own, mean) in own_k.iter_mut().zip(&feed.layer_mean) {
                *own = a.times_plus(splat(simd, *mean), *own);
            }
        }
        let (first, _) = self.joule::<L>(&own_k, squared);
        for (own, row) in own_k.iter_mut().zip(parts.fast_mean.chunks_exact(layers)) {
            for (q, mean) in first.iter().zip(row) {
                *own = q.times_plus(splat(simd, *mean), *own);
            }
        }
        self.joule::<L>(&own_k, squared)
    }

    #[inline(always)]
    fn joule<L: Located<S>>(
        &self,
        own_k: &[Wide<S>; LAWS],
        squared: Wide<S>,
    ) -> ([Wide<S>; LAWS], Wide<S>) {
        let (simd, parts) = (self.simd, self.parts);
        let mut joule = [splat(simd, 0.0); LAWS];
        let mut conductance = splat(simd, 0.0);
        for (i, section) in parts.sections_m2.iter().enumerate() {
            let at = L::find(simd, &parts.fit, own_k[i]);
            joule[i] = at.value(simd, &parts.fit, Fitted::layer(i));
            conductance = joule[i].times_plus(splat(simd, *section), conductance);
        }
        let resistance = splat(simd, 1.0) / conductance;
        let field_squared = squared * resistance * resistance;
        for q in &mut joule {
            *q = *q * field_squared;
        }
        (joule, resistance)
    }

    /// Slopes of a state: a row of temperatures, and one of amplitudes for each slow mode.
    pub fn rates(&mut self, t: f64, y: &[f64], dy: &mut [f64]) {
        self.along.rates_at(t, y, dy);
        vectorized!(self.simd, {
            if self.one_piece {
                self.add::<OnePiece<S>>(t, y, dy);
            } else {
                self.add::<Place<S>>(t, y, dy);
            }
        });
    }

    /// Adds the heat of the layers to the slopes of the temperatures; writes the slopes of the
    /// modes.
    #[inline(always)]
    fn add<L: Located<S>>(&mut self, t: f64, y: &[f64], dy: &mut [f64]) {
        let (simd, parts) = (self.simd, self.parts);
        let slots = self.along.parts.len / S::F64_LANES;
        let squared = self.strip_squared(t);
        let ambient = self.along.drive.ambient_k(t);
        let reference = splat(simd, self.along.drive.ambient.value_k);
        let air = splat(
            simd,
            self.along.model.layout.housing.map_or(ambient, |h| y[h]),
        );
        let surface = self.along.surface();
        let per_unit = 1.0 / parts.unit;
        let mut ohm = splat(simd, 0.0);
        for s in 0..slots {
            let t_k = self.along.strip_temperature(y, s);
            let a = self.amplitudes(y, s);
            let (joule, resistance) = self.heat::<L>(t_k, &a, squared);
            let weight = self.along.weight(s);
            ohm = resistance.times_plus(weight, ohm);
            registers_mut::<S>(&mut self.gain)[s] = (squared * resistance * weight).raw();
            let faces = surface.loss(simd, t_k, air) * splat(simd, parts.faces_per_m);
            let weight = Wide::of(simd, registers::<S>(&parts.inner_per_m)[s]);
            let inside = splat(simd, 0.0).below(weight);
            let mut flux = splat(simd, 0.0);
            for (k, feed) in parts.slow.iter().enumerate() {
                flux = a[k].times_plus(splat(simd, feed.axial * parts.width_m * parts.unit), flux);
                let mut source = -(faces * splat(simd, feed.faces));
                for (q, layer) in joule.iter().zip(&feed.layers) {
                    source = q.times_plus(splat(simd, *layer), source);
                }
                let source = source * splat(simd, per_unit);
                let source = inside.choose(source, splat(simd, 0.0));
                let slope = a[k].times_plus(splat(simd, -feed.rate_per_s), source);
                registers_mut::<S>(dy)[(k + 1) * slots + s] = slope.raw();
                let mut spread = (t_k - reference) * splat(simd, feed.axial * per_unit);
                for (b, coupling) in a.iter().zip(&feed.coupling) {
                    spread = b.times_plus(splat(simd, *coupling), spread);
                }
                registers_mut::<S>(&mut self.spread[k + 1])[s] = spread.raw();
            }
            registers_mut::<S>(&mut self.spread[0])[s] = flux.raw();
        }
        let inverse = registers::<S>(&self.along.inverse_mass);
        for (s, block) in self.along.parts.stiffness.iter().enumerate() {
            let mut sums = [splat(simd, 0.0); 1 + SLOW];
            for (c, entry) in registers::<S>(&block.entries).iter().enumerate() {
                let entry = Wide::of(simd, *entry);
                for (sum, row) in sums.iter_mut().zip(&self.spread) {
                    *sum = entry.times_plus(splat(simd, row[block.first + c]), *sum);
                }
            }
            let gain = Wide::of(simd, registers::<S>(&self.gain)[s]) - sums[0];
            let mean = Wide::of(simd, registers::<S>(dy)[s]);
            registers_mut::<S>(dy)[s] = gain.times_plus(Wide::of(simd, inverse[s]), mean).raw();
            let weight = Wide::of(simd, registers::<S>(&parts.inner_per_m)[s]);
            for (k, sum) in sums[1..=parts.slow.len()].iter().enumerate() {
                let at = (k + 1) * slots + s;
                let slope = Wide::of(simd, registers::<S>(dy)[at]);
                registers_mut::<S>(dy)[at] = (-*sum).times_plus(weight, slope).raw();
            }
        }
        let layout = &self.along.model.layout;
        let node = match self.along.model.device.shunt_heat_to {
            None => return,
            Some(ShuntNode::ClampedTerminal) => Some(0),
            Some(ShuntNode::MovingContact) => Some(layout.strip - 1),
            Some(ShuntNode::Housing) => layout.housing,
        };
        if let Some(node) = node {
            let share = self.along.model.device.current_share;
            let shunt_w = self.squared(t) * share * (1.0 - share) * ohm.sum();
            dy[node] += shunt_w * self.along.inverse_mass[node];
        }
    }

    /// What heat across the layers adds to the free deflection at the push point, m.
    pub fn deflection_m(&self, t: f64, y: &[f64]) -> f64 {
        vectorized!(self.simd, {
            if self.one_piece {
                self.deflection_of::<OnePiece<S>>(t, y)
            } else {
                self.deflection_of::<Place<S>>(t, y)
            }
        })
    }

    #[inline(always)]
    fn deflection_of<L: Located<S>>(&self, t: f64, y: &[f64]) -> f64 {
        let (simd, parts) = (self.simd, self.parts);
        let squared = self.strip_squared(t);
        let reference = splat(simd, self.along.drive.ambient.value_k);
        let mut sum = splat(simd, 0.0);
        for s in 0..self.along.parts.len / S::F64_LANES {
            let t_k = self.along.strip_temperature(y, s);
            let a = self.amplitudes(y, s);
            let (joule, _) = self.heat::<L>(t_k, &a, squared);
            let mut curvature = splat(simd, 0.0);
            for (a, feed) in a.iter().zip(&parts.slow) {
                let each = splat(simd, feed.curvature_per_m * parts.unit);
                curvature = a.times_plus(each, curvature);
            }
            for (q, layer) in joule.iter().zip(&parts.fast.layers) {
                curvature = q.times_plus(splat(simd, *layer), curvature);
            }
            let weight = Wide::of(simd, registers::<S>(&parts.deflection)[s]);
            sum = curvature.times_plus(weight, sum);
            let second = Wide::of(simd, registers::<S>(&parts.second)[s]);
            sum = (t_k - reference).times_plus(second, sum);
        }
        sum.sum()
    }
}
