//! Steady states and trip points of many units at once, one a lane.
//!
//! The same bordered Newton's method as for one unit (`bordered.rs`), started from the nominal
//! unit's answer. The matrix is taken anew in the first steps and kept then: the units are alike,
//! and a chord costs little.

use crate::device::Beside;
use crate::solve::wide::{MOST_LANES, Row, Wide, registers, registers_mut, splat, vectorized};
use crate::solve::{Flow, LaneFlow, LaneMatrix};
use pulp::Simd;

/// Steps before a lane is left to be asked alone.
const MOST_STEPS: usize = 16;
/// Steps in which the matrix is taken anew.
const FRESH: usize = 2;
/// A lane has settled when no temperature moves more than this, K, and the square of the current by
/// no larger part.
const SETTLED_K: f64 = 1e-6;
const SETTLED_PART: f64 = 1e-9;

/// Work space.
pub struct LaneSteady {
    matrix: LaneMatrix,
    rates: Row,
    more: Row,
    settle: Row,
    per_square: Row,
    zero: Row,
}

impl LaneSteady {
    /// Work space for `width` lanes of unknowns that depend on each other from the first columns
    /// on.
    pub fn new(first_columns: Vec<usize>, width: usize) -> LaneSteady {
        let unknowns = first_columns.len();
        let room = || Row::zeros(unknowns * width);
        LaneSteady {
            matrix: LaneMatrix::new(first_columns, width),
            rates: room(),
            more: room(),
            settle: room(),
            per_square: room(),
            zero: room(),
        }
    }

    /// Trip point of every lane, A, under the ambient of its load; `y` holds a steady state nearby
    /// and becomes that of the trip point. The square of the current loaded is where the search
    /// begins. NaN: to be asked alone.
    pub fn trip_points<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut Beside<'_, S>,
        y: &mut [f64],
    ) -> [f64; MOST_LANES] {
        vectorized!(simd, {
            let zero = splat(simd, 0.0);
            let mut moving = [1.0; MOST_LANES];
            let mut found = [f64::NAN; MOST_LANES];
            for step in 0..MOST_STEPS {
                let squared = flow.squared_current();
                // Rates are linear in the square of the current: their slope against it is a
                // difference.
                flow.set_squared_current(squared + squared);
                flow.rates(zero, y, &mut self.more);
                flow.set_squared_current(squared);
                flow.rates(zero, y, &mut self.rates);
                if step < FRESH {
                    self.matrix.linearise(flow, y, &self.rates);
                    self.matrix.factor(simd, zero);
                }
                let inverse = splat(simd, 1.0) / squared;
                for (more, rate) in registers_mut::<S>(&mut self.more)
                    .iter_mut()
                    .zip(registers::<S>(&self.rates))
                {
                    *more = ((Wide::of(simd, *more) - Wide::of(simd, *rate)) * inverse).raw();
                }
                self.settle.copy_from_slice(&self.rates);
                self.matrix.solve(simd, &mut self.settle);
                self.per_square.copy_from_slice(&self.more);
                self.matrix.solve(simd, &mut self.per_square);
                let (value, along_settle) = flow.distance(y, &self.settle);
                let (_, along_square) = flow.distance(y, &self.per_square);
                let quarter = squared * splat(simd, 0.25);
                let change = (-(value + along_settle) / along_square)
                    .max(-quarter)
                    .min(quarter + quarter);
                let still = Wide::load(simd, &moving);
                let change = change * still;
                let mut largest = zero;
                for (i, y) in registers_mut::<S>(y).iter_mut().enumerate() {
                    let by = Wide::of(simd, registers::<S>(&self.per_square)[i]).times_plus(
                        change,
                        Wide::of(simd, registers::<S>(&self.settle)[i]) * still,
                    );
                    largest = largest.max(by.abs());
                    *y = (Wide::of(simd, *y) + by).raw();
                }
                let next = squared + change;
                flow.set_squared_current(next);
                let (mut squares, mut changes, mut moves) =
                    ([0.0; MOST_LANES], [0.0; MOST_LANES], [0.0; MOST_LANES]);
                next.store(&mut squares);
                change.store(&mut changes);
                largest.store(&mut moves);
                for lane in 0..S::F64_LANES {
                    if moving[lane] > 0.0
                        && changes[lane].abs() <= SETTLED_PART * squares[lane]
                        && moves[lane] <= SETTLED_K
                    {
                        moving[lane] = 0.0;
                        found[lane] = squares[lane].sqrt();
                    }
                }
                if !moving[..S::F64_LANES].contains(&1.0) {
                    break;
                }
            }
            self.only_stable(simd, flow, y, &mut found);
            found
        })
    }

    /// Trip points only on the branch that time climbs to, where more current warms every node, and
    /// inside the range of the laws.
    #[inline(always)]
    fn only_stable<S: Simd>(
        &self,
        simd: S,
        flow: &Beside<'_, S>,
        y: &[f64],
        found: &mut [f64; MOST_LANES],
    ) {
        let mut least = splat(simd, f64::INFINITY);
        for by in registers::<S>(&self.per_square) {
            least = least.min(Wide::of(simd, *by));
        }
        let (low, high) = flow.extremes(y);
        let mut numbers = [[0.0; MOST_LANES]; 3];
        least.store(&mut numbers[0]);
        low.store(&mut numbers[1]);
        high.store(&mut numbers[2]);
        let range = flow.range();
        for lane in 0..S::F64_LANES {
            let inside = numbers[1][lane] >= range.0 && numbers[2][lane] <= range.1;
            if !(numbers[0][lane] > 0.0 && inside) {
                found[lane] = f64::NAN;
            }
        }
    }

    /// Bring `y`, a state nearby, to the steady state under the load; true where it settled inside
    /// the range.
    pub fn settle<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut Beside<'_, S>,
        y: &mut [f64],
    ) -> [bool; MOST_LANES] {
        vectorized!(simd, {
            let zero = splat(simd, 0.0);
            let mut moving = [1.0; MOST_LANES];
            for step in 0..MOST_STEPS {
                flow.rates(zero, y, &mut self.rates);
                if step < FRESH {
                    self.matrix.linearise(flow, y, &self.rates);
                    self.matrix.factor(simd, zero);
                }
                self.settle.copy_from_slice(&self.rates);
                self.matrix.solve(simd, &mut self.settle);
                let still = Wide::load(simd, &moving);
                let mut largest = zero;
                for (y, by) in registers_mut::<S>(y)
                    .iter_mut()
                    .zip(registers::<S>(&self.settle))
                {
                    let by = Wide::of(simd, *by) * still;
                    largest = largest.max(by.abs());
                    *y = (Wide::of(simd, *y) + by).raw();
                }
                let mut moves = [0.0; MOST_LANES];
                largest.store(&mut moves);
                for lane in 0..S::F64_LANES {
                    if moves[lane] <= SETTLED_K {
                        moving[lane] = 0.0;
                    }
                }
                if !moving[..S::F64_LANES].contains(&1.0) {
                    break;
                }
            }
            let (low, high) = flow.extremes(y);
            let mut ends = [[0.0; MOST_LANES]; 2];
            low.store(&mut ends[0]);
            high.store(&mut ends[1]);
            let range = flow.range();
            let mut settled = [false; MOST_LANES];
            for lane in 0..S::F64_LANES {
                settled[lane] =
                    moving[lane] == 0.0 && ends[0][lane] >= range.0 && ends[1][lane] <= range.1;
            }
            settled
        })
    }

    /// Distance of every lane from its event in a state, m.
    pub fn distance<S: Simd>(&self, flow: &Beside<'_, S>, y: &[f64]) -> [f64; MOST_LANES] {
        let mut out = [0.0; MOST_LANES];
        flow.distance(y, &self.zero).0.store(&mut out);
        out
    }
}
