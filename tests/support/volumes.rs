//! The worked strip by plain finite volumes, integrated by the BDF method of the `diffsol` crate: a
//! peer that shares no line with the engine.
#![allow(dead_code)]

use diffsol::{
    NalgebraLU, NalgebraMat, OdeBuilder, OdeSolverMethod, OdeSolverStopReason, VectorHost,
};

/// The worked strip by finite volumes: cells 0..n along the strip, then B, M, F.
#[derive(Clone, Copy)]
pub struct Volumes {
    /// Cells.
    pub n: usize,
    /// A.
    pub current_a: f64,
}

const WIDTH: f64 = 5e-3;
const LAYER: f64 = 2e-4;
/// m
pub const LENGTH: f64 = 25e-3;
const AIR_K: f64 = 298.15;

impl Volumes {
    fn line(t: f64) -> (f64, f64, f64, f64) {
        let u = t - 293.15;
        let capacity = WIDTH * LAYER * 8100.0 * ((515.0 + 0.25 * u) + (480.0 + 0.22 * u));
        let conduction = WIDTH * LAYER * ((10.5 + 0.010 * u) + (12.5 + 0.014 * u));
        let (r1, r2) = (0.80e-6 * (1.0 + 1.2e-3 * u), 0.78e-6 * (1.0 + 0.95e-3 * u));
        let resistance = 1.0 / (WIDTH * (LAYER / r1 + LAYER / r2));
        let strain = (18.2e-6 * u + 3e-9 * u * u) - (1.2e-6 * u + 4e-9 * u * u);
        let n: f64 = 145.0 / 190.0;
        let curvature = 24.0 * strain / (2.0 * LAYER * (12.0 + (1.0 + n) * (1.0 + 1.0 / n)));
        (capacity, conduction, resistance, curvature)
    }

    fn flux(t: f64) -> f64 {
        let film = 0.5 * (t + AIR_K);
        let density = 101_325.0 / (287.052_87 * film);
        let viscosity = 1.716e-5 * (film / 273.15).powf(1.5) * 383.55 / (film + 110.4);
        let k = 0.0241 * (film / 273.15).powf(1.5) * 467.15 / (film + 194.0);
        let (nu, alpha) = (viscosity / density, k / (density * 1006.0));
        let rayleigh = 9.806_65 * (t - AIR_K).abs() * WIDTH.powi(3) / (film * nu * alpha);
        let nusselt = 0.68
            + 0.670 * rayleigh.powf(0.25)
                / (1.0 + (0.492 / (nu / alpha)).powf(9.0 / 16.0)).powf(4.0 / 9.0);
        nusselt * k / WIDTH * (t - AIR_K) + 0.4 * 5.670_374_419e-8 * (t.powi(4) - AIR_K.powi(4))
    }

    fn rhs(&self, y: &[f64], dy: &mut [f64]) {
        let n = self.n;
        let dx = LENGTH / n as f64;
        let (b, m, f) = (y[n], y[n + 1], y[n + 2]);
        let i2 = self.current_a * self.current_a;
        let perimeter = 2.0 * (WIDTH + 2.0 * LAYER);
        let k = |t: f64| Self::line(t).1;
        let mut left = k(0.5 * (b + y[0])) * (b - y[0]) / (0.5 * dx);
        dy[n] = (i2 * 0.5e-3 - left - 0.060 * (b - AIR_K)) / 2.0;
        for j in 0..n {
            let right = if j + 1 < n {
                k(0.5 * (y[j] + y[j + 1])) * (y[j] - y[j + 1]) / dx
            } else {
                k(0.5 * (y[j] + m)) * (y[j] - m) / (0.5 * dx)
            };
            let (capacity, _, resistance, _) = Self::line(y[j]);
            dy[j] =
                ((left - right) / dx + i2 * resistance - perimeter * Self::flux(y[j])) / capacity;
            left = right;
        }
        let across = 2.443_004_509e-8 * 0.5 * (m + f) / 1e-3 * (m - f);
        dy[n + 1] = (0.5 * i2 * 1e-3 + left - 0.010 * (m - AIR_K) - across) / 0.25;
        dy[n + 2] = (0.5 * i2 * 1e-3 + across - 0.050 * (f - AIR_K)) / 1.5;
    }

    /// Midpoint rule: second order, as the volumes.
    fn deflection(&self, y: &[f64]) -> f64 {
        let dx = LENGTH / self.n as f64;
        (0..self.n)
            .map(|j| (LENGTH - (j as f64 + 0.5) * dx) * Self::line(y[j]).3 * dx)
            .sum()
    }

    /// Trip time at a relative tolerance of the time integration.
    pub fn trip_time(self, tolerance: f64) -> f64 {
        let n = self.n + 3;
        let problem = OdeBuilder::<NalgebraMat<f64>>::new()
            .rtol(tolerance)
            .atol([100.0 * tolerance])
            .rhs_implicit(
                move |y, _p, _t, dy| self.rhs(y.as_slice(), dy.as_mut_slice()),
                move |y, _p, _t, v, jv| {
                    // Directional difference: Newton's method needs no more.
                    let (y, v) = (y.as_slice(), v.as_slice());
                    let h = 1e-4;
                    let shifted = |s: f64| {
                        y.iter()
                            .zip(v)
                            .map(|(a, b)| a + s * b)
                            .collect::<Vec<f64>>()
                    };
                    let (mut up, mut down) = (vec![0.0; n], vec![0.0; n]);
                    self.rhs(&shifted(h), &mut up);
                    self.rhs(&shifted(-h), &mut down);
                    for (o, (a, b)) in jv.as_mut_slice().iter_mut().zip(up.iter().zip(&down)) {
                        *o = (a - b) / (2.0 * h);
                    }
                },
            )
            .init(|_p, _t, y| y.as_mut_slice().fill(AIR_K), n)
            .root(
                move |y, _p, _t, g| g[0] = self.deflection(y.as_slice()) - 1.2e-3,
                1,
            )
            .build()
            .expect("problem");
        let mut solver = problem.bdf::<NalgebraLU<f64>>().expect("solver");
        loop {
            match solver.step().expect("step") {
                OdeSolverStopReason::RootFound(t, _) => return t,
                _ => assert!(solver.state().t < 1e3, "no trip"),
            }
        }
    }
}
