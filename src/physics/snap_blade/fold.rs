//! Where equilibrium ends: the fold, or the antisymmetric bifurcation before it.

use super::SnapBlade;

/// Thrust at which the two sides of a blade end.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fold {
    /// The blade snaps.
    Snaps {
        /// Thrust N_f at the fold, N; between P_1 and P_2 = 4 P_1.
        thrust_n: f64,
        /// Size A_f of the mode-1 amplitude at the fold, m; of either sign.
        amplitude_m: f64,
        /// It goes sideways first, through mode 2 at N = P_2.
        antisymmetric: bool,
    },
    /// There is no fold: the blade creeps through flat, tripping and resetting at one temperature.
    Creeps,
}

impl Fold {
    /// Half of the hysteresis in mode-1 amplitude, (N_f/P_1 − 1) A_f, m; 0 when it creeps.
    pub(super) fn half_width_m(self, euler_load_n: f64) -> f64 {
        match self {
            Fold::Snaps {
                thrust_n,
                amplitude_m,
                ..
            } => (thrust_n / euler_load_n - 1.0) * amplitude_m,
            Fold::Creeps => 0.0,
        }
    }
}

/// Nearest to P_2, relative, that a fold is sought. Closer than this mode 2 is so small that the
/// blade bifurcates for all purposes; the margin changes by less than 1e-8 of itself there.
const NEXT_TO_SECOND: f64 = 1e-9;

impl SnapBlade<'_> {
    /// Finds the fold. Does not allocate. NaN input gives `Creeps`.
    #[must_use]
    pub fn fold(&self) -> Fold {
        let euler_n = self.euler_load_n();
        let (mut low, mut high) = (euler_n, 4.0 * euler_n * (1.0 - NEXT_TO_SECOND));
        let folds = self.fold_condition(low).0 > 0.0;
        if !folds {
            return Fold::Creeps;
        }
        if self.fold_condition(high).0 > 0.0 {
            return self.bifurcation(4.0 * euler_n);
        }
        // The margin is stationary at the fold: an error here counts only squared.
        let mut thrust_n = 0.5 * (low + high);
        for _ in 0..100 {
            let (value, slope) = self.fold_condition(thrust_n);
            if value > 0.0 {
                low = thrust_n;
            } else {
                high = thrust_n;
            }
            let newton = thrust_n - value / slope;
            let next = if newton > low && newton < high {
                newton
            } else {
                0.5 * (low + high)
            };
            let step = (next - thrust_n).abs();
            thrust_n = next;
            if step <= 1e-12 * euler_n {
                break;
            }
        }
        Fold::Snaps {
            thrust_n,
            amplitude_m: self.first_mode(thrust_n).squared.max(0.0).sqrt(),
            antisymmetric: false,
        }
    }

    /// Mode 2 grows from nothing at N = P_2; just there its own size no longer counts.
    fn bifurcation(&self, second_load_n: f64) -> Fold {
        let stretch = self.stretch_m2_per_n();
        let mut squared =
            self.rise_m * self.rise_m - 2.0 * stretch * (second_load_n - self.thrust_n);
        for n in 3..=self.curvature_modes_per_m.len() {
            squared -= (n * n) as f64 * self.higher_mode_m(n, second_load_n).powi(2);
        }
        Fold::Snaps {
            thrust_n: second_load_n,
            amplitude_m: squared.max(0.0).sqrt(),
            antisymmetric: true,
        }
    }

    /// h(N) and its slope: −3 (stretch + Σ n² a_n²/(P_n − N)) − 3 (N − P_1) Σ n² a_n²/(P_n − N)².
    fn fold_condition(&self, thrust_n: f64) -> (f64, f64) {
        let past = thrust_n - self.euler_load_n();
        let first = self.first_mode(thrust_n);
        (
            first.squared - past * first.half_fall,
            -3.0 * first.half_fall - 3.0 * past * first.rise_of_fall,
        )
    }
}
