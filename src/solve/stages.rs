//! The eight stages of a step of Rodas5P in registers, whoever solves their linear systems.

use super::flow::Flow;
use super::tableau5p::{A, C, NODES, STAGES, TIME_SLOPE};
use super::wide::{Row, Wide, registers, registers_mut};
use pulp::Simd;

/// Solves linear systems with the matrix of a step, `1/(gamma h) - J`.
pub trait StepMatrix<S: Simd> {
    /// `x` becomes the solution for a right-hand side.
    fn solution(&self, simd: S, right: &[f64], x: &mut [f64]);
}

/// Work space of the stages.
#[derive(Debug, Clone)]
pub struct Stages {
    stages: Row,
    argument: Row,
    right: Row,
    /// Right-hand sides evaluated.
    pub rate_count: usize,
}

impl Stages {
    /// Work space for states of a length.
    pub fn new(len: usize) -> Stages {
        Stages {
            stages: Row::zeros(STAGES * len),
            argument: Row::zeros(len),
            right: Row::zeros(len),
            rate_count: 0,
        }
    }

    /// Step by `h` from `(t, y)`, whose slope is `slope`; `dfdt` is the slope against time where
    /// there is one. Writes the new state and the error estimate.
    #[allow(clippy::too_many_arguments)]
    #[inline(always)]
    pub fn step<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl Flow<S>,
        matrix: &impl StepMatrix<S>,
        (t, h): (Wide<S>, Wide<S>),
        y: &[f64],
        slope: &[f64],
        dfdt: Option<&[f64]>,
        new: &mut [f64],
        error: &mut [f64],
    ) {
        let len = self.argument.len();
        let slots = len / S::F64_LANES;
        let per_h = Wide::splat(simd, 1.0) / h;
        for s in 0..STAGES {
            if s == 0 {
                self.right.copy_from_slice(slope);
            } else {
                let argument = registers_mut::<S>(&mut self.argument);
                let stages = registers::<S>(&self.stages);
                for k in 0..slots {
                    let sum = if s < A.len() {
                        let start = Wide::of(simd, registers::<S>(y)[k]);
                        weighted(simd, A[s], &stages[k..], slots, start)
                    } else {
                        Wide::of(simd, argument[k]) + Wide::of(simd, stages[(s - 1) * slots + k])
                    };
                    argument[k] = sum.raw();
                }
                let at = t + Wide::splat(simd, NODES[s]) * h;
                flow.rates(at, &self.argument, &mut self.right);
                self.rate_count += 1;
            }
            let right = registers_mut::<S>(&mut self.right);
            let stages = registers::<S>(&self.stages);
            for k in 0..slots {
                let sum = weighted(simd, C[s], &stages[k..], slots, Wide::splat(simd, 0.0));
                let mut sum = sum.times_plus(per_h, Wide::of(simd, right[k]));
                if let Some(dfdt) = dfdt {
                    let dfdt = Wide::of(simd, registers::<S>(dfdt)[k]);
                    sum = dfdt.times_plus(Wide::splat(simd, TIME_SLOPE[s]) * h, sum);
                }
                right[k] = sum.raw();
            }
            matrix.solution(simd, &self.right, &mut self.stages[s * len..(s + 1) * len]);
        }
        let last = registers::<S>(&self.stages[(STAGES - 1) * len..]);
        let argument = registers::<S>(&self.argument);
        for k in 0..slots {
            registers_mut::<S>(new)[k] =
                (Wide::of(simd, argument[k]) + Wide::of(simd, last[k])).raw();
            registers_mut::<S>(error)[k] = last[k];
        }
    }
}

/// `start` and a weighted sum of one register of the stages.
#[inline(always)]
fn weighted<S: Simd>(
    simd: S,
    weights: &[f64],
    stages: &[S::f64s],
    slots: usize,
    start: Wide<S>,
) -> Wide<S> {
    let mut sum = start;
    for (weight, stage) in weights.iter().zip(stages.iter().step_by(slots)) {
        sum = Wide::of(simd, *stage).times_plus(Wide::splat(simd, *weight), sum);
    }
    sum
}
