//! The laws and weights of every unit, combined from the samples of the alloys: what makes units
//! stand side by side.

use super::Beside;
use crate::device::fast::fit::SAMPLES;
use crate::device::fast::sheet::Sheet;
use crate::device::fast::unit::{LayerUnit, MOST_LAYERS, Unit, WindingUnit, convection_scale_m};
use crate::physics::constants::{LORENZ_W_OHM_PER_K2, STEFAN_BOLTZMANN_W_PER_M2_K4};
use crate::solve::wide::{MOST_LANES, Row, Wide, registers_mut, splat, vectorized};
use pulp::Simd;

/// A number of every unit, in lanes; missing units repeat the first.
#[inline(always)]
pub(super) fn gather<S: Simd>(simd: S, units: &[Unit], of: impl Fn(&Unit) -> f64) -> Wide<S> {
    let mut x = [0.0; MOST_LANES];
    for (lane, x) in x.iter_mut().enumerate().take(S::F64_LANES) {
        *x = of(units.get(lane).unwrap_or(&units[0]));
    }
    Wide::load(simd, &x)
}

/// A number of one layer of every unit.
#[inline(always)]
fn layer<S: Simd>(simd: S, units: &[Unit], i: usize, of: impl Fn(&LayerUnit) -> f64) -> Wide<S> {
    gather(simd, units, |u| of(&u.layers[i]))
}

impl<'a, S: Simd> Beside<'a, S> {
    /// Units on their sheet, under no load yet. `units` is not empty and no longer than a register.
    pub fn new(simd: S, sheet: &'a Sheet, units: &[Unit]) -> Beside<'a, S> {
        vectorized!(simd, {
            let zero = splat(simd, 0.0);
            let one = splat(simd, 1.0);
            let room = |n: usize| Row::zeros(n * S::F64_LANES);
            let terms = sheet.terms;
            let width = gather(simd, units, |u| u.width_m);
            let length = gather(simd, units, |u| u.length_m);
            let mut thickness = zero;
            for i in 0..sheet.layers.len() {
                thickness = thickness + gather(simd, units, |u| u.layers[i].thickness_m);
            }
            let mut beside = Beside {
                simd,
                sheet,
                capacity: room(terms.capacity),
                conduction: room(terms.conduction + 1),
                resistance: room(terms.resistance),
                curvature: room(terms.curvature),
                flexibility: room(terms.flexibility),
                deflection: room(sheet.nodes),
                compliance: room(sheet.nodes),
                theta: room(sheet.nodes),
                length,
                still: one,
                moving: one,
                radiation: gather(simd, units, |u| u.emissivity)
                    * splat(simd, STEFAN_BOLTZMANN_W_PER_M2_K4),
                perimeter: (width + thickness)
                    * splat(simd, 2.0)
                    * gather(simd, units, |u| u.uncovered),
                share_squared: gather(simd, units, |u| u.current_share * u.current_share),
                clamped: [0, 1, 2].map(|i| gather(simd, units, |u| u.clamped[i])),
                moving_contact: [0, 1].map(|i| gather(simd, units, |u| u.moving[i])),
                fixed: [0, 1].map(|i| gather(simd, units, |u| u.fixed[i])),
                contact_half: gather(simd, units, |u| 0.5 * u.contact_ohm),
                contact_given: gather(simd, units, |u| u.contact_w_per_k),
                contact_per_k: gather(simd, units, |u| {
                    if u.contact_w_per_k > 0.0 {
                        0.0
                    } else {
                        0.5 * LORENZ_W_OHM_PER_K2 / u.contact_ohm
                    }
                }),
                winding: [zero; 5],
                housing: [zero; 2],
                release: [
                    gather(simd, units, |u| u.release_travel_m),
                    gather(simd, units, |u| u.relatch_travel_m),
                    gather(simd, units, |u| u.release_force_n),
                ],
                fastest: one,
                squared: zero,
                ambient: zero,
                closed: zero,
                gauge: [one, zero, zero],
                z_slope: 2.0 / (sheet.high_k - sheet.low_k),
                z_start: -(sheet.high_k + sheet.low_k) / (sheet.high_k - sheet.low_k),
            };
            if sheet.has_winding {
                let of =
                    |f: fn(&WindingUnit) -> f64| move |u: &Unit| u.winding.as_ref().map_or(1.0, f);
                beside.winding = [
                    gather(simd, units, of(|w| w.resistance_ohm)),
                    gather(simd, units, of(|w| w.temperature_coefficient_per_k)),
                    gather(simd, units, of(|w| w.heat_capacity_j_per_k)),
                    gather(simd, units, of(|w| w.to_strip_w_per_k)),
                    gather(simd, units, of(|w| w.to_air_w_per_k)),
                ];
            }
            if sheet.has_housing {
                beside.housing =
                    [0, 1].map(|i| gather(simd, units, |u| u.housing.map_or(1.0, |h| h[i])));
            }
            let factor = gather(simd, units, |u| u.convection);
            (beside.still, beside.moving) = (factor, factor);
            if let Some(nominal) = sheet.scale_m {
                // Still air goes as 1/L, the rest as L^(-1/4).
                let part = splat(simd, nominal)
                    / gather(simd, units, |u| {
                        convection_scale_m(sheet.convection, u).unwrap_or(1.0)
                    });
                beside.still = factor * part;
                beside.moving = factor * part.fourth_root();
            }
            beside.laws(units, width);
            beside.weights(units);
            beside
        })
    }

    /// Polynomials of every unit from the samples of the alloys.
    #[inline(always)]
    fn laws(&mut self, units: &[Unit], width: Wide<S>) {
        let simd = self.simd;
        let zero = splat(simd, 0.0);
        let terms = self.sheet.terms;
        let count = self.sheet.layers.len();
        const ROOM: usize = MOST_LAYERS;
        let mut thickness = [zero; ROOM];
        let mut middle = [zero; ROOM];
        let mut inertia = [zero; ROOM];
        let mut factors = [[zero; 5]; ROOM];
        let mut z = zero;
        for i in 0..count {
            let t = layer(simd, units, i, |l| l.thickness_m);
            thickness[i] = t;
            middle[i] = t.times_plus(splat(simd, 0.5), z);
            inertia[i] = middle[i].times_plus(middle[i], t * t * splat(simd, 1.0 / 12.0));
            z = z + t;
            factors[i] = [
                layer(simd, units, i, |l| l.heat_capacity),
                layer(simd, units, i, |l| l.conductivity),
                layer(simd, units, i, |l| 1.0 / l.resistivity),
                layer(simd, units, i, |l| l.modulus),
                layer(simd, units, i, |l| l.expansion),
            ];
        }
        let initial = gather(simd, units, |u| u.initial_curvature_per_m);
        let mut samples = [[zero; SAMPLES]; 5];
        for k in 0..SAMPLES {
            let (mut c, mut heat, mut current) = (zero, zero, zero);
            let (mut a, mut b, mut d, mut n, mut m) = (zero, zero, zero, zero, zero);
            let (mut fa, mut fb, mut fd) = (zero, zero, zero);
            for i in 0..count {
                let s = &self.sheet.layers[i];
                let (t, f) = (thickness[i], factors[i]);
                c = (t * f[0]).times_plus(splat(simd, s.capacity[k]), c);
                heat = (t * f[1]).times_plus(splat(simd, s.conductivity[k]), heat);
                current = (t * f[2]).times_plus(splat(simd, s.conductance[k]), current);
                let stretch = t * f[3] * splat(simd, s.modulus[k]);
                let strain = f[4] * splat(simd, s.strain[k]);
                let load = stretch * strain;
                a = a + stretch;
                b = stretch.times_plus(middle[i], b);
                d = stretch.times_plus(inertia[i], d);
                n = n + load;
                m = load.times_plus(middle[i], m);
                let stretch = t * f[3] * splat(simd, s.force_modulus[k]);
                fa = fa + stretch;
                fb = stretch.times_plus(middle[i], fb);
                fd = stretch.times_plus(inertia[i], fd);
            }
            samples[0][k] = c * width;
            samples[1][k] = heat * width;
            samples[2][k] = splat(simd, 1.0) / (current * width);
            samples[3][k] = (m * a - b * n) / (d * a - b * b) + initial;
            samples[4][k] = fa / ((fd * fa - fb * fb) * width);
        }
        let half = splat(simd, 0.5 * (self.sheet.high_k - self.sheet.low_k));
        for d in 0..terms.capacity {
            registers_mut::<S>(&mut self.capacity)[d] =
                power(simd, &self.sheet.powers[d], &samples[0]).raw();
        }
        for d in 0..terms.conduction {
            let c = power(simd, &self.sheet.powers[d], &samples[1]);
            registers_mut::<S>(&mut self.conduction)[d + 1] =
                (c * half * splat(simd, 1.0 / (d as f64 + 1.0))).raw();
        }
        for d in 0..terms.resistance {
            registers_mut::<S>(&mut self.resistance)[d] =
                power(simd, &self.sheet.powers[d], &samples[2]).raw();
        }
        for d in 0..terms.curvature {
            registers_mut::<S>(&mut self.curvature)[d] =
                power(simd, &self.sheet.powers[d], &samples[3]).raw();
        }
        for d in 0..terms.flexibility {
            registers_mut::<S>(&mut self.flexibility)[d] =
                power(simd, &self.sheet.powers[d], &samples[4]).raw();
        }
        let diffusivity = samples[1][SAMPLES / 2] / samples[0][SAMPLES / 2];
        self.fastest =
            diffusivity * splat(simd, self.sheet.fastest_part) / (self.length * self.length);
    }

    /// Weights of the bending integrals at every unit's push point.
    #[inline(always)]
    fn weights(&mut self, units: &[Unit]) {
        let simd = self.simd;
        let sheet = self.sheet;
        let nominal = sheet.push[0].0;
        let squared = self.length * self.length;
        let cubed = squared * self.length;
        if units.iter().all(|u| u.push_part == nominal) {
            for j in 0..sheet.nodes {
                registers_mut::<S>(&mut self.deflection)[j] =
                    (squared * splat(simd, sheet.push[0].1[j])).raw();
                registers_mut::<S>(&mut self.compliance)[j] =
                    (cubed * splat(simd, sheet.push[0].2[j])).raw();
            }
            return;
        }
        // Lagrange's interpolation between the push points of the sheet; a unit at the nominal
        // point keeps its exact weights, whoever stands beside it.
        let part = gather(simd, units, |u| u.push_part);
        let elsewhere = splat(simd, 0.0).below((part - splat(simd, nominal)).abs());
        for j in 0..sheet.nodes {
            let (mut deflection, mut compliance) = (splat(simd, 0.0), splat(simd, 0.0));
            for (k, (at, d, c)) in sheet.push.iter().enumerate().skip(1) {
                let mut basis = splat(simd, 1.0);
                for (l, (other, _, _)) in sheet.push.iter().enumerate().skip(1) {
                    if l != k {
                        basis =
                            basis * (part - splat(simd, *other)) * splat(simd, 1.0 / (at - other));
                    }
                }
                deflection = basis.times_plus(splat(simd, d[j]), deflection);
                compliance = basis.times_plus(splat(simd, c[j]), compliance);
            }
            let deflection = elsewhere.choose(deflection, splat(simd, sheet.push[0].1[j]));
            let compliance = elsewhere.choose(compliance, splat(simd, sheet.push[0].2[j]));
            registers_mut::<S>(&mut self.deflection)[j] = (squared * deflection).raw();
            registers_mut::<S>(&mut self.compliance)[j] = (cubed * compliance).raw();
        }
    }
}

/// Coefficient of one power from the samples of a law.
#[inline(always)]
fn power<S: Simd>(simd: S, row: &[f64; SAMPLES], samples: &[Wide<S>; SAMPLES]) -> Wide<S> {
    let (mut even, mut odd) = (splat(simd, 0.0), splat(simd, 0.0));
    for k in 0..SAMPLES / 2 {
        even = samples[2 * k].times_plus(splat(simd, row[2 * k]), even);
        odd = samples[2 * k + 1].times_plus(splat(simd, row[2 * k + 1]), odd);
    }
    even + odd
}
