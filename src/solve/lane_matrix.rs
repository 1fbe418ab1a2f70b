//! Small matrices, one a lane: factors and solutions without exchanges, within their profile.
//!
//! Meant for `shift - df/dy` of diffusion on a dozen nodes, which is positive definite up to a
//! scaling of its rows: there elimination needs no exchanges. A lane whose pivots vanish gets
//! numbers that are not finite, which is for the caller to see.

use super::flow::LaneFlow;
use super::stages::StepMatrix;
use super::wide::{Row, Wide, registers, registers_mut, splat, vectorized};
use pulp::Simd;

/// Work space for a matrix of some unknowns a lane.
#[derive(Debug, Clone)]
pub struct LaneMatrix {
    /// First column of each row that can be other than zero, and first row of each column.
    first: Vec<usize>,
    /// One past the last column that the elimination of an unknown reaches.
    end: Vec<usize>,
    slopes: Row,
    /// Rows of registers; after factoring the pivots' inverses stand on the diagonal.
    entries: Row,
}

impl LaneMatrix {
    /// Work space for `width` lanes of unknowns that depend on each other from the `first` on.
    pub fn new(first: Vec<usize>, width: usize) -> LaneMatrix {
        let unknowns = first.len();
        let reaches = |k: usize| (k..unknowns).rev().find(|c| first[*c] <= k);
        LaneMatrix {
            end: (0..unknowns).map(|k| 1 + reaches(k).unwrap_or(k)).collect(),
            first,
            slopes: Row::zeros(unknowns * unknowns * width),
            entries: Row::zeros(unknowns * unknowns * width),
        }
    }

    /// Take the slopes at a state whose rates are known.
    pub fn linearise<S: Simd>(&mut self, flow: &mut impl LaneFlow<S>, y: &[f64], rates: &[f64]) {
        flow.jacobian(y, rates, &mut self.slopes);
    }

    /// Factor `shift - df/dy`.
    pub fn factor<S: Simd>(&mut self, simd: S, shift: Wide<S>) {
        vectorized!(simd, {
            let n = self.first.len();
            let a = registers_mut::<S>(&mut self.entries);
            for (a, slope) in a.iter_mut().zip(registers::<S>(&self.slopes)) {
                *a = (-Wide::of(simd, *slope)).raw();
            }
            for k in 0..n {
                a[k * n + k] = (shift + Wide::of(simd, a[k * n + k])).raw();
            }
            for k in 0..n {
                let end = self.end[k];
                let (above, below) = a.split_at_mut((k + 1) * n);
                let pivots = &mut above[k * n..];
                let pivot = splat(simd, 1.0) / Wide::of(simd, pivots[k]);
                pivots[k] = pivot.raw();
                for (row, first) in below.chunks_exact_mut(n).zip(&self.first[k + 1..end]) {
                    if *first > k {
                        continue;
                    }
                    let factor = -(Wide::of(simd, row[k]) * pivot);
                    row[k] = factor.raw();
                    for (own, above) in row[k + 1..end].iter_mut().zip(&pivots[k + 1..end]) {
                        *own = factor
                            .times_plus(Wide::of(simd, *above), Wide::of(simd, *own))
                            .raw();
                    }
                }
            }
        })
    }

    /// Solve with the factors; `x` holds the right-hand side and becomes the solution.
    pub fn solve<S: Simd>(&self, simd: S, x: &mut [f64]) {
        vectorized!(simd, {
            let n = self.first.len();
            let rows = registers::<S>(&self.entries).chunks_exact(n);
            let x = registers_mut::<S>(x);
            // What was found last comes last, so that no sum waits for it before its end.
            for (k, (row, first)) in rows.clone().zip(&self.first).enumerate() {
                let (known, rest) = x.split_at_mut(k);
                let mut sum = Wide::of(simd, rest[0]);
                for (factor, x) in row[*first..k].iter().zip(&known[*first..]) {
                    sum = Wide::of(simd, *factor).times_plus(Wide::of(simd, *x), sum);
                }
                rest[0] = sum.raw();
            }
            for (k, row) in rows.enumerate().rev() {
                let end = self.end[k];
                let (rest, known) = x.split_at_mut(k + 1);
                let mut sum = splat(simd, 0.0);
                for (factor, x) in row[k + 1..end].iter().zip(&known[..end - k - 1]).rev() {
                    sum = Wide::of(simd, *factor).times_plus(Wide::of(simd, *x), sum);
                }
                rest[k] = ((Wide::of(simd, rest[k]) - sum) * Wide::of(simd, row[k])).raw();
            }
        })
    }
}

impl<S: Simd> StepMatrix<S> for LaneMatrix {
    #[inline(always)]
    fn solution(&self, simd: S, right: &[f64], x: &mut [f64]) {
        x.copy_from_slice(right);
        self.solve(simd, x);
    }
}
