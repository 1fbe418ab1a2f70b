//! Small dense matrices, one a lane: factors and solutions without exchanges.
//!
//! Meant for `-df/dy` of diffusion on a dozen nodes, which is positive definite up to a scaling of
//! its rows: there elimination needs no exchanges. A lane whose pivots vanish gets numbers that are
//! not finite, which is for the caller to see.

use super::flow::Flow;
use super::wide::{Row, Wide, registers, registers_mut, splat, vectorized};
use pulp::Simd;

/// Difference with which slopes are taken, in units of the unknowns (kelvin).
const DIFFERENCE: f64 = 1e-3;

/// Work space for a matrix of some unknowns a lane.
#[derive(Debug, Clone)]
pub struct LaneMatrix {
    unknowns: usize,
    /// Rows of registers; after factoring the pivots' inverses stand on the diagonal.
    entries: Row,
    moved: Row,
    rates: Row,
}

impl LaneMatrix {
    /// Work space for `unknowns` unknowns, `width` lanes.
    pub fn new(unknowns: usize, width: usize) -> LaneMatrix {
        LaneMatrix {
            unknowns,
            entries: Row::zeros(unknowns * unknowns * width),
            moved: Row::zeros(unknowns * width),
            rates: Row::zeros(unknowns * width),
        }
    }

    /// Set to `-df/dy` at a state whose rates are known, by differences, and factor.
    pub fn factor_slopes<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl Flow<S>,
        y: &[f64],
        rates: &[f64],
    ) {
        vectorized!(simd, {
            let n = self.unknowns;
            let zero = splat(simd, 0.0);
            let inverse = splat(simd, -1.0 / DIFFERENCE);
            self.moved.copy_from_slice(y);
            for column in 0..n {
                let own = Wide::of(simd, registers::<S>(y)[column]);
                registers_mut::<S>(&mut self.moved)[column] = (own + splat(simd, DIFFERENCE)).raw();
                flow.rates(zero, &self.moved, &mut self.rates);
                registers_mut::<S>(&mut self.moved)[column] = own.raw();
                for row in 0..n {
                    let change = Wide::of(simd, registers::<S>(&self.rates)[row])
                        - Wide::of(simd, registers::<S>(rates)[row]);
                    registers_mut::<S>(&mut self.entries)[row * n + column] =
                        (change * inverse).raw();
                }
            }
            self.factor(simd);
        })
    }

    #[inline(always)]
    fn factor<S: Simd>(&mut self, simd: S) {
        let n = self.unknowns;
        let a = registers_mut::<S>(&mut self.entries);
        for k in 0..n {
            let pivot = splat(simd, 1.0) / Wide::of(simd, a[k * n + k]);
            a[k * n + k] = pivot.raw();
            for row in k + 1..n {
                let factor = Wide::of(simd, a[row * n + k]) * pivot;
                a[row * n + k] = factor.raw();
                for column in k + 1..n {
                    let above = Wide::of(simd, a[k * n + column]);
                    let own = Wide::of(simd, a[row * n + column]);
                    a[row * n + column] = (-factor).times_plus(above, own).raw();
                }
            }
        }
    }

    /// Solve with the factors; `x` holds the right-hand side and becomes the solution.
    pub fn solve<S: Simd>(&self, simd: S, x: &mut [f64]) {
        vectorized!(simd, {
            let n = self.unknowns;
            let a = registers::<S>(&self.entries);
            let x = registers_mut::<S>(x);
            for row in 0..n {
                let mut sum = Wide::of(simd, x[row]);
                for column in 0..row {
                    let factor = Wide::of(simd, a[row * n + column]);
                    sum = (-factor).times_plus(Wide::of(simd, x[column]), sum);
                }
                x[row] = sum.raw();
            }
            for row in (0..n).rev() {
                let mut sum = Wide::of(simd, x[row]);
                for column in row + 1..n {
                    let factor = Wide::of(simd, a[row * n + column]);
                    sum = (-factor).times_plus(Wide::of(simd, x[column]), sum);
                }
                x[row] = (sum * Wide::of(simd, a[row * n + row])).raw();
            }
        })
    }
}
