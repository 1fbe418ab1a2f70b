//! Slopes of the rates of units side by side against their states.

use super::{Beside, horner_with_slope};
use crate::device::fast::station::film_slopes;
use crate::solve::wide::{Wide, registers, registers_mut, splat};
use pulp::Simd;

impl<S: Simd> Beside<'_, S> {
    /// `df/dy` by rows, at a state whose rates are known.
    #[inline(always)]
    pub(super) fn fill_jacobian(&mut self, y: &[f64], rates: &[f64], rows: &mut [f64]) {
        let (simd, sheet) = (self.simd, self.sheet);
        let (n, all) = (sheet.nodes, sheet.unknowns());
        let [fixed_at, winding_at, housing_at] = sheet.lumped();
        rows.fill(0.0);
        let rows = registers_mut::<S>(rows);
        let z_slope = splat(simd, self.z_slope);
        let air = if sheet.has_housing {
            self.state(y, housing_at)
        } else {
            self.ambient
        };
        let strip_squared = self.squared * self.share_squared * z_slope;
        let per_length = self.winding[3] / self.length;
        let conducts = z_slope / self.length;
        for j in 0..n {
            let z = self.reduced(self.state(y, j));
            let (_, slope) = horner_with_slope(simd, &self.conduction, z);
            registers_mut::<S>(&mut self.theta)[j] = (slope * conducts).raw();
        }
        let [_, moving_w_per_k] = self.moving_contact;
        let contact = self.contact_slopes(self.state(y, n - 1), self.state(y, fixed_at));
        for j in 0..n {
            let t_k = self.state(y, j);
            let z = self.reduced(t_k);
            let (capacity, capacity_slope) = horner_with_slope(simd, &self.capacity, z);
            let (_, ohm_slope) = horner_with_slope(simd, &self.resistance, z);
            let factors = [self.still, self.moving];
            let (own, against_air) =
                film_slopes(simd, &sheet.film, factors, self.radiation, t_k, air);
            let w = self.length * splat(simd, sheet.weight[j]);
            let surface = self.perimeter * w;
            let mut mass = capacity * w;
            let heats = self.state(rates, j) * capacity_slope * z_slope;
            let mut diagonal = (strip_squared * ohm_slope - heats) * w - own * surface;
            let mut to_housing = own * surface;
            let mut from_housing = -(against_air * surface);
            let row = &mut rows[j * all..(j + 1) * all];
            let (first, stiffness) = &sheet.stiffness[j];
            let theta = registers::<S>(&self.theta);
            for (k, stiff) in stiffness.iter().enumerate() {
                row[first + k] = (Wide::of(simd, theta[first + k]) * splat(simd, -stiff)).raw();
            }
            if j == 0 {
                let [heat, _, conductance] = self.clamped;
                diagonal = diagonal - conductance;
                mass = mass + heat;
            }
            if j == n - 1 {
                diagonal = diagonal - moving_w_per_k - contact[0];
                row[fixed_at] = (-contact[1]).raw();
                to_housing = to_housing + moving_w_per_k;
                from_housing = from_housing + moving_w_per_k;
                mass = mass + self.moving_contact[0];
            }
            let from_winding = per_length * w;
            if sheet.has_winding {
                diagonal = diagonal - from_winding;
                row[winding_at] = from_winding.raw();
            }
            if sheet.has_housing {
                row[housing_at] = from_housing.raw();
            }
            row[j] = (Wide::of(simd, row[j]) + diagonal).raw();
            divide(simd, row, mass);
            if sheet.has_winding {
                let row = &mut rows[winding_at * all..(winding_at + 1) * all];
                row[j] = from_winding.raw();
                row[winding_at] = (Wide::of(simd, row[winding_at]) - from_winding).raw();
            }
            if sheet.has_housing {
                let row = &mut rows[housing_at * all..(housing_at + 1) * all];
                row[j] = to_housing.raw();
                row[housing_at] = (Wide::of(simd, row[housing_at]) - from_housing).raw();
            }
        }
        self.lumped_rows(y, rows, contact);
    }

    /// Slopes of the heat that crosses the contact, against both sides, W/K.
    #[inline(always)]
    fn contact_slopes(&self, moving_k: Wide<S>, fixed_k: Wide<S>) -> [Wide<S>; 2] {
        let conductance = self.contact_conductance(moving_k + fixed_k);
        let lean = self.contact_per_k * self.closed * (moving_k - fixed_k);
        [lean + conductance, lean - conductance]
    }

    /// Rows of the fixed contact, the winding and the housing, to which the strip has given its
    /// share.
    #[inline(always)]
    fn lumped_rows(&self, y: &[f64], rows: &mut [S::f64s], contact: [Wide<S>; 2]) {
        let (simd, sheet) = (self.simd, self.sheet);
        let all = sheet.unknowns();
        let [fixed_at, winding_at, housing_at] = sheet.lumped();
        let [heat, conductance] = self.fixed;
        let row = &mut rows[fixed_at * all..][..all];
        row[fixed_at - 1] = (contact[0] / heat).raw();
        row[fixed_at] = ((contact[1] - conductance) / heat).raw();
        let [ohm, coefficient, heat, _, to_air] = self.winding;
        if sheet.has_winding {
            let row = &mut rows[winding_at * all..][..all];
            let warm = coefficient.times_plus(
                self.state(y, winding_at) - splat(simd, 293.15),
                splat(simd, 1.0),
            );
            let zero = splat(simd, 0.0);
            let warms = splat(simd, 0.1).below(warm).choose(ohm * coefficient, zero);
            let own = Wide::of(simd, row[winding_at]) + self.squared * warms - to_air;
            row[winding_at] = own.raw();
            if sheet.has_housing {
                row[housing_at] = to_air.raw();
            }
            divide(simd, row, heat);
        }
        if sheet.has_housing {
            let row = &mut rows[housing_at * all..][..all];
            let [heat, conductance] = self.housing;
            let mut own = Wide::of(simd, row[housing_at]) - conductance;
            if sheet.has_winding {
                own = own - to_air;
                row[winding_at] = to_air.raw();
            }
            row[housing_at] = own.raw();
            divide(simd, row, heat);
        }
    }
}

#[inline(always)]
fn divide<S: Simd>(simd: S, row: &mut [S::f64s], by: Wide<S>) {
    let inverse = splat(simd, 1.0) / by;
    for entry in row {
        *entry = (Wide::of(simd, *entry) * inverse).raw();
    }
}
