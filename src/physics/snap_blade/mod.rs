//! Hinged blade that snaps, exact in its sine modes.
//!
//! Stress-free bow a0 sin(πx/l) towards the first-listed side (positive), so that heating works
//! against it. At thrust N the modes are a_n = (P_n a0_n − EI κ_n)/(P_n − N), P_n = n² π² EI/l²;
//! the thrust follows from the shortening, N = N_0 + K_e E_th − K_e π²/(4l) Σ n² (a_n² − a0_n²). S.
//! Timoshenko, J. Appl. Mech. 2 (1935) A17 (problem and one-mode form); all modes: elementary
//! beam-column theory, derived here. Shallow bow, small rotations, hinges that do not give
//! sideways.
//!
//! On either side (a_1 > 0 bowed as made, a_1 < 0 snapped) equilibrium in mode 1 asks g(N) = (P_1 −
//! N) a_1(N) − P_1 a0 + EI κ_1 = 0. An extremum of g over N is a fold: beyond it no equilibrium is
//! left on that side. It lies where h(N) = a_1² − (N − P_1)(2l/(K_e π²) + Σ_{n≥2} n² a_n²/(P_n −
//! N)) = 0, the same for both sides and unique in P_1 < N < P_2 because h falls.

mod fold;
mod landscape;
pub mod one_term;
mod state;

pub use fold::Fold;
pub use state::BladeState;

use std::f64::consts::PI;

/// A snap blade at its present temperatures.
///
/// ```
/// use relatch::internals::physics::snap_blade::SnapBlade;
/// // 20 mm span, 0.25 mm thick, 0.30 mm rise, per metre of width; uniform curvature of 5 per metre.
/// let uniform: Vec<f64> = (1..40).map(|n| if n % 2 == 1 { 4.0 * 5.0 / (n as f64 * 3.14159) } else { 0.0 }).collect();
/// let blade = SnapBlade {
///     span_m: 20e-3,
///     stiffness_ei_n_m2: 150e9 * 0.25e-3_f64.powi(3) / 12.0,
///     axial_stiffness_n_per_m: 150e9 * 0.25e-3 / 20e-3,
///     rise_m: 0.30e-3,
///     thrust_n: 0.0,
///     curvature_modes_per_m: &uniform,
/// };
/// assert!(blade.trip_margin_m() < 0.0); // not yet through
/// assert!(blade.closed_rise_m().unwrap() < 0.30e-3);
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SnapBlade<'a> {
    /// Distance between the hinges l, m.
    pub span_m: f64,
    /// Bending stiffness EI, width included, N m².
    pub stiffness_ei_n_m2: f64,
    /// Axial stiffness K_e of blade and supports in series, N/m; for rigid supports EA/l.
    pub axial_stiffness_n_per_m: f64,
    /// Stress-free rise a0 of the middle, m.
    pub rise_m: f64,
    /// Thrust at the stress-free rise, N: preload left plus K_e (∫ e_N dx − l e_frame). Compression
    /// is positive.
    pub thrust_n: f64,
    /// Sine modes of the thermal curvature, κ_n = (2/l) ∫ κ_T sin(nπx/l) dx for n = 1, 2, ..., 1/m.
    pub curvature_modes_per_m: &'a [f64],
}

impl SnapBlade<'_> {
    /// Euler load of mode 1, π² EI/l², N.
    #[must_use]
    pub fn euler_load_n(&self) -> f64 {
        self.stiffness_ei_n_m2 * (PI / self.span_m).powi(2)
    }

    /// How far the closed side has passed its fold, m of stress-free mode-1 amplitude:
    /// EI κ_1/P_1 − a0 − (N_f/P_1 − 1) A_f. From 0 up the blade has snapped through.
    #[must_use]
    pub fn trip_margin_m(&self) -> f64 {
        self.thermal_bow_m() - self.rise_m - self.fold().half_width_m(self.euler_load_n())
    }

    /// How far the snapped side is from its fold, m: EI κ_1/P_1 − a0 + (N_f/P_1 − 1) A_f. From 0
    /// down the blade has snapped back.
    #[must_use]
    pub fn reset_margin_m(&self) -> f64 {
        self.thermal_bow_m() - self.rise_m + self.fold().half_width_m(self.euler_load_n())
    }

    /// Mode-1 amplitude on the closed side, m; `None` when there is no equilibrium there.
    #[must_use]
    pub fn closed_rise_m(&self) -> Option<f64> {
        self.closed_state().map(|state| state.first_mode_m)
    }

    /// Mode-1 amplitude on the snapped side, m (negative); `None` when there is no equilibrium
    /// there.
    #[must_use]
    pub fn snapped_rise_m(&self) -> Option<f64> {
        self.snapped_state().map(|state| state.first_mode_m)
    }

    /// Bow that the first curvature mode alone would take away, EI κ_1/P_1 = κ_1 l²/π², m.
    fn thermal_bow_m(&self) -> f64 {
        let first = self.curvature_modes_per_m.first().copied().unwrap_or(0.0);
        first * (self.span_m / PI).powi(2)
    }

    /// Amplitude of mode n ≥ 2 at a thrust, m: −EI κ_n/(P_n − N).
    fn higher_mode_m(&self, n: usize, thrust_n: f64) -> f64 {
        let curvature = self
            .curvature_modes_per_m
            .get(n - 1)
            .copied()
            .unwrap_or(0.0);
        if curvature == 0.0 {
            return 0.0;
        }
        let order = (n * n) as f64;
        -self.stiffness_ei_n_m2 * curvature / (order * self.euler_load_n() - thrust_n)
    }

    /// 2l/(K_e π²), m² per N: half of what a_1² loses per newton of thrust to stretching.
    fn stretch_m2_per_n(&self) -> f64 {
        2.0 * self.span_m / (self.axial_stiffness_n_per_m * PI * PI)
    }

    /// What fits the thrust: one pass over the modes, one division each.
    fn first_mode(&self, thrust_n: f64) -> FirstMode {
        let euler_n = self.euler_load_n();
        let stretch = self.stretch_m2_per_n();
        let mut first = FirstMode {
            squared: self.rise_m * self.rise_m - 2.0 * stretch * (thrust_n - self.thrust_n),
            half_fall: stretch,
            rise_of_fall: 0.0,
        };
        for (n, curvature) in (1u32..).zip(self.curvature_modes_per_m).skip(1) {
            let order = f64::from(n * n);
            let per_newton = 1.0 / (order * euler_n - thrust_n);
            let amplitude = self.stiffness_ei_n_m2 * curvature * per_newton;
            let shortening = order * amplitude * amplitude;
            if shortening > 0.0 {
                first.squared -= shortening;
                first.half_fall += shortening * per_newton;
                first.rise_of_fall += shortening * per_newton * per_newton;
            }
        }
        first
    }
}

/// The amplitude of mode 1 that fits a thrust N.
struct FirstMode {
    /// a_1²; may be negative: none does.
    squared: f64,
    /// Minus half its slope in the thrust.
    half_fall: f64,
    /// Half the slope of that: Σ n² a_n²/(P_n − N)².
    rise_of_fall: f64,
}
