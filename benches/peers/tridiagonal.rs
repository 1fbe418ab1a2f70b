//! A tridiagonal matrix for `diffsol`, whose own matrices are dense or of general sparsity: it lets
//! the user bring one with its direct solver, and for a chain of cells that is the cheapest.

use diffsol::matrix::default_solver::DefaultSolver;
use diffsol::matrix::sparsity::{Dense, DenseRef};
use diffsol::{
    DiffsolError, LinearSolver, Matrix, MatrixCommon, NalgebraContext, NalgebraVec,
    NonLinearOpJacobian, Scale, Vector, VectorHost, VectorIndex,
};
use std::ops::Mul;

type Index = <NalgebraVec<f64> as Vector>::Index;

/// Three diagonals of equal length; `before[0]` and `after[n-1]` lie outside and stay 0.
#[derive(Clone, Debug, Default)]
pub struct Tridiagonal {
    /// Left of the diagonal, by row.
    pub before: Vec<f64>,
    /// The diagonal.
    pub own: Vec<f64>,
    /// Right of the diagonal, by row.
    pub after: Vec<f64>,
    context: NalgebraContext,
}

impl Tridiagonal {
    fn entry(&mut self, row: usize, column: usize) -> Option<&mut f64> {
        if row == column {
            self.own.get_mut(row)
        } else if row == column + 1 {
            self.before.get_mut(row)
        } else if row + 1 == column {
            self.after.get_mut(row)
        } else {
            None
        }
    }

    fn value(&self, row: usize, column: usize) -> f64 {
        if row == column {
            self.own[row]
        } else if row == column + 1 {
            self.before[row]
        } else if row + 1 == column {
            self.after[row]
        } else {
            0.0
        }
    }
}

impl MatrixCommon for Tridiagonal {
    type V = NalgebraVec<f64>;
    type T = f64;
    type C = NalgebraContext;
    type Inner = Vec<f64>;

    fn nrows(&self) -> usize {
        self.own.len()
    }
    fn ncols(&self) -> usize {
        self.own.len()
    }
    fn inner(&self) -> &Vec<f64> {
        &self.own
    }
}

impl Mul<Scale<f64>> for Tridiagonal {
    type Output = Self;
    fn mul(mut self, by: Scale<f64>) -> Self {
        for band in [&mut self.before, &mut self.own, &mut self.after] {
            band.iter_mut().for_each(|x| *x *= by.value());
        }
        self
    }
}

impl Mul<Scale<f64>> for &Tridiagonal {
    type Output = Tridiagonal;
    fn mul(self, by: Scale<f64>) -> Tridiagonal {
        self.clone() * by
    }
}

impl DefaultSolver for Tridiagonal {
    type LS = Thomas;
}

impl Matrix for Tridiagonal {
    // `diffsol` asks the sparsity only of matrices it must colour; our slopes are written band by
    // band.
    type Sparsity = Dense<Self>;
    type SparsityRef<'a> = DenseRef<'a, Self>;

    fn sparsity(&self) -> Option<DenseRef<'_, Self>> {
        None
    }
    fn context(&self) -> &NalgebraContext {
        &self.context
    }
    fn partition_indices_by_zero_diagonal(&self) -> (Index, Index) {
        let (zero, other) = (0..self.own.len()).partition(|&i| self.own[i] == 0.0);
        (
            Index::from_vec(zero, self.context),
            Index::from_vec(other, self.context),
        )
    }
    fn gemv(&self, alpha: f64, x: &Self::V, beta: f64, y: &mut Self::V) {
        let (x, y) = (x.as_slice(), y.as_mut_slice());
        let n = self.own.len();
        for i in 0..n {
            let mut sum = self.own[i] * x[i];
            if i > 0 {
                sum += self.before[i] * x[i - 1];
            }
            if i + 1 < n {
                sum += self.after[i] * x[i + 1];
            }
            y[i] = alpha * sum + beta * y[i];
        }
    }
    fn copy_from(&mut self, other: &Self) {
        self.clone_from(other);
    }
    fn zeros(nrows: usize, ncols: usize, context: NalgebraContext) -> Self {
        assert_eq!(nrows, ncols, "a tridiagonal matrix is square");
        Self {
            before: vec![0.0; nrows],
            own: vec![0.0; nrows],
            after: vec![0.0; nrows],
            context,
        }
    }
    fn new_from_sparsity(
        nrows: usize,
        ncols: usize,
        _sparsity: Option<Self::Sparsity>,
        context: NalgebraContext,
    ) -> Self {
        Self::zeros(nrows, ncols, context)
    }
    fn from_diagonal(v: &Self::V) -> Self {
        let mut this = Self::zeros(v.len(), v.len(), *v.context());
        this.own.copy_from_slice(v.as_slice());
        this
    }
    fn set_column(&mut self, j: usize, v: &Self::V) {
        for i in j.saturating_sub(1)..(j + 2).min(v.len()) {
            if let Some(entry) = self.entry(i, j) {
                *entry = v.as_slice()[i];
            }
        }
    }
    fn add_column_to_vector(&self, j: usize, v: &mut Self::V) {
        for i in j.saturating_sub(1)..(j + 2).min(self.own.len()) {
            v.as_mut_slice()[i] += self.value(i, j);
        }
    }
    fn set_data_with_indices(&mut self, to: &Index, from: &Index, data: &Self::V) {
        let n = self.own.len();
        for (to, from) in to.clone_as_vec().into_iter().zip(from.clone_as_vec()) {
            if let Some(entry) = self.entry(to % n, to / n) {
                *entry = data.as_slice()[from];
            }
        }
    }
    fn gather(&mut self, other: &Self, indices: &Index) {
        let (n, m) = (self.own.len(), other.own.len());
        for (to, from) in indices.clone_as_vec().into_iter().enumerate() {
            if let Some(entry) = self.entry(to % n, to / n) {
                *entry = other.value(from % m, from / m);
            }
        }
    }
    fn scale_add_and_assign(&mut self, x: &Self, beta: f64, y: &Self) {
        let bands = [
            (&mut self.before, &x.before, &y.before),
            (&mut self.own, &x.own, &y.own),
            (&mut self.after, &x.after, &y.after),
        ];
        for (out, x, y) in bands {
            for (out, (x, y)) in out.iter_mut().zip(x.iter().zip(y)) {
                *out = x + beta * y;
            }
        }
    }
    fn triplet_iter(&self) -> impl Iterator<Item = (usize, usize, f64)> {
        let n = self.own.len();
        (0..n).flat_map(move |j| {
            (j.saturating_sub(1)..(j + 2).min(n)).map(move |i| (i, j, self.value(i, j)))
        })
    }
    fn try_from_triplets(
        nrows: usize,
        ncols: usize,
        triplets: Vec<(usize, usize, f64)>,
        context: NalgebraContext,
    ) -> Result<Self, DiffsolError> {
        let mut this = Self::zeros(nrows, ncols, context);
        for (i, j, value) in triplets {
            match this.entry(i, j) {
                Some(entry) => *entry = value,
                None => return Err(DiffsolError::Other("not tridiagonal".into())),
            }
        }
        Ok(this)
    }
}

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
