//! The heat of the layers of stations, each layer at its own temperature.

use super::parts::{CrossingParts, Mode, Resting};
use crate::device::Drive;
use crate::device::fast::along::Along;
use crate::device::fast::fit::{Fitted, LAWS};
use crate::device::fast::station::{Located, Place, Surface, place};
use crate::device::through::SLOW;
use crate::solve::wide::{Wide, registers, splat, vectorized};
use pulp::Simd;

/// The layers of a strip under a drive.
#[derive(Clone, Copy)]
pub struct Layers<'a, S: Simd> {
    pub(super) simd: S,
    pub(super) parts: &'a CrossingParts,
    pub(super) rest: &'a Resting,
    /// Registers in a row of the state.
    pub(super) slots: usize,
    /// Modes that move.
    pub(super) moving: usize,
    drive: Drive,
    share_squared: f64,
    surface: Surface<'a>,
    /// Where the air of the housing stands in a state.
    housing: Option<usize>,
}

impl<'a, S: Simd> Layers<'a, S> {
    pub(super) fn new(parts: &'a CrossingParts, along: &Along<'a, S>) -> Layers<'a, S> {
        Layers {
            simd: along.simd,
            rest: parts.resting(parts.modes.len()),
            slots: along.parts.len / S::F64_LANES,
            moving: parts.modes.len(),
            drive: along.drive,
            share_squared: along.share_squared,
            surface: along.surface(),
            housing: along.model.layout.housing,
            parts,
        }
    }

    /// The same with only the first modes moving.
    pub(super) fn with_moving(self, moving: usize) -> Layers<'a, S> {
        Layers {
            rest: self.parts.resting(moving),
            moving: moving.min(self.parts.modes.len()),
            ..self
        }
    }

    pub(super) fn modes(&self) -> &'a [Mode] {
        &self.parts.modes[..self.moving]
    }

    /// Temperature from which amplitudes are counted.
    #[inline(always)]
    pub(super) fn reference(&self) -> Wide<S> {
        splat(self.simd, self.drive.ambient.value_k)
    }

    /// Square of the strip's current, A^2.
    #[inline(always)]
    pub(super) fn strip_squared(&self, squared: f64) -> Wide<S> {
        splat(self.simd, squared * self.share_squared)
    }

    #[inline(always)]
    pub(super) fn amplitudes(&self, y: &[f64], s: usize) -> [Wide<S>; SLOW] {
        let mut all = [splat(self.simd, 0.0); SLOW];
        for (k, a) in all.iter_mut().enumerate().take(self.moving) {
            let row = registers::<S>(y)[(k + 1) * self.slots + s];
            *a = Wide::of(self.simd, row) - self.reference();
        }
        all
    }

    /// 1 at places where modes are not held to nothing by a terminal, 0 elsewhere.
    #[inline(always)]
    pub(super) fn inside(&self, s: usize) -> Wide<S> {
        let weight = Wide::of(self.simd, registers::<S>(&self.parts.inner_per_m)[s]);
        let zero = splat(self.simd, 0.0);
        zero.below(weight).choose(splat(self.simd, 1.0), zero)
    }

    /// Heat per volume of each layer at its own temperature, W/m^3, and the resistance per length,
    /// ohm/m.
    #[inline(always)]
    pub(super) fn heat<L: Located<S>, const N: usize>(
        &self,
        t_k: Wide<S>,
        amplitudes: &[Wide<S>; SLOW],
        inside: Wide<S>,
        squared: Wide<S>,
    ) -> ([Wide<S>; N], Wide<S>) {
        let mut own_k = [t_k; N];
        for (mode, a) in self.modes().iter().zip(amplitudes) {
            for i in 0..N {
                own_k[i] = a.times_plus(splat(self.simd, mode.mean[i]), own_k[i]);
            }
        }
        let (first, _) = self.joule::<L, N>(&own_k, squared);
        for i in 0..N {
            for j in 0..N {
                let (fast, rest) = (self.parts.fast.mean[i][j], self.rest.at.mean[i][j]);
                let mean = inside.times_plus(splat(self.simd, rest), splat(self.simd, fast));
                own_k[i] = first[j].times_plus(mean, own_k[i]);
            }
        }
        self.joule::<L, N>(&own_k, squared)
    }

    #[inline(always)]
    fn joule<L: Located<S>, const N: usize>(
        &self,
        own_k: &[Wide<S>; N],
        squared: Wide<S>,
    ) -> ([Wide<S>; N], Wide<S>) {
        let (simd, parts) = (self.simd, self.parts);
        let mut joule = [splat(simd, 0.0); N];
        let mut conductance = splat(simd, 0.0);
        for i in 0..N {
            let at = L::find(simd, &parts.fit, own_k[i]);
            joule[i] = at.value(simd, &parts.fit, Fitted::layer(i));
            conductance = joule[i].times_plus(splat(simd, parts.sections_m2[i]), conductance);
        }
        let resistance = splat(simd, 1.0) / conductance;
        let field_squared = squared * resistance * resistance;
        for q in &mut joule {
            *q = *q * field_squared;
        }
        (joule, resistance)
    }

    /// Heat of the layers, and how fast it changes with the layers' temperatures at these rates and
    /// with the square of the current.
    #[inline(always)]
    fn joule_and_rates(
        &self,
        own_k: &[[Wide<S>; 2]; LAWS],
        squared: [Wide<S>; 2],
    ) -> [[Wide<S>; 2]; LAWS] {
        let (simd, parts) = (self.simd, self.parts);
        let zero = splat(simd, 0.0);
        let mut joule = [[zero; 2]; LAWS];
        let (mut conductance, mut faster) = (zero, zero);
        for i in 0..parts.layers {
            let at: Place<S> = place(simd, &parts.fit, own_k[i][0]);
            let (value, slope) = at.value_and_slope(simd, &parts.fit, Fitted::layer(i));
            joule[i] = [value, slope * own_k[i][1]];
            let section = splat(simd, parts.sections_m2[i]);
            conductance = joule[i][0].times_plus(section, conductance);
            faster = joule[i][1].times_plus(section, faster);
        }
        let resistance = splat(simd, 1.0) / conductance;
        let per_square = resistance * resistance;
        let field = squared[0] * per_square;
        let falls = splat(simd, 2.0) * field * faster * resistance;
        let field_rate = squared[1] * per_square - falls;
        for [q, rate] in &mut joule[..parts.layers] {
            *rate = *rate * field + *q * field_rate;
            *q = *q * field;
        }
        joule
    }

    /// What heat across the layers adds to the free deflection at the push point, m, and its rate
    /// when the state changes at `dy`, m/s.
    pub fn deflection(&self, t: f64, y: &[f64], dy: &[f64]) -> (f64, f64) {
        vectorized!(self.simd, {
            let (simd, parts) = (self.simd, self.parts);
            let (fast, rest, behind) = (&parts.fast, &self.rest.at, &self.rest.behind);
            let (current, slope) = self.drive.current(t);
            let squared = [current * current, 2.0 * current * slope].map(|x| self.strip_squared(x));
            let zero = splat(simd, 0.0);
            let (ambient_k, drifts) = (self.drive.ambient_k(t), self.drive.ambient.slope_k_per_s);
            let air = (self.housing).map_or([ambient_k, drifts], |h| [y[h], dy[h]]);
            let air = air.map(|x| splat(simd, x));
            let mut sums = [zero; 2];
            for s in 0..self.slots {
                let weight = Wide::of(simd, registers::<S>(&parts.deflection)[s]);
                let second = Wide::of(simd, registers::<S>(&parts.second)[s]);
                // Places without weight are given a temperature of the strip.
                let used = zero.below(weight.abs() + second.abs());
                let t_k = used.choose(Wide::of(simd, registers::<S>(y)[s]), splat(simd, y[0]));
                let mean = [t_k, Wide::of(simd, registers::<S>(dy)[s])];
                let mut own_k = [mean; LAWS];
                let mut curvature = [zero; 2];
                let from = [self.reference(), zero];
                for (k, mode) in self.modes().iter().enumerate() {
                    let at = (k + 1) * self.slots + s;
                    let a = [y, dy].map(|row| Wide::of(simd, registers::<S>(row)[at]));
                    for side in 0..2 {
                        let a = a[side] - from[side];
                        let bends = splat(simd, mode.curvature_per_m);
                        curvature[side] = a.times_plus(bends, curvature[side]);
                        for (own, mean) in own_k[..parts.layers].iter_mut().zip(mode.mean) {
                            own[side] = a.times_plus(splat(simd, mean), own[side]);
                        }
                    }
                }
                let first = self.joule_and_rates(&own_k, squared);
                let inside = self.inside(s);
                let both =
                    |fast: f64, rest: f64| inside.times_plus(splat(simd, rest), splat(simd, fast));
                for i in 0..parts.layers {
                    for (j, q) in first[..parts.layers].iter().enumerate() {
                        let mean = both(fast.mean[i][j], rest.mean[i][j]);
                        for side in 0..2 {
                            own_k[i][side] = q[side].times_plus(mean, own_k[i][side]);
                        }
                        let lags = inside * splat(simd, -behind.mean[i][j]);
                        own_k[i][0] = q[1].times_plus(lags, own_k[i][0]);
                    }
                }
                let joule = self.joule_and_rates(&own_k, squared);
                if rest.faces != 0.0 {
                    let (own, against_air) = self.surface.loss_slopes(simd, t_k, air[0]);
                    let faster = own * mean[1] + against_air * air[1];
                    let bends = inside * splat(simd, rest.faces);
                    for (side, loss) in [self.surface.loss(simd, t_k, air[0]), faster]
                        .into_iter()
                        .enumerate()
                    {
                        curvature[side] = loss.times_plus(bends, curvature[side]);
                    }
                    let lags = inside * splat(simd, -behind.faces);
                    curvature[0] = faster.times_plus(lags, curvature[0]);
                }
                let along = second * splat(simd, fast.axial + rest.axial);
                for side in 0..2 {
                    for (i, q) in joule[..parts.layers].iter().enumerate() {
                        let bends = both(fast.curvature[i], rest.curvature[i]);
                        curvature[side] = q[side].times_plus(bends, curvature[side]);
                    }
                }
                for (i, q) in joule[..parts.layers].iter().enumerate() {
                    let lags = inside * splat(simd, -behind.curvature[i]);
                    curvature[0] = q[1].times_plus(lags, curvature[0]);
                }
                for side in 0..2 {
                    sums[side] = curvature[side].times_plus(weight, sums[side]);
                    sums[side] = (mean[side] - from[side]).times_plus(along, sums[side]);
                }
                let lags = second * splat(simd, -behind.axial);
                sums[0] = mean[1].times_plus(lags, sums[0]);
            }
            (sums[0].sum(), sums[1].sum())
        })
    }
}
