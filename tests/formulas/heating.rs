//! One body, one temperature: closed forms to teach with and to check the engine by hand.
//!
//! C dT/dt = I² R − G (T − T_air), all constant. Newton's law of cooling; any heat transfer
//! textbook.
//!
//! Holds for a body that conducts far better than it gives off heat (Biot number h V/(A k) below
//! 0.1) and for rises so small that R and G do not change. A strip between cooler terminals is not
//! such a body: its ends run colder and its short-time response is faster than one time constant
//! says.

/// A body of one temperature that carries current.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LumpedBody {
    /// Heat capacity C, J/K.
    pub heat_capacity_j_per_k: f64,
    /// Conductance to the surroundings G, W/K.
    pub conductance_w_per_k: f64,
    /// Resistance R, Ω.
    pub resistance_ohm: f64,
}

impl LumpedBody {
    /// Time constant C/G, s.
    #[must_use]
    pub fn time_constant_s(&self) -> f64 {
        self.heat_capacity_j_per_k / self.conductance_w_per_k
    }

    /// Rise over the surroundings after a very long time, I² R/G, K.
    #[must_use]
    pub fn steady_rise_k(&self, current_a: f64) -> f64 {
        current_a * current_a * self.resistance_ohm / self.conductance_w_per_k
    }

    /// Rise a time after the start from cold, K.
    #[must_use]
    pub fn rise_k(&self, current_a: f64, time_s: f64) -> f64 {
        -self.steady_rise_k(current_a) * (-time_s / self.time_constant_s()).exp_m1()
    }

    /// Current that just reaches a rise after a very long time, √(G ΔT/R), A.
    #[must_use]
    pub fn ultimate_current_a(&self, rise_k: f64) -> f64 {
        (self.conductance_w_per_k * rise_k / self.resistance_ohm).sqrt()
    }

    /// Time from cold to a rise, s; `None` when the rise is never reached.
    #[must_use]
    pub fn time_to_rise_s(&self, current_a: f64, rise_k: f64) -> Option<f64> {
        relative_trip_time(current_a / self.ultimate_current_a(rise_k))
            .map(|relative| relative * self.time_constant_s())
    }

    /// Time to a rise with no heat given off, C ΔT/(I² R), s: the limit of a large current.
    #[must_use]
    pub fn adiabatic_time_s(&self, current_a: f64, rise_k: f64) -> f64 {
        self.heat_capacity_j_per_k * rise_k / (current_a * current_a * self.resistance_ohm)
    }

    /// Time to cool without current, τ ln[(T − T_air)/(T_end − T_air)], s; `None` when the air is
    /// not below the end.
    #[must_use]
    pub fn cooling_time_s(&self, from_k: f64, to_k: f64, air_k: f64) -> Option<f64> {
        let cools = to_k > air_k && from_k >= to_k;
        cools.then(|| self.time_constant_s() * ((from_k - air_k) / (to_k - air_k)).ln())
    }
}

/// Trip time from cold over the time constant, ln[n²/(n² − 1)]; n the current over the ultimate
/// one. `None` up to n = 1.
#[must_use]
pub fn relative_trip_time(current_ratio: f64) -> Option<f64> {
    (current_ratio > 1.0).then(|| -(-1.0 / (current_ratio * current_ratio)).ln_1p())
}

/// Trip time of the thermal model of IEC 60255-149 (formula from memory), s: τ ln[(I² − I_p²)/(I² −
/// (k I_b)²)], I_p the load carried before until steady, k I_b the threshold (τ, k and I_b are
/// settings of a relay). One time constant, one ambient. `None` when I ≤ k I_b; 0 when I_p is
/// beyond it.
#[must_use]
pub fn iec_60255_149_trip_time_s(
    time_constant_s: f64,
    current_a: f64,
    earlier_a: f64,
    factor: f64,
    basic_a: f64,
) -> Option<f64> {
    let threshold_a = factor * basic_a;
    let square = |a: f64| a * a;
    let from = square(current_a) - square(earlier_a);
    let to = square(current_a) - square(threshold_a);
    (current_a > threshold_a).then(|| time_constant_s * (from / to).ln().max(0.0))
}
