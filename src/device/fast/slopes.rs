//! Slopes of the fast right-hand side: against the state, by columns, and against time.

use super::along::{Along, SlopeScratch};
use super::fit::Fitted;
use super::station::place;
use crate::device::build::winding_resistance;
use crate::device::drive::Phase;
use crate::device::time_slope::time_slope;
use crate::scenario::ShuntNode;
use crate::solve::StiffFlow;
use crate::solve::Wide;
use crate::solve::wide::{registers, registers_mut, splat, vectorized};
use pulp::Simd;

impl<S: Simd> StiffFlow<S> for Along<'_, S> {
    fn jacobian_columns(&mut self, t: f64, y: &[f64], columns: &mut [f64]) {
        vectorized!(self.simd, self.fill_jacobian(t, y, columns));
    }

    fn time_slope(&mut self, t: f64, y: &[f64], dfdt: &mut [f64]) -> bool {
        if self.constant {
            return false;
        }
        let drive = self.drive;
        time_slope(&drive, t, dfdt, |squared, ambient_k, dy| {
            self.rates_with(squared, ambient_k, y, dy);
        })
    }
}

impl<S: Simd> Along<'_, S> {
    #[inline(always)]
    fn fill_jacobian(&mut self, t: f64, y: &[f64], columns: &mut [f64]) {
        let (simd, model, parts) = (self.simd, self.model, self.parts);
        let (d, l) = (&model.device, &model.layout);
        let n = l.strip;
        let len = parts.len;
        let (i, _) = self.drive.current(t);
        let squared = i * i;
        let strip_squared = squared * d.current_share * d.current_share;
        let air = l.housing.map_or(self.drive.ambient_k(t), |h| y[h]);
        let surface = self.surface();
        // The flows themselves, for the slope of the heat capacity under them.
        let room = self.slopes.take();
        let mut scratch = room.unwrap_or_else(|| SlopeScratch::new(len));
        self.rates_at(t, y, &mut scratch.rates);
        for s in 0..len / S::F64_LANES {
            let t_k = self.strip_temperature(y, s);
            let at = place(simd, &d.fit, t_k);
            let (_, capacity_slope) = at.value_and_slope(simd, &d.fit, Fitted::Capacity);
            let (_, ohm_slope) = at.value_and_slope(simd, &d.fit, Fitted::Resistance);
            let (_, conduction) = at.value_and_slope(simd, &d.fit, Fitted::Conduction);
            let (own, against_air) = surface.loss_slopes(simd, t_k, splat(simd, air));
            let w = self.weight(s);
            let rate = self.state(&scratch.rates, s);
            let own_slope = (ohm_slope * splat(simd, strip_squared) - own) * w;
            let diagonal = own_slope - rate * w * capacity_slope;
            registers_mut::<S>(&mut scratch.diagonal)[s] = diagonal.raw();
            registers_mut::<S>(&mut scratch.conduction)[s] = conduction.raw();
            registers_mut::<S>(&mut scratch.resistance)[s] = (ohm_slope * w).raw();
            registers_mut::<S>(&mut scratch.loss)[s] = (own * w).raw();
            registers_mut::<S>(&mut scratch.against_air)[s] = (against_air * w).raw();
        }
        columns[..l.len * len].fill(0.0);
        for (s, block) in parts.stiffness.iter().enumerate() {
            let entries = registers::<S>(&block.entries);
            for (c, entry) in entries.iter().enumerate() {
                let j = block.first + c;
                if j >= n {
                    continue;
                }
                let k = splat(simd, -scratch.conduction[j]);
                registers_mut::<S>(&mut columns[j * len..(j + 1) * len])[s] =
                    (Wide::of(simd, *entry) * k).raw();
            }
        }
        let mut add = |row: usize, column: usize, v: f64| columns[column * len + row] += v;
        for j in 0..n {
            add(j, j, scratch.diagonal[j]);
        }
        let f = l.fixed;
        add(0, 0, -d.clamped.conductance_w_per_k);
        add(n - 1, n - 1, -d.moving.conductance_w_per_k);
        add(f, f, -d.fixed.conductance_w_per_k);
        if self.drive.phase == Phase::Closed {
            let (conductance, slope) = d.contact.conductance(y[n - 1], y[f]);
            let lean = slope * (y[n - 1] - y[f]);
            for (row, sign) in [(n - 1, -1.0), (f, 1.0)] {
                add(row, n - 1, sign * (conductance + lean));
                add(row, f, sign * (lean - conductance));
            }
        }
        if let (Some(ih), Some(h)) = (l.housing, &d.housing) {
            let moving = d.moving.conductance_w_per_k;
            add(n - 1, ih, moving);
            add(ih, n - 1, moving);
            add(ih, ih, -moving - h.conductance_w_per_k);
            for j in 0..n {
                add(j, ih, -scratch.against_air[j]);
                add(ih, j, scratch.loss[j]);
                add(ih, ih, scratch.against_air[j]);
            }
        }
        if let (Some(iw), Some(w)) = (l.winding, &d.winding) {
            let per_length = w.conductance_to_strip_w_per_k / d.length_m;
            for j in 0..n {
                let q = per_length * parts.weight_m[j];
                add(j, iw, q);
                add(j, j, -q);
                add(iw, j, q);
                add(iw, iw, -q);
            }
            let to_air = w.conductance_to_air_w_per_k;
            add(iw, iw, squared * winding_resistance(w, y[iw]).1 - to_air);
            if let Some(ih) = l.housing {
                add(iw, ih, to_air);
                add(ih, iw, to_air);
                add(ih, ih, -to_air);
            }
        }
        let shunt_row = match d.shunt_heat_to {
            None => None,
            Some(ShuntNode::ClampedTerminal) => Some(0),
            Some(ShuntNode::MovingContact) => Some(n - 1),
            Some(ShuntNode::Housing) => l.housing,
        };
        if let Some(row) = shunt_row {
            let factor = squared * d.current_share * (1.0 - d.current_share);
            for j in 0..n {
                add(row, j, factor * scratch.resistance[j]);
            }
        }
        for column in columns[..l.len * len].chunks_exact_mut(len) {
            let inverse = registers::<S>(&self.inverse_mass);
            for (v, m) in registers_mut::<S>(column).iter_mut().zip(inverse) {
                *v = (Wide::of(simd, *v) * Wide::of(simd, *m)).raw();
            }
        }
        self.slopes = Some(scratch);
    }
}
