//! The steppers in registers by themselves: steps of one length, and single marches with their
//! counts.
#![allow(dead_code)]

use pulp::{Simd, WithSimd};
use relatch::internals::device::{Along, Drive, Gauge, Model};
use relatch::internals::solve::wide::Row;
use relatch::internals::solve::{Explicit853, Flow, Implicit5p, March, Marched, StiffFlow, Wide};

/// Which one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stepper {
    /// Explicit, order 8.
    Explicit,
    /// Implicit, order 5.
    Implicit,
}

/// `steps` equal steps of `y` from time zero to `t_end`; right-hand sides evaluated.
#[inline(always)]
pub fn equal_steps<S: Simd>(
    simd: S,
    flow: &mut impl StiffFlow<S>,
    stepper: Stepper,
    y: &mut Row,
    t_end: f64,
    steps: usize,
) -> usize {
    let len = flow.len();
    let h = t_end / steps as f64;
    let (mut slope, mut new, mut error) = (Row::zeros(len), Row::zeros(len), Row::zeros(len));
    let mut explicit = Explicit853::new(len);
    let mut implicit = Implicit5p::new(flow.unknowns(), len);
    for k in 0..steps {
        let t = k as f64 * h;
        flow.rates(Wide::splat(simd, t), y, &mut slope);
        match stepper {
            Stepper::Explicit => {
                explicit.first_slope().copy_from_slice(&slope);
                let (t, h) = (Wide::splat(simd, t), Wide::splat(simd, h));
                explicit.step(simd, flow, t, h, y, &mut new);
            }
            Stepper::Implicit => {
                implicit.linearise(flow, t, y);
                assert!(implicit.step(simd, flow, t, h, y, &slope, &mut new, &mut error));
            }
        }
        y.copy_from_slice(&new);
    }
    steps + explicit.rate_count + implicit.stages.rate_count
}

/// A strip after a time under a constant current; right-hand sides evaluated.
pub struct Heated<'m> {
    /// On its grid.
    pub model: &'m Model,
    /// A.
    pub current_a: f64,
    /// K.
    pub ambient_k: f64,
    /// State at time zero.
    pub from: &'m [f64],
    /// s
    pub t_end: f64,
    /// Which stepper.
    pub stepper: Stepper,
    /// Equal steps.
    pub steps: usize,
}

impl WithSimd for Heated<'_> {
    type Output = (Vec<f64>, usize);

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Self::Output {
        let drive = Drive::constant(self.current_a, self.ambient_k);
        let mut along = Along::new(simd, self.model, drive).expect("a fast form");
        let mut y = Row::zeros(along.len());
        y.fill(self.ambient_k);
        y[..self.from.len()].copy_from_slice(self.from);
        let count = equal_steps(
            simd,
            &mut along,
            self.stepper,
            &mut y,
            self.t_end,
            self.steps,
        );
        (y[..along.unknowns()].to_vec(), count)
    }
}

/// One march of a strip to an event, or to `t_end` s, from a state.
pub struct MarchTo<'m> {
    /// On its grid.
    pub model: &'m Model,
    /// Current and ambient.
    pub drive: Drive,
    /// Which event.
    pub gauge: Gauge,
    /// State at time zero.
    pub from: Vec<f64>,
    /// s
    pub t_end: f64,
    /// Local tolerance.
    pub tolerance: f64,
}

impl WithSimd for MarchTo<'_> {
    type Output = (Marched, Vec<f64>);

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Self::Output {
        let mut along = Along::new(simd, self.model, self.drive).expect("a fast form");
        let (unknowns, len) = (along.unknowns(), along.len());
        let mut y = Row::zeros(len);
        y.fill(self.drive.ambient.value_k);
        y[..unknowns].copy_from_slice(&self.from);
        let mut distance = along.distance(self.gauge);
        let marched = March::new(unknowns, len)
            .run(
                simd,
                &mut along,
                Some(&mut distance),
                0.0,
                &mut y,
                self.t_end,
                self.tolerance,
                &mut |_| true,
            )
            .expect("march");
        (marched, y[..unknowns].to_vec())
    }
}
