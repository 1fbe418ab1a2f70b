//! A shallow round shell of layers that warps evenly in all directions, resting on its rim: the
//! disc that snaps.
//!
//! As made w0 = H (1 - r²/R²). With the slope ψ = w' and F = r N_r, equilibrium and compatibility
//! are F ψ - D (r ψ'' + ψ' - ψ/r) + D (1 + ν) r κ' = -P q/(2π) and (r F'' + F' - F/r)/A = -(ψ² -
//! ψ0²)/2 - r e_N', with ψ = F = 0 at the centre, F = 0 and (ψ - ψ0)' + ν (ψ - ψ0)/R = (1 + ν) κ at
//! the rim: K. Marguerre's shallow shell (1938), for a bimetal W. H. Wittrick, D. M. Myers & W. R.
//! Blunden, Quart. J. Mech. Appl. Math. 6 (1953) 15 (both from memory; derived here). κ is the
//! curvature of a free piece, e_N its strain, P a force at the centre towards the dome, spread so
//! that q = min(1, r²/r_c²) of it lies within r.
//!
//! Two Gauss-Lobatto elements that meet at r_c: the weak form asks for no more than continuous
//! slopes. F is linear in ψ², so it is put in, and what is left is a cubic in ψ. Lengths are parts
//! of R, curvatures times R.

mod equilibrium;
mod fold;
mod landscape;
pub mod one_term;

pub use equilibrium::{Course, Sides};
pub use fold::Fold;
pub use landscape::Held;

use super::lobatto::{derivative_matrix, gauss_lobatto};
use nalgebra::{DMatrix, DVector};

/// Nodes along a radius, and the integrals over them.
#[derive(Clone, Debug)]
pub struct ShellGrid {
    /// Places of the nodes as parts of R: 0 at the centre, 1 at the rim.
    pub places: Vec<f64>,
    /// Nodes up to the edge of the patch, the centre not counted.
    pub patch: usize,
    /// `∫ φ_i dρ` of all nodes but the centre.
    weight: DVector<f64>,
    /// `∫ (ρ φ_i' φ_j' + φ_i φ_j/ρ) dρ`.
    stiffness: DMatrix<f64>,
    /// Its inverse for functions that vanish at the rim.
    membrane: DMatrix<f64>,
    /// `∫ φ_j (ρ φ_i)' dρ`, by rows of i; j counts the centre too.
    spread: DMatrix<f64>,
    /// `∫ q φ_i dρ`.
    load: DVector<f64>,
}

impl ShellGrid {
    /// For a force on a patch (its radius a part of R, 0 < `patch` < 1), with polynomials of an
    /// order outside it.
    pub fn new(patch: f64, order: usize) -> ShellGrid {
        let elements = [(0.0, patch, (order / 2).max(4)), (patch, 1.0, order)];
        let n = elements[0].2 + elements[1].2;
        let mut places = vec![0.0; n + 1];
        let mut weight = vec![0.0; n + 1];
        let mut stiffness = DMatrix::zeros(n + 1, n + 1);
        let mut spread = DMatrix::zeros(n + 1, n + 1);
        let mut first = 0;
        for (from, to, p) in elements {
            let (nodes, weights) = gauss_lobatto(p);
            let half = 0.5 * (to - from);
            let slopes = derivative_matrix(&nodes);
            for q in 0..=p {
                let (rho, w) = (from + half * (nodes[q] + 1.0), weights[q] * half);
                let slope = |i: usize| slopes[q * (p + 1) + i] / half;
                places[first + q] = rho;
                weight[first + q] += w;
                for i in 0..=p {
                    spread[(first + i, first + q)] += w * rho * slope(i);
                    for j in 0..=p {
                        stiffness[(first + i, first + j)] += w * rho * slope(i) * slope(j);
                    }
                }
            }
            first += p;
        }
        for i in 1..=n {
            stiffness[(i, i)] += weight[i] / places[i];
            spread[(i, i)] += weight[i];
        }
        let stiffness = stiffness.view((1, 1), (n, n)).into_owned();
        let inner = stiffness.view((0, 0), (n - 1, n - 1)).into_owned();
        let mut membrane = DMatrix::zeros(n, n);
        // The stiffness is positive definite, so it has an inverse.
        if let Some(inverse) = inner.cholesky().map(|c| c.inverse()) {
            membrane
                .view_mut((0, 0), (n - 1, n - 1))
                .copy_from(&inverse);
        }
        let weight = DVector::from_column_slice(&weight[1..]);
        let within = |rho: f64| (rho / patch).powi(2).min(1.0);
        let load = DVector::from_fn(n, |i, _| weight[i] * within(places[i + 1]));
        ShellGrid {
            spread: spread.view((1, 0), (n, n + 1)).into_owned(),
            patch: elements[0].2,
            places,
            weight,
            stiffness,
            membrane,
            load,
        }
    }

    fn len(&self) -> usize {
        self.weight.len()
    }
}

/// A disc at given temperatures, in parts of its radius R.
#[derive(Clone, Debug)]
pub struct Shell<'g> {
    /// Its nodes.
    pub grid: &'g ShellGrid,
    /// Poisson's ratio ν.
    pub poisson: f64,
    /// A R²/D: stretching against bending.
    pub slenderness: f64,
    /// H/R as made.
    pub rise: f64,
    /// P R/(2 π D).
    pub force: f64,
    /// κ R at every node, from the centre; empty: none.
    pub curvature: Vec<f64>,
    /// e_N at every node; empty: none.
    pub strain: Vec<f64>,
}

impl Shell<'_> {
    /// The disc at these curvatures and strains times a factor.
    fn scaled(&self, factor: f64) -> Self {
        let times = |values: &[f64]| values.iter().map(|v| factor * v).collect();
        Shell {
            curvature: times(&self.curvature),
            strain: times(&self.strain),
            ..self.clone()
        }
    }

    /// Slope as made, ψ0.
    fn as_made(&self) -> DVector<f64> {
        DVector::from_fn(self.grid.len(), |i, _| {
            -2.0 * self.rise * self.grid.places[i + 1]
        })
    }

    /// `∫ f (ρ φ_i)' dρ` of a function at all nodes.
    fn spread(&self, values: &[f64]) -> DVector<f64> {
        match values.is_empty() {
            true => DVector::zeros(self.grid.len()),
            false => &self.grid.spread * DVector::from_column_slice(values),
        }
    }

    /// F R/D at slopes ψ.
    fn tension(&self, slopes: &DVector<f64>) -> DVector<f64> {
        let made = self.as_made();
        let squares = slopes.component_mul(slopes) - made.component_mul(&made);
        let source = 0.5 * self.grid.weight.component_mul(&squares) - self.spread(&self.strain);
        self.slenderness * (&self.grid.membrane * source)
    }

    /// What is out of balance at slopes ψ and an even curvature `shift` on top of its own.
    fn imbalance(&self, slopes: &DVector<f64>, shift: f64) -> DVector<f64> {
        let grid = self.grid;
        let (rim, nu) = (grid.len() - 1, self.poisson);
        let bent = slopes - self.as_made();
        let stretched = grid.weight.component_mul(&self.tension(slopes));
        let mut sum = stretched.component_mul(slopes) + &grid.stiffness * &bent
            - (1.0 + nu) * self.spread(&self.curvature)
            + self.force * &grid.load;
        sum[rim] += nu * bent[rim] - (1.0 + nu) * shift;
        sum
    }

    /// Its slopes against ψ: symmetric.
    fn rigidity(&self, slopes: &DVector<f64>) -> DMatrix<f64> {
        let grid = self.grid;
        let lean = grid.weight.component_mul(slopes);
        let mut sum = DMatrix::from_fn(grid.len(), grid.len(), |i, j| {
            grid.stiffness[(i, j)] + self.slenderness * lean[i] * grid.membrane[(i, j)] * lean[j]
        });
        let tension = self.tension(slopes);
        for i in 0..grid.len() {
            sum[(i, i)] += grid.weight[i] * tension[i];
        }
        let rim = grid.len() - 1;
        sum[(rim, rim)] += self.poisson;
        sum
    }

    /// Height of the centre over the rim at slopes ψ.
    fn height(&self, slopes: &DVector<f64>) -> f64 {
        -self.grid.weight.dot(slopes)
    }

    /// A matrix with one row and one column more.
    fn bordered(matrix: DMatrix<f64>, row: &DVector<f64>, column: &DVector<f64>) -> DMatrix<f64> {
        let n = row.len();
        let mut whole = matrix.resize(n + 1, n + 1, 0.0);
        whole.view_mut((n, 0), (1, n)).copy_from(&row.transpose());
        whole.view_mut((0, n), (n, 1)).copy_from(column);
        whole
    }

    /// What an even curvature takes from the imbalance, by one unit.
    fn even(&self) -> DVector<f64> {
        let mut column = DVector::zeros(self.grid.len());
        column[self.grid.len() - 1] = -(1.0 + self.poisson);
        column
    }
}
