//! The solution inside one step.

/// Polynomial of degree 4 through one step of the stepper.
#[derive(Debug, Clone, Default)]
pub struct DenseStep {
    /// Start, s.
    pub t: f64,
    /// Length, s.
    pub h: f64,
    pub(super) y0: Vec<f64>,
    pub(super) y1: Vec<f64>,
    pub(super) bend: [Vec<f64>; 3],
}

impl DenseStep {
    /// State at time `t` of the step.
    pub fn at(&self, t: f64, y: &mut [f64]) {
        let s = ((t - self.t) / self.h).clamp(0.0, 1.0);
        let r = 1.0 - s;
        for (i, v) in y.iter_mut().enumerate() {
            let inner = self.bend[0][i] + s * (self.bend[1][i] + s * self.bend[2][i]);
            *v = r * self.y0[i] + s * (self.y1[i] + r * inner);
        }
    }

    /// The same step of a longer state, whose further unknowns stay zero.
    pub fn widened(&self, len: usize) -> DenseStep {
        let mut wide = self.clone();
        let [a, b, c] = &mut wide.bend;
        for part in [&mut wide.y0, &mut wide.y1, a, b, c] {
            part.resize(len, 0.0);
        }
        wide
    }

    /// State at the start.
    pub fn start(&self) -> &[f64] {
        &self.y0
    }

    /// State at the end.
    pub fn end(&self) -> &[f64] {
        &self.y1
    }

    /// End of the step, s.
    pub fn t_end(&self) -> f64 {
        self.t + self.h
    }
}
