//! How far the strip is from release and relatch, and how fast it goes there, in registers.

use super::along::Along;
use super::fit::Fitted;
use super::station::place;
use crate::device::grid::Refinement;
use crate::device::{Device, Gauge, Grid, Model, Push};
use crate::solve::Distance;
use crate::solve::wide::{MOST_LANES, Row, Wide, registers, registers_mut, vectorized};
use pulp::Simd;

/// Weights of the bending integrals, padded to full registers.
#[derive(Debug, Clone)]
pub struct GaugeParts {
    /// Registers of bending points.
    slots: usize,
    /// Temperatures of the bending points from those of the nodes: one column of points a node.
    /// Empty when the points are the nodes.
    carry: Row,
    /// Weight of the curvature in the deflection, m^2.
    deflection: Row,
    /// Weight of the flexibility in the compliance, m^3.
    compliance: Row,
}

impl GaugeParts {
    /// Weights of a model whose bending points are `finer` (or the nodes).
    pub(in crate::device) fn new(
        grid: &Grid,
        finer: Option<(&Grid, &Refinement)>,
        deflection: &[f64],
        compliance: &[f64],
        len: usize,
    ) -> GaugeParts {
        let points = deflection.len();
        let slots = if finer.is_some() {
            points.div_ceil(MOST_LANES)
        } else {
            len / MOST_LANES
        };
        let pad = |x: &[f64]| Row::padded(x, slots * MOST_LANES);
        let carry = finer.map_or_else(
            || Row::zeros(0),
            |(fine, rule)| {
                let mut columns = Row::zeros(grid.len() * slots * MOST_LANES);
                for (c, out) in columns.chunks_exact_mut(slots * MOST_LANES).enumerate() {
                    let column = grid.refine(fine, rule, |j| if j == c { 1.0 } else { 0.0 });
                    out[..column.len()].copy_from_slice(&column);
                }
                columns
            },
        );
        GaugeParts {
            slots,
            carry,
            deflection: pad(deflection),
            compliance: pad(compliance),
        }
    }
}

/// Distance from an event that is a sum over the strip.
pub struct PushDistance<'a, S: Simd> {
    simd: S,
    device: &'a Device,
    parts: &'a GaugeParts,
    nodes: usize,
    push: Push,
    points: Row,
    rates: Row,
}

impl<'a, S: Simd> PushDistance<'a, S> {
    /// Distance from an event of a model; `None` where it is no sum over the strip.
    pub fn new(simd: S, model: &'a Model, gauge: Gauge) -> Option<PushDistance<'a, S>> {
        let push = model
            .mechanism()
            .push(gauge, model.device.release.preload_loss)?;
        let parts = &model.gauge;
        let room = if parts.carry.is_empty() {
            0
        } else {
            parts.slots * MOST_LANES
        };
        Some(PushDistance {
            simd,
            device: &model.device,
            parts,
            nodes: model.layout.strip,
            push,
            points: Row::zeros(room),
            rates: Row::zeros(room),
        })
    }

    #[inline(always)]
    fn carry(&mut self, y: &[f64], dy: &[f64]) {
        let slots = self.parts.slots;
        let columns = registers::<S>(&self.parts.carry);
        for s in 0..slots {
            let (mut t, mut r) = (Wide::splat(self.simd, 0.0), Wide::splat(self.simd, 0.0));
            for c in 0..self.nodes {
                let column = Wide::of(self.simd, columns[c * slots + s]);
                t = column.times_plus(Wide::splat(self.simd, y[c]), t);
                r = column.times_plus(Wide::splat(self.simd, dy[c]), r);
            }
            registers_mut::<S>(&mut self.points)[s] = t.raw();
            registers_mut::<S>(&mut self.rates)[s] = r.raw();
        }
    }
}

impl<S: Simd> Distance for PushDistance<'_, S> {
    fn value_and_rate(&mut self, _t: f64, y: &[f64], dy: &[f64]) -> (f64, f64) {
        vectorized!(self.simd, {
            let simd = self.simd;
            let carried = !self.parts.carry.is_empty();
            if carried {
                self.carry(y, dy);
            }
            let (points, rates) = if carried {
                (&self.points[..], &self.rates[..])
            } else {
                (y, dy)
            };
            let fit = &self.device.fit;
            let base = Wide::splat(simd, y[0]);
            let (mut value, mut rate) = (Wide::splat(simd, 0.0), Wide::splat(simd, 0.0));
            for s in 0..self.parts.slots {
                let weight = Wide::of(simd, registers::<S>(&self.parts.deflection)[s]);
                let zero = Wide::splat(simd, 0.0);
                // Points without weight (lumped nodes, padding) are given a temperature of the
                // strip.
                let used = zero.below(
                    weight.abs() + Wide::of(simd, registers::<S>(&self.parts.compliance)[s]).abs(),
                );
                let t_k = used.choose(Wide::of(simd, registers::<S>(points)[s]), base);
                let dt = Wide::of(simd, registers::<S>(rates)[s]);
                let at = place(simd, fit, t_k);
                let (k, k_slope) = at.value_and_slope(simd, fit, Fitted::Curvature);
                let weight = weight * Wide::splat(simd, self.push.deflection);
                value = weight.times_plus(k, value);
                rate = (weight * k_slope).times_plus(dt, rate);
                if self.push.compliance_n != 0.0 {
                    let (f, f_slope) = at.value_and_slope(simd, fit, Fitted::Flexibility);
                    let weight = Wide::of(simd, registers::<S>(&self.parts.compliance)[s])
                        * Wide::splat(simd, self.push.compliance_n);
                    value = weight.times_plus(f, value);
                    rate = (weight * f_slope).times_plus(dt, rate);
                }
            }
            (self.push.constant_m + value.sum(), rate.sum())
        })
    }
}

/// Value of a distance and its rate when the state changes at `dy`, by a difference; `value` takes
/// the time passed, s, and the state then.
pub(in crate::device) fn by_difference(
    y: &[f64],
    dy: &[f64],
    mut value: impl FnMut(f64, &[f64]) -> f64,
) -> (f64, f64) {
    let fastest = dy.iter().fold(1e-12f64, |m, v| m.max(v.abs()));
    // A change of a thousandth of a kelvin: the rate only aims, what is left at the event is closed
    // by the value.
    let step = 1e-3 / fastest;
    let after: Vec<f64> = y.iter().zip(dy).map(|(a, b)| a + step * b).collect();
    let now = value(0.0, y);
    (now, (value(step, &after) - now) / step)
}

/// Distance of any release from an event.
pub enum EventDistance<'a, S: Simd> {
    /// In registers.
    Push(PushDistance<'a, S>),
    /// Straight from the model.
    Plain(&'a Model, Gauge),
}

impl<S: Simd> Distance for EventDistance<'_, S> {
    fn value_and_rate(&mut self, t: f64, y: &[f64], dy: &[f64]) -> (f64, f64) {
        match self {
            EventDistance::Push(push) => push.value_and_rate(t, y, dy),
            EventDistance::Plain(model, gauge) => {
                let n = model.layout.len;
                by_difference(&y[..n], &dy[..n], |_, y| {
                    model.mechanism().distance_m(model, *gauge, y, 0.0)
                })
            }
        }
    }
}

impl<'a, S: Simd> Along<'a, S> {
    /// Distance of this strip's release from an event.
    pub fn distance(&self, gauge: Gauge) -> EventDistance<'a, S> {
        match PushDistance::new(self.simd, self.model, gauge) {
            Some(push) => EventDistance::Push(push),
            None => EventDistance::Plain(self.model, gauge),
        }
    }
}
