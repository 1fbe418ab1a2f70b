//! One step of Rodas5P in registers, with the inverse of its small matrix.
//!
//! A dozen unknowns make substitution a chain of dependent operations; multiplying by the inverse
//! is not, and one inverse serves eight stages.

use super::flow::StiffFlow;
use super::stages::{Stages, StepMatrix};
use super::tableau5p::GAMMA;
use super::wide::{Row, Wide, registers, registers_mut, vectorized};
use pulp::Simd;

/// Work space of the stepper.
#[derive(Debug, Clone)]
pub struct Implicit5p {
    /// Jacobian by columns.
    jacobian: Row,
    inverse: Inverse,
    dfdt: Row,
    moves: bool,
    /// Its stages, which count the right-hand sides.
    pub stages: Stages,
    /// Jacobians evaluated.
    pub jacobian_count: usize,
}

impl Implicit5p {
    /// Work space for states of `unknowns` numbers padded to `len`.
    pub fn new(unknowns: usize, len: usize) -> Implicit5p {
        Implicit5p {
            jacobian: Row::zeros(unknowns * len),
            inverse: Inverse {
                unknowns,
                columns: Row::zeros(unknowns * len),
            },
            dfdt: Row::zeros(len),
            moves: false,
            stages: Stages::new(len),
            jacobian_count: 0,
        }
    }

    /// Evaluate the Jacobian and the time slope at the start of the next step.
    pub fn linearise<S: Simd>(&mut self, flow: &mut impl StiffFlow<S>, t: f64, y: &[f64]) {
        flow.jacobian_columns(t, y, &mut self.jacobian);
        self.moves = flow.time_slope(t, y, &mut self.dfdt);
        self.jacobian_count += 1;
    }

    /// Step by `h` from `(t, y)`, whose slope is `slope`. Writes the new state and the error
    /// estimate; false when the matrix is singular.
    #[allow(clippy::too_many_arguments)]
    pub fn step<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl StiffFlow<S>,
        t: f64,
        h: f64,
        y: &[f64],
        slope: &[f64],
        new: &mut [f64],
        error: &mut [f64],
    ) -> bool {
        vectorized!(simd, {
            if !self.inverse.set(simd, 1.0 / (GAMMA * h), &self.jacobian) {
                return false;
            }
            let at = (Wide::splat(simd, t), Wide::splat(simd, h));
            let dfdt = self.moves.then_some(&self.dfdt[..]);
            self.stages
                .step(simd, flow, &self.inverse, at, y, slope, dfdt, new, error);
            let mut sum = Wide::splat(simd, 0.0);
            for y in registers::<S>(new) {
                sum = sum + Wide::of(simd, *y);
            }
            sum.sum().is_finite()
        })
    }

    /// Solve `(shift - J) x = b` with the Jacobian of the last linearisation; false when singular.
    pub fn solve_shifted<S: Simd>(
        &mut self,
        simd: S,
        shift: f64,
        b: &[f64],
        x: &mut [f64],
    ) -> bool {
        vectorized!(simd, {
            let is_regular = self.inverse.set(simd, shift, &self.jacobian);
            if is_regular {
                self.inverse.solution(simd, b, x);
            }
            is_regular
        })
    }
}

/// An inverse by columns.
#[derive(Debug, Clone)]
struct Inverse {
    unknowns: usize,
    columns: Row,
}

impl<S: Simd> StepMatrix<S> for Inverse {
    #[inline(always)]
    fn solution(&self, simd: S, b: &[f64], x: &mut [f64]) {
        let slots = registers::<S>(b).len();
        let columns = registers::<S>(&self.columns);
        for (k, x) in registers_mut::<S>(x).iter_mut().enumerate() {
            let (mut even, mut odd) = (Wide::splat(simd, 0.0), Wide::splat(simd, 0.0));
            let mut c = 0;
            while c + 1 < self.unknowns {
                even = Wide::of(simd, columns[c * slots + k])
                    .times_plus(Wide::splat(simd, b[c]), even);
                odd = Wide::of(simd, columns[(c + 1) * slots + k])
                    .times_plus(Wide::splat(simd, b[c + 1]), odd);
                c += 2;
            }
            if c < self.unknowns {
                even = Wide::of(simd, columns[c * slots + k])
                    .times_plus(Wide::splat(simd, b[c]), even);
            }
            *x = (even + odd).raw();
        }
    }
}

impl Inverse {
    /// Inverse of `shift - J` by Gauss-Jordan elimination without exchanges; rows here are columns
    /// of the matrix, which the inverse of the transpose turns into columns of the inverse. False
    /// when singular.
    fn set<S: Simd>(&mut self, simd: S, shift: f64, jacobian: &[f64]) -> bool {
        vectorized!(simd, {
            let unknowns = self.unknowns;
            let len = jacobian.len() / unknowns;
            let a = &mut self.columns[..];
            let slots = len / S::F64_LANES;
            for (out, j) in registers_mut::<S>(a)
                .iter_mut()
                .zip(registers::<S>(jacobian))
            {
                *out = (-Wide::of(simd, *j)).raw();
            }
            for k in 0..unknowns {
                a[k * len + k] += shift;
            }
            for k in 0..unknowns {
                let pivot = a[k * len + k];
                if !(pivot.abs() > 1e-12 * shift) {
                    return false;
                }
                a[k * len + k] = 1.0;
                let inverse = Wide::splat(simd, 1.0 / pivot);
                let (before, rest) = a.split_at_mut(k * len);
                let (row, after) = rest.split_at_mut(len);
                let row = registers_mut::<S>(row);
                for r in row.iter_mut() {
                    *r = (Wide::of(simd, *r) * inverse).raw();
                }
                for other in before
                    .chunks_exact_mut(len)
                    .chain(after.chunks_exact_mut(len))
                {
                    let factor = -other[k];
                    other[k] = 0.0;
                    let factor = Wide::splat(simd, factor);
                    let other = registers_mut::<S>(other);
                    for s in 0..slots {
                        other[s] = Wide::of(simd, row[s])
                            .times_plus(factor, Wide::of(simd, other[s]))
                            .raw();
                    }
                }
            }
            true
        })
    }
}
