//! One step of the explicit pair of order 8 with error estimates of order 5 and 3.

use super::flow::Flow;
use super::tableau853::{A, B, E3, E5, NODES, STAGES};
use super::wide::{Row, Wide, registers, registers_mut, vectorized};
use pulp::Simd;

/// Longest step on the negative real axis for which the method is stable, times the fastest rate;
/// its stability interval there is 6.4, and errors grow before its end.
pub const STABLE: f64 = 5.6;

/// Work space of the stepper. Slopes of the stages, one after the other.
#[derive(Debug, Clone)]
pub struct Explicit853 {
    slopes: Row,
    argument: Row,
    /// Right-hand sides evaluated.
    pub rate_count: usize,
}

impl Explicit853 {
    /// Work space for states of a length.
    pub fn new(len: usize) -> Explicit853 {
        Explicit853 {
            slopes: Row::zeros(STAGES * len),
            argument: Row::zeros(len),
            rate_count: 0,
        }
    }

    /// Slope at the start of the step; the caller writes it.
    pub fn first_slope(&mut self) -> &mut [f64] {
        let len = self.argument.len();
        &mut self.slopes[..len]
    }

    /// Step by `h` from `(t, y)`, whose slope stands in [`Explicit853::first_slope`]. Writes the
    /// new state.
    pub fn step<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl Flow<S>,
        t: Wide<S>,
        h: Wide<S>,
        y: &[f64],
        new: &mut [f64],
    ) {
        vectorized!(simd, {
            let len = self.argument.len();
            for stage in 1..STAGES {
                let (done, rest) = self.slopes.split_at_mut(stage * len);
                let out = &mut self.argument;
                // One unrolled sum a stage.
                match stage {
                    1 => combine(simd, y, h, A[1], done, out),
                    2 => combine(simd, y, h, A[2], done, out),
                    3 => combine(simd, y, h, A[3], done, out),
                    4 => combine(simd, y, h, A[4], done, out),
                    5 => combine(simd, y, h, A[5], done, out),
                    6 => combine(simd, y, h, A[6], done, out),
                    7 => combine(simd, y, h, A[7], done, out),
                    8 => combine(simd, y, h, A[8], done, out),
                    9 => combine(simd, y, h, A[9], done, out),
                    10 => combine(simd, y, h, A[10], done, out),
                    _ => combine(simd, y, h, A[11], done, out),
                }
                let at = t + Wide::splat(simd, NODES[stage]) * h;
                flow.rates(at, &self.argument, &mut rest[..len]);
            }
            self.rate_count += STAGES - 1;
            combine(simd, y, h, B, &self.slopes, new);
        })
    }

    /// Squares of the two error estimates of the last step against `1 + |y - reference|`, register
    /// by register added to `five` and `three`.
    #[inline(always)]
    pub fn errors<S: Simd>(
        &self,
        simd: S,
        reference: Wide<S>,
        y: &[f64],
        five: &mut Wide<S>,
        three: &mut Wide<S>,
    ) {
        let slots = registers::<S>(y).len();
        let slopes = registers::<S>(&self.slopes);
        let one = Wide::splat(simd, 1.0);
        for (s, y) in registers::<S>(y).iter().enumerate() {
            let inverse = one / (one + (Wide::of(simd, *y) - reference).abs());
            let part = weighted(simd, E5, slopes, slots, s) * inverse;
            *five = part.times_plus(part, *five);
            let part = weighted(simd, E3, slopes, slots, s) * inverse;
            *three = part.times_plus(part, *three);
        }
    }
}

/// Weighted sum of one register of the stages' slopes.
#[inline(always)]
fn weighted<S: Simd>(
    simd: S,
    weights: &[(usize, f64)],
    slopes: &[S::f64s],
    slots: usize,
    s: usize,
) -> Wide<S> {
    let mut sum = Wide::splat(simd, 0.0);
    for (j, e) in weights {
        let k = Wide::of(simd, slopes[j * slots + s]);
        sum = k.times_plus(Wide::splat(simd, *e), sum);
    }
    sum
}

/// `out = y + h * sum weight * slope`.
#[inline(always)]
fn combine<S: Simd>(
    simd: S,
    y: &[f64],
    h: Wide<S>,
    weights: &[(usize, f64)],
    slopes: &[f64],
    out: &mut [f64],
) {
    let y = registers::<S>(y);
    let slots = y.len();
    let slopes = registers::<S>(slopes);
    for (s, out) in registers_mut::<S>(out).iter_mut().enumerate() {
        let sum = weighted(simd, weights, slopes, slots, s);
        *out = sum.times_plus(h, Wide::of(simd, y[s])).raw();
    }
}
