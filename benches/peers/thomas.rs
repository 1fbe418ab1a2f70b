//! The direct solver of the tridiagonal matrix for `diffsol`.

use super::tridiagonal::Tridiagonal;
use diffsol::{
    DiffsolError, LinearSolver, Matrix, NalgebraContext, NalgebraVec, NonLinearOpJacobian,
    VectorHost,
};

/// Elimination without pivoting: the matrices I - c J of a heat network are diagonally dominant.
#[derive(Clone, Debug, Default)]
pub struct Thomas {
    matrix: Tridiagonal,
    /// 1/pivot and after/pivot, by row.
    inverse: Vec<f64>,
    ratio: Vec<f64>,
}

impl LinearSolver<Tridiagonal> for Thomas {
    fn set_problem<C>(&mut self, op: &C)
    where
        C: NonLinearOpJacobian<V = NalgebraVec<f64>, T = f64, M = Tridiagonal, C = NalgebraContext>,
    {
        let n = op.nstates();
        self.matrix = Tridiagonal::zeros(n, n, *op.context());
        self.inverse = vec![0.0; n];
        self.ratio = vec![0.0; n];
    }

    fn set_linearisation<C>(&mut self, op: &C, x: &NalgebraVec<f64>, t: f64)
    where
        C: NonLinearOpJacobian<V = NalgebraVec<f64>, T = f64, M = Tridiagonal, C = NalgebraContext>,
    {
        op.jacobian_inplace(x, t, &mut self.matrix);
        let mut ratio = 0.0;
        let m = &self.matrix;
        for i in 0..self.inverse.len() {
            let inverse = 1.0 / (m.own[i] - m.before[i] * ratio);
            ratio = m.after[i] * inverse;
            self.inverse[i] = inverse;
            self.ratio[i] = ratio;
        }
    }

    fn solve_in_place(&self, b: &mut NalgebraVec<f64>) -> Result<(), DiffsolError> {
        let b = b.as_mut_slice();
        let n = self.inverse.len().min(b.len());
        let (before, inverse, ratio) = (
            &self.matrix.before[..n],
            &self.inverse[..n],
            &self.ratio[..n],
        );
        let b = &mut b[..n];
        let mut last = 0.0;
        for i in 0..n {
            last = (b[i] - before[i] * last) * inverse[i];
            b[i] = last;
        }
        for i in (0..n - 1).rev() {
            last = b[i] - ratio[i] * last;
            b[i] = last;
        }
        Ok(())
    }
}
