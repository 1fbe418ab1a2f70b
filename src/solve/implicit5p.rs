//! One step of Rodas5P in registers, with the inverse of its small matrix.
//!
//! A dozen unknowns make substitution a chain of dependent operations; multiplying by the inverse
//! is not, and one inverse serves eight stages.

use super::flow::StiffFlow;
use super::tableau5p::{A, C, GAMMA, NODES, STAGES, TIME_SLOPE};
use super::wide::{Row, Wide, registers, registers_mut, vectorized};
use pulp::Simd;

/// Work space of the stepper.
#[derive(Debug, Clone)]
pub struct Implicit5p {
    /// Jacobian by columns.
    jacobian: Row,
    /// Inverse of `1/(gamma h) - J`, by columns.
    inverse: Row,
    dfdt: Row,
    moves: bool,
    stages: Row,
    argument: Row,
    right: Row,
    /// Right-hand sides evaluated.
    pub rate_count: usize,
    /// Jacobians evaluated.
    pub jacobian_count: usize,
}

impl Implicit5p {
    /// Work space for states of `unknowns` numbers padded to `len`.
    pub fn new(unknowns: usize, len: usize) -> Implicit5p {
        Implicit5p {
            jacobian: Row::zeros(unknowns * len),
            inverse: Row::zeros(unknowns * len),
            dfdt: Row::zeros(len),
            moves: false,
            stages: Row::zeros(STAGES * len),
            argument: Row::zeros(len),
            right: Row::zeros(len),
            rate_count: 0,
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
            let (unknowns, len) = (flow.unknowns(), flow.len());
            if !invert_shifted(
                simd,
                unknowns,
                len,
                1.0 / (GAMMA * h),
                &self.jacobian,
                &mut self.inverse,
            ) {
                return false;
            }
            let slots = len / S::F64_LANES;
            for s in 0..STAGES {
                if s == 0 {
                    self.right.copy_from_slice(slope);
                } else {
                    let argument = registers_mut::<S>(&mut self.argument);
                    let stages = registers::<S>(&self.stages);
                    for k in 0..slots {
                        let mut sum;
                        if s < A.len() {
                            sum = Wide::of(simd, registers::<S>(y)[k]);
                            for (j, a) in A[s].iter().enumerate() {
                                let stage = Wide::of(simd, stages[j * slots + k]);
                                sum = stage.times_plus(Wide::splat(simd, *a), sum);
                            }
                        } else {
                            sum = Wide::of(simd, argument[k])
                                + Wide::of(simd, stages[(s - 1) * slots + k]);
                        }
                        argument[k] = sum.raw();
                    }
                    let at = Wide::splat(simd, t + NODES[s] * h);
                    flow.rates(at, &self.argument, &mut self.right);
                    self.rate_count += 1;
                }
                let right = registers_mut::<S>(&mut self.right);
                let stages = registers::<S>(&self.stages);
                for k in 0..slots {
                    let mut sum = Wide::of(simd, right[k]);
                    for (j, c) in C[s].iter().enumerate() {
                        let stage = Wide::of(simd, stages[j * slots + k]);
                        sum = stage.times_plus(Wide::splat(simd, c / h), sum);
                    }
                    if self.moves && TIME_SLOPE[s] != 0.0 {
                        let dfdt = Wide::of(simd, registers::<S>(&self.dfdt)[k]);
                        sum = dfdt.times_plus(Wide::splat(simd, TIME_SLOPE[s] * h), sum);
                    }
                    right[k] = sum.raw();
                }
                multiply(
                    simd,
                    unknowns,
                    &self.inverse,
                    &self.right,
                    &mut self.stages[s * len..(s + 1) * len],
                );
            }
            let last = registers::<S>(&self.stages[(STAGES - 1) * len..]);
            let argument = registers::<S>(&self.argument);
            let mut sum = Wide::splat(simd, 0.0);
            for k in 0..slots {
                let change = Wide::of(simd, last[k]);
                let value = Wide::of(simd, argument[k]) + change;
                registers_mut::<S>(new)[k] = value.raw();
                registers_mut::<S>(error)[k] = change.raw();
                sum = sum + value;
            }
            sum.sum().is_finite()
        })
    }

    /// Solve `(shift - J) x = b` with the Jacobian of the last linearisation; false when singular.
    pub fn solve_shifted<S: Simd>(
        &mut self,
        simd: S,
        unknowns: usize,
        shift: f64,
        b: &[f64],
        x: &mut [f64],
    ) -> bool {
        vectorized!(simd, {
            let len = self.argument.len();
            if !invert_shifted(
                simd,
                unknowns,
                len,
                shift,
                &self.jacobian,
                &mut self.inverse,
            ) {
                return false;
            }
            multiply(simd, unknowns, &self.inverse, b, x);
            true
        })
    }
}

/// `x = sum column_c b_c`.
#[inline(always)]
fn multiply<S: Simd>(simd: S, unknowns: usize, columns: &[f64], b: &[f64], x: &mut [f64]) {
    let slots = registers::<S>(b).len();
    let columns = registers::<S>(columns);
    for (k, x) in registers_mut::<S>(x).iter_mut().enumerate() {
        let (mut even, mut odd) = (Wide::splat(simd, 0.0), Wide::splat(simd, 0.0));
        let mut c = 0;
        while c + 1 < unknowns {
            even = Wide::of(simd, columns[c * slots + k]).times_plus(Wide::splat(simd, b[c]), even);
            odd = Wide::of(simd, columns[(c + 1) * slots + k])
                .times_plus(Wide::splat(simd, b[c + 1]), odd);
            c += 2;
        }
        if c < unknowns {
            even = Wide::of(simd, columns[c * slots + k]).times_plus(Wide::splat(simd, b[c]), even);
        }
        *x = (even + odd).raw();
    }
}

/// Inverse of `shift - J` by Gauss-Jordan elimination without exchanges; rows here are columns of
/// the matrix, which the inverse of the transpose turns into columns of the inverse.
fn invert_shifted<S: Simd>(
    simd: S,
    unknowns: usize,
    len: usize,
    shift: f64,
    jacobian: &[f64],
    a: &mut [f64],
) -> bool {
    vectorized!(simd, {
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
