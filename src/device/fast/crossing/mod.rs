//! What heat across the layers adds to the heat equation along the strip, in registers.
//!
//! The nodes lie side by side as in [`Along`]; below that row stands one for each mode that moves,
//! with its amplitude, in kelvin, at every node. The two ends, where the terminals hold the layers
//! together, and the lumped nodes have none.

mod layers;
mod parts;

pub use layers::Layers;
pub use parts::CrossingParts;

use super::along::{Along, Stations};
use super::fit::{GROUP, LAWS};
use super::station::{Located, OnePiece, Place};
use crate::device::through::SLOW;
use crate::device::{Drive, Model};
use crate::solve::wide::{Row, Wide, registers, registers_mut, splat, vectorized};
use pulp::Simd;

/// A strip whose heat across the layers is resolved, under a drive, in registers.
pub struct Crossing<'a, S: Simd> {
    pub(in crate::device) along: Along<'a, S>,
    layers: Layers<'a, S>,
    /// What the stiffness matrix acts on of each mode.
    spread: Vec<Row>,
}

/// A mode at rest.
pub struct AtRest {
    /// Rate at which it comes to rest, 1/s.
    pub per_s: f64,
    /// What it adds to the free deflection, m.
    pub bends_m: f64,
    /// What it conducts along the strip per third derivative of the temperature there, W m^3/K.
    pub spreads_w_m3_per_k: f64,
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
        let len = self.parts.inner_per_m.len();
        let mut away_k = 0.0;
        for (mode, row) in self.parts.modes.iter().zip(y[len..].chunks_exact(len)) {
            let mean = mode.mean.iter().fold(0.0f64, |m, v| m.max(v.abs()));
            let largest = row
                .iter()
                .fold(0.0f64, |m, a| m.max((a - self.ambient_k).abs()));
            away_k += mean * largest;
        }
        self.uniform.within_fits_by(self.ambient_k, y, away_k)
    }
}

impl<'a, S: Simd> Crossing<'a, S> {
    /// A model under a drive; `None` when it has no such form.
    pub fn new(simd: S, model: &'a Model, drive: Drive) -> Option<Crossing<'a, S>> {
        let parts = model.crossing.as_ref()?;
        let along = Along::new(simd, model.uniform_model.as_deref()?, drive)?;
        let room = along.parts.len + GROUP;
        Some(Crossing {
            layers: Layers::new(parts, &along),
            spread: vec![Row::zeros(room); parts.modes.len()],
            along,
        })
    }

    /// Let only the first modes move; the others follow their sources at once.
    pub fn move_only(&mut self, moving: usize) {
        self.layers = self.layers.with_moving(moving);
    }

    /// The layers by themselves.
    pub fn layers(&self) -> Layers<'a, S> {
        self.layers
    }

    /// Fastest rate of all that moves, 1/s.
    pub fn fastest_per_s(&self) -> f64 {
        self.layers.rest.fastest_per_s
    }

    /// Rates at which the modes come to rest, 1/s, the slowest first.
    pub fn mode_rates(&self) -> impl Iterator<Item = f64> {
        self.layers.parts.modes.iter().map(|mode| mode.rate_per_s)
    }

    /// What each mode does at rest under sources at the nodes.
    pub fn at_rest<'s>(
        &self,
        sources: impl Iterator<Item = &'s [f64]>,
    ) -> impl Iterator<Item = AtRest> {
        let parts = self.layers.parts;
        parts.modes.iter().zip(sources).map(|(mode, row)| {
            let weights = parts.deflection.iter();
            let sum: f64 = weights.zip(row).map(|(w, source)| w * source).sum();
            AtRest {
                per_s: mode.rate_per_s,
                bends_m: mode.curvature_per_m * sum / mode.rate_per_s,
                spreads_w_m3_per_k: mode.flux * mode.axial / mode.rate_per_s,
            }
        })
    }

    /// The fits it is computed with.
    pub fn fits(&self) -> CrossingFits<'a> {
        CrossingFits {
            uniform: self.along.model,
            parts: self.layers.parts,
            ambient_k: self.along.drive.ambient.value_k,
        }
    }

    /// Slopes of a state: a row of temperatures, and one of amplitudes for each mode that moves.
    pub fn rates(&mut self, t: f64, y: &[f64], dy: &mut [f64]) {
        vectorized!(self.along.simd, {
            let parts = self.layers.parts;
            match (self.along.one_piece, parts.fit.pieces(), parts.layers) {
                (true, 1, ..=2) => self.rates_of::<OnePiece<S>, OnePiece<S>, 2>(t, y, dy),
                (true, 1, 3) => self.rates_of::<OnePiece<S>, OnePiece<S>, 3>(t, y, dy),
                (false, 1, ..=2) => self.rates_of::<Place<S>, OnePiece<S>, 2>(t, y, dy),
                (false, 1, 3) => self.rates_of::<Place<S>, OnePiece<S>, 3>(t, y, dy),
                _ => self.rates_of::<Place<S>, Place<S>, LAWS>(t, y, dy),
            }
        });
    }

    #[inline(always)]
    fn rates_of<L: Located<S>, K: Located<S>, const N: usize>(
        &mut self,
        t: f64,
        y: &[f64],
        dy: &mut [f64],
    ) {
        let Crossing {
            along,
            layers,
            spread,
        } = self;
        let (simd, parts, slots) = (along.simd, layers.parts, layers.slots);
        let (current, _) = along.drive.current(t);
        let squared = current * current;
        let (mean, moving) = dy.split_at_mut(slots * S::F64_LANES);
        let mut stations = Resolved::<S, K, N> {
            layers: *layers,
            squared: layers.strip_squared(squared),
            y,
            dy: moving,
            spread,
            located: std::marker::PhantomData,
        };
        let ambient_k = along.drive.ambient_k(t);
        along.rates_of::<L>(&mut stations, squared, ambient_k, y, mean);
        // What the amplitudes conduct along the strip.
        for (s, block) in along.parts.stiffness.iter().enumerate() {
            let mut sums = [splat(simd, 0.0); SLOW];
            for (c, entry) in registers::<S>(&block.entries).iter().enumerate() {
                let entry = Wide::of(simd, *entry);
                for (sum, row) in sums.iter_mut().zip(spread[..layers.moving].iter()) {
                    *sum = entry.times_plus(splat(simd, row[block.first + c]), *sum);
                }
            }
            let weight = Wide::of(simd, registers::<S>(&parts.inner_per_m)[s]);
            let rows = registers_mut::<S>(moving);
            for (k, sum) in sums[..layers.moving].iter().enumerate() {
                let slope = Wide::of(simd, rows[k * slots + s]);
                rows[k * slots + s] = (-*sum).times_plus(weight, slope).raw();
            }
        }
    }
}

/// Stations whose layers have temperatures of their own.
struct Resolved<'r, 'a, S: Simd, K, const N: usize> {
    layers: Layers<'a, S>,
    squared: Wide<S>,
    y: &'r [f64],
    /// Slopes of the amplitudes.
    dy: &'r mut [f64],
    spread: &'r mut [Row],
    located: std::marker::PhantomData<K>,
}

impl<S: Simd, K: Located<S>, const N: usize> Stations<S> for Resolved<'_, '_, S, K, N> {
    #[inline(always)]
    fn resistance<L: Located<S>>(
        &mut self,
        s: usize,
        _: &L,
        t_k: Wide<S>,
        loss: Wide<S>,
        theta: &mut Wide<S>,
    ) -> Wide<S> {
        let layers = self.layers;
        let (simd, parts, rest) = (layers.simd, layers.parts, layers.rest);
        let a = layers.amplitudes(self.y, s);
        let inside = layers.inside(s);
        let (joule, resistance) = layers.heat::<K, N>(t_k, &a, inside, self.squared);
        let faces = loss * splat(simd, parts.faces_per_m);
        for (q, flux) in joule.iter().zip(rest.at.flux) {
            *theta = (*q * inside).times_plus(splat(simd, flux), *theta);
        }
        for (k, mode) in layers.modes().iter().enumerate() {
            *theta = a[k].times_plus(splat(simd, mode.flux), *theta);
            let mut source = -(faces * splat(simd, mode.faces));
            for (q, layer) in joule.iter().zip(mode.layers) {
                source = q.times_plus(splat(simd, layer), source);
            }
            let slope = a[k].times_plus(splat(simd, -mode.rate_per_s), source * inside);
            registers_mut::<S>(self.dy)[k * layers.slots + s] = slope.raw();
            let mut spread = (t_k - layers.reference()) * splat(simd, mode.axial);
            for (b, coupling) in a.iter().zip(mode.coupling) {
                spread = b.times_plus(splat(simd, coupling), spread);
            }
            registers_mut::<S>(&mut self.spread[k])[s] = spread.raw();
        }
        resistance
    }
}
