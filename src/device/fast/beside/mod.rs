//! The heat equation of as many units as a register holds, side by side: one unit a lane.
//!
//! Every operation acts on each lane by itself, so that a unit's numbers do not depend on its
//! neighbours.

mod slopes;
mod units;

use super::sheet::Sheet;
use super::station::horner as common_horner;
use super::unit::Unit;
use crate::solve::wide::{MOST_LANES, Row, Wide, registers, registers_mut, splat, vectorized};
use crate::solve::{Flow, LaneFlow};
use pulp::Simd;
use units::gather;

/// What is asked of one lane.
#[derive(Debug, Clone, Copy)]
pub struct LaneLoad {
    /// Current, A; open contacts when `None`.
    pub current_a: Option<f64>,
    /// Ambient, K.
    pub ambient_k: f64,
}

/// Units side by side under constant drives, with the laws of each as polynomials.
pub struct Beside<'a, S: Simd> {
    simd: S,
    sheet: &'a Sheet,
    /// Powers of the reduced temperature: one register each.
    capacity: Row,
    conduction: Row,
    resistance: Row,
    curvature: Row,
    flexibility: Row,
    /// Deflection and compliance weights, one register a node.
    deflection: Row,
    compliance: Row,
    theta: Row,
    length: Wide<S>,
    still: Wide<S>,
    moving: Wide<S>,
    radiation: Wide<S>,
    perimeter: Wide<S>,
    share_squared: Wide<S>,
    clamped: [Wide<S>; 3],
    moving_contact: [Wide<S>; 2],
    fixed: [Wide<S>; 2],
    contact_half: Wide<S>,
    /// Given conductance of the closed contact, and what Wiedemann and Franz add per kelvin.
    contact_given: Wide<S>,
    contact_per_k: Wide<S>,
    winding: [Wide<S>; 5],
    housing: [Wide<S>; 2],
    release: [Wide<S>; 3],
    /// Fastest rate of each unit, 1/s.
    fastest: Wide<S>,
    squared: Wide<S>,
    ambient: Wide<S>,
    closed: Wide<S>,
    /// What the distance is taken to: multiplier of the deflection, of the compliance, and what is
    /// added.
    gauge: [Wide<S>; 3],
    z_slope: f64,
    z_start: f64,
}

impl<S: Simd> Beside<'_, S> {
    /// Put every lane under its load, and look out for release (closed) or relatch (open).
    pub fn load(&mut self, loads: &[LaneLoad], in_hand_m: f64) {
        vectorized!(self.simd, {
            let simd = self.simd;
            let mut arrays = [[0.0; MOST_LANES]; 3];
            for lane in 0..S::F64_LANES {
                let load = loads.get(lane).unwrap_or(&loads[0]);
                arrays[0][lane] = load.current_a.map_or(0.0, |i| i * i);
                arrays[1][lane] = load.ambient_k;
                arrays[2][lane] = if load.current_a.is_some() { 1.0 } else { 0.0 };
            }
            self.squared = Wide::load(simd, &arrays[0]);
            self.ambient = Wide::load(simd, &arrays[1]);
            self.closed = Wide::load(simd, &arrays[2]);
            let one = splat(simd, 1.0);
            let open = one - self.closed;
            let [release, relatch, force] = self.release;
            self.gauge = [
                self.closed - open,
                -(force * self.closed),
                (splat(simd, in_hand_m) - release) * self.closed + relatch * open,
            ];
        })
    }

    /// Take the release and relatch travels of the units anew, after a calibration; before
    /// [`Beside::load`].
    pub fn set_travels(&mut self, units: &[Unit]) {
        vectorized!(self.simd, {
            self.release[0] = gather(self.simd, units, |u| u.release_travel_m);
            self.release[1] = gather(self.simd, units, |u| u.relatch_travel_m);
        })
    }

    /// Square of the current of every lane, A^2.
    #[inline(always)]
    pub fn squared_current(&self) -> Wide<S> {
        self.squared
    }

    /// Set the square of the current of every lane, A^2; the contacts stay as they are.
    #[inline(always)]
    pub fn set_squared_current(&mut self, squared: Wide<S>) {
        self.squared = squared;
    }

    #[inline(always)]
    fn state(&self, y: &[f64], i: usize) -> Wide<S> {
        Wide::of(self.simd, registers::<S>(y)[i])
    }

    #[inline(always)]
    fn reduced(&self, t_k: Wide<S>) -> Wide<S> {
        t_k.times_plus(
            splat(self.simd, self.z_slope),
            splat(self.simd, self.z_start),
        )
    }

    fn rates_now(&mut self, y: &[f64], dy: &mut [f64]) {
        vectorized!(self.simd, {
            let simd = self.simd;
            let sheet = self.sheet;
            let n = sheet.nodes;
            let [fixed_at, winding_at, housing_at] = sheet.lumped();
            let air = if sheet.has_housing {
                self.state(y, housing_at)
            } else {
                self.ambient
            };
            let strip_squared = self.squared * self.share_squared;
            let film = &sheet.film;
            let (film_scale, film_start) = (0.5 / film.half_k, -film.middle_k / film.half_k);
            let (mut to_air, mut from_winding) = (splat(simd, 0.0), splat(simd, 0.0));
            let per_length = self.winding[3] / self.length;
            let inverse_length = splat(simd, 1.0) / self.length;
            for j in 0..n {
                let theta = horner(simd, &self.conduction, self.reduced(self.state(y, j)));
                registers_mut::<S>(&mut self.theta)[j] = theta.raw();
            }
            for j in 0..n {
                let t_k = self.state(y, j);
                let z = self.reduced(t_k);
                let ohm = horner(simd, &self.resistance, z);
                let capacity = horner(simd, &self.capacity, z);
                let u = t_k - air;
                let sum = t_k + air;
                let x = sum.times_plus(splat(simd, film_scale), splat(simd, film_start));
                let mut h = common_horner(simd, &film.still, x) * self.still;
                if !film.moving.is_empty() {
                    let root = u.abs().fourth_root() * self.moving;
                    h = common_horner(simd, &film.moving, x).times_plus(root, h);
                }
                let squares = t_k.times_plus(t_k, air * air);
                h = (squares * sum).times_plus(self.radiation, h);
                let loss = h * u * self.perimeter;
                let w = self.length * splat(simd, sheet.weight[j]);
                let mut gain = strip_squared.times_plus(ohm, -loss);
                if sheet.has_housing {
                    to_air = loss.times_plus(w, to_air);
                }
                if sheet.has_winding {
                    let q = (self.state(y, winding_at) - t_k) * per_length;
                    gain = gain + q;
                    from_winding = q.times_plus(w, from_winding);
                }
                let (first, row) = &sheet.stiffness[j];
                let (mut even, mut odd) = (splat(simd, 0.0), splat(simd, 0.0));
                let theta = &registers::<S>(&self.theta)[*first..first + row.len()];
                let mut k = 0;
                while k + 1 < row.len() {
                    even = Wide::of(simd, theta[k]).times_plus(splat(simd, row[k]), even);
                    odd = Wide::of(simd, theta[k + 1]).times_plus(splat(simd, row[k + 1]), odd);
                    k += 2;
                }
                if k < row.len() {
                    even = Wide::of(simd, theta[k]).times_plus(splat(simd, row[k]), even);
                }
                let mut flow = gain * w - (even + odd) * inverse_length;
                let mut mass = capacity * w;
                if j == 0 {
                    let [heat, ohm, conductance] = self.clamped;
                    flow = flow + self.squared * ohm - conductance * (t_k - self.ambient);
                    mass = mass + heat;
                }
                if j == n - 1 {
                    let [heat, conductance] = self.moving_contact;
                    let given = conductance * u;
                    let (half, across) = self.contact(t_k, self.state(y, fixed_at));
                    flow = flow - given + half - across;
                    mass = mass + heat;
                    if sheet.has_housing {
                        to_air = to_air + given;
                    }
                }
                registers_mut::<S>(dy)[j] = (flow / mass).raw();
            }
            let fixed_k = self.state(y, fixed_at);
            let (half, across) = self.contact(self.state(y, n - 1), fixed_k);
            let flow = half + across - self.fixed[1] * (fixed_k - self.ambient);
            registers_mut::<S>(dy)[fixed_at] = (flow / self.fixed[0]).raw();
            if sheet.has_winding {
                let [ohm, coefficient, heat, _, conductance] = self.winding;
                let t_k = self.state(y, winding_at);
                let warm = coefficient.times_plus(t_k - splat(simd, 293.15), splat(simd, 1.0));
                let resistance = ohm * warm.max(splat(simd, 0.1));
                let given = conductance * (t_k - air);
                to_air = to_air + given;
                let flow = self.squared * resistance - from_winding - given;
                registers_mut::<S>(dy)[winding_at] = (flow / heat).raw();
            }
            if sheet.has_housing {
                let [heat, conductance] = self.housing;
                let flow = to_air - conductance * (air - self.ambient);
                registers_mut::<S>(dy)[housing_at] = (flow / heat).raw();
            }
        })
    }

    /// Half the heat of the closed contact, and the heat that crosses it.
    #[inline(always)]
    fn contact(&self, moving_k: Wide<S>, fixed_k: Wide<S>) -> (Wide<S>, Wide<S>) {
        (
            self.squared * self.contact_half,
            self.contact_conductance(moving_k + fixed_k) * (moving_k - fixed_k),
        )
    }

    /// Conductance of the closed contact between temperatures of a sum.
    #[inline(always)]
    fn contact_conductance(&self, sum_k: Wide<S>) -> Wide<S> {
        self.contact_per_k.times_plus(sum_k, self.contact_given) * self.closed
    }
}

/// A polynomial whose coefficients differ from lane to lane.
#[inline(always)]
fn horner<S: Simd>(simd: S, coefficients: &[f64], z: Wide<S>) -> Wide<S> {
    let mut v = splat(simd, 0.0);
    for c in registers::<S>(coefficients).iter().rev() {
        v = v.times_plus(z, Wide::of(simd, *c));
    }
    v
}

#[inline(always)]
fn horner_with_slope<S: Simd>(simd: S, coefficients: &[f64], z: Wide<S>) -> (Wide<S>, Wide<S>) {
    let (mut v, mut d) = (splat(simd, 0.0), splat(simd, 0.0));
    for c in registers::<S>(coefficients).iter().rev() {
        d = d.times_plus(z, v);
        v = v.times_plus(z, Wide::of(simd, *c));
    }
    (v, d)
}

impl<S: Simd> Flow<S> for Beside<'_, S> {
    fn len(&self) -> usize {
        self.sheet.unknowns() * S::F64_LANES
    }

    fn unknowns(&self) -> usize {
        self.sheet.unknowns()
    }

    fn rates(&mut self, _t: Wide<S>, y: &[f64], dy: &mut [f64]) {
        self.rates_now(y, dy);
    }

    #[inline(always)]
    fn reference(&self) -> Wide<S> {
        self.ambient
    }

    fn fastest_per_s(&self) -> f64 {
        self.fastest.range().1
    }
}

impl<S: Simd> LaneFlow<S> for Beside<'_, S> {
    #[inline(always)]
    fn fastest_lanes(&self) -> Wide<S> {
        self.fastest
    }

    fn distance(&self, y: &[f64], dy: &[f64]) -> (Wide<S>, Wide<S>) {
        vectorized!(self.simd, {
            let simd = self.simd;
            let [deflection, compliance, constant] = self.gauge;
            let (mut value, mut rate) = (splat(simd, 0.0), splat(simd, 0.0));
            let (mut stiff, mut stiff_rate) = (splat(simd, 0.0), splat(simd, 0.0));
            let slope = splat(simd, self.z_slope);
            for j in 0..self.sheet.nodes {
                let z = self.reduced(self.state(y, j));
                let dz = self.state(dy, j) * slope;
                let (k, k_slope) = horner_with_slope(simd, &self.curvature, z);
                let w = self.state(&self.deflection, j);
                value = w.times_plus(k, value);
                rate = (w * k_slope).times_plus(dz, rate);
                let (f, f_slope) = horner_with_slope(simd, &self.flexibility, z);
                let w = self.state(&self.compliance, j);
                stiff = w.times_plus(f, stiff);
                stiff_rate = (w * f_slope).times_plus(dz, stiff_rate);
            }
            (
                deflection.times_plus(value, compliance.times_plus(stiff, constant)),
                deflection.times_plus(rate, compliance * stiff_rate),
            )
        })
    }

    #[inline(always)]
    fn extremes(&self, y: &[f64]) -> (Wide<S>, Wide<S>) {
        let (mut low, mut high) = (self.state(y, 0), self.state(y, 0));
        for j in 1..self.sheet.nodes {
            low = low.min(self.state(y, j));
            high = high.max(self.state(y, j));
        }
        (low, high)
    }

    fn range(&self) -> (f64, f64) {
        (self.sheet.low_k, self.sheet.high_k)
    }

    fn first_columns(&self) -> Vec<usize> {
        self.sheet.first_columns()
    }

    fn jacobian(&mut self, y: &[f64], rates: &[f64], rows: &mut [f64]) {
        vectorized!(self.simd, self.fill_jacobian(y, rates, rows));
    }
}
