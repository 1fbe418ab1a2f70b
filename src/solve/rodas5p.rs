//! One step of Rodas5P with a banded and bordered matrix.

use super::tableau5p::{A, C, DENSE, GAMMA, NODES, STAGES, TIME_SLOPE};
use super::{DenseStep, ProfileMatrix, System};

/// Work space of the stepper.
pub struct Rodas5p {
    jacobian: ProfileMatrix,
    factors: ProfileMatrix,
    dfdt: Vec<f64>,
    stages: Vec<Vec<f64>>,
    argument: Vec<f64>,
    right: Vec<f64>,
    /// Right-hand sides evaluated.
    pub rhs_count: usize,
    /// Jacobians evaluated.
    pub jacobian_count: usize,
    /// Factorisations.
    pub factorisation_count: usize,
}

impl Rodas5p {
    /// Work space for one problem.
    pub fn new(system: &impl System) -> Rodas5p {
        let shape = system.shape();
        let n = shape.len();
        Rodas5p {
            jacobian: ProfileMatrix::zeros(shape),
            factors: ProfileMatrix::zeros(shape),
            dfdt: vec![0.0; n],
            stages: vec![vec![0.0; n]; STAGES],
            argument: vec![0.0; n],
            right: vec![0.0; n],
            rhs_count: 0,
            jacobian_count: 0,
            factorisation_count: 0,
        }
    }

    /// Evaluate the Jacobian and the time slope at the start of the next step.
    pub fn linearise(&mut self, system: &impl System, t: f64, y: &[f64]) {
        self.jacobian.clear();
        system.jacobian(t, y, &mut self.jacobian);
        self.dfdt.fill(0.0);
        system.time_slope(t, y, &mut self.dfdt);
        self.jacobian_count += 1;
    }

    /// Step from `(t, y)` by `h` with the present linearisation. Writes the new state and the error
    /// estimate; false when the matrix is singular or a value is not finite.
    #[must_use]
    pub fn step(
        &mut self,
        system: &impl System,
        t: f64,
        y: &[f64],
        h: f64,
        new: &mut [f64],
        error: &mut [f64],
    ) -> bool {
        self.factors
            .set_shifted_negative(&self.jacobian, 1.0 / (GAMMA * h));
        self.factorisation_count += 1;
        if !self.factors.factorise() {
            return false;
        }
        for s in 0..STAGES {
            if s < A.len() {
                self.argument.copy_from_slice(y);
                for (a, k) in A[s].iter().zip(&self.stages) {
                    add_scaled(&mut self.argument, *a, k);
                }
            } else {
                add_scaled(&mut self.argument, 1.0, &self.stages[s - 1]);
            }
            system.rhs(t + NODES[s] * h, &self.argument, &mut self.right);
            self.rhs_count += 1;
            for (c, k) in C[s].iter().zip(&self.stages) {
                add_scaled(&mut self.right, c / h, k);
            }
            if TIME_SLOPE[s] != 0.0 {
                add_scaled(&mut self.right, TIME_SLOPE[s] * h, &self.dfdt);
            }
            self.factors.solve(&mut self.right);
            self.stages[s].copy_from_slice(&self.right);
        }
        let last = &self.stages[STAGES - 1];
        for i in 0..y.len() {
            new[i] = self.argument[i] + last[i];
            error[i] = last[i];
        }
        new.iter().all(|v| v.is_finite())
    }

    /// Dense output of the step just taken.
    pub fn dense(&self, t: f64, h: f64, y: &[f64], new: &[f64], dense: &mut DenseStep) {
        dense.t = t;
        dense.h = h;
        dense.y0.clear();
        dense.y0.extend_from_slice(y);
        dense.y1.clear();
        dense.y1.extend_from_slice(new);
        for (weights, out) in DENSE.iter().zip(&mut dense.bend) {
            out.clear();
            out.resize(y.len(), 0.0);
            for (w, k) in weights.iter().zip(&self.stages) {
                add_scaled(out, *w, k);
            }
        }
    }
}

fn add_scaled(y: &mut [f64], factor: f64, x: &[f64]) {
    for (a, b) in y.iter_mut().zip(x) {
        *a += factor * b;
    }
}
