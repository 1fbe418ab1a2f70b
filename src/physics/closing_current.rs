//! Current of a circuit against the time since it was closed, at a closing angle after voltage
//! zero.
//!
//! Alternating and direct current with a decaying offset: textbook solution of a resistance and an
//! inductance in series. Charging of a capacitance: peak U √(C/L), textbook. Lamp, half wave and
//! transformer: common practice, no source; their constants are given, never assumed.

use std::f64::consts::{SQRT_2, TAU};

/// Relative size of a transient that no longer matters.
const GONE: f64 = 1e-3;

/// How a current begins.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ClosingCurrent {
    /// Alternating, with the decaying offset of an inductance.
    Alternating {
        /// Prospective, rms, A.
        rms_a: f64,
        /// Hz.
        frequency_hz: f64,
        /// Reactance over resistance (0: no offset where it is closed at voltage zero).
        x_over_r: f64,
    },
    /// Direct, rising.
    Direct {
        /// Final, A.
        current_a: f64,
        /// L/R, s; 0: at once.
        time_constant_s: f64,
    },
    /// One half wave in two.
    HalfWave {
        /// A.
        peak_a: f64,
        /// Hz.
        frequency_hz: f64,
    },
    /// Filament lamps that warm up.
    Lamp {
        /// Warm, rms, A.
        rms_a: f64,
        /// Hz.
        frequency_hz: f64,
        /// Current cold over warm.
        cold_ratio: f64,
        /// Of the warming, s.
        time_constant_s: f64,
    },
    /// Magnetizing inrush of a transformer without load.
    Transformer {
        /// Worst first peak, A.
        first_peak_a: f64,
        /// Hz.
        frequency_hz: f64,
        /// Flux left in the core over the rated flux peak.
        remanence: f64,
        /// Flux at which the core saturates over the rated flux peak.
        saturation: f64,
        /// Of the offset, s.
        time_constant_s: f64,
    },
    /// Charging of a capacitance through an inductance, then its steady current.
    Capacitor {
        /// Of the ringing, U √(C/L), A.
        peak_a: f64,
        /// Of the ringing, Hz.
        ringing_hz: f64,
        /// Of its decay, s.
        time_constant_s: f64,
        /// Afterwards, rms, A.
        steady_rms_a: f64,
        /// Hz.
        frequency_hz: f64,
    },
}

/// What is left after `t_s` of what decays with a time constant.
fn left(t_s: f64, tau_s: f64) -> f64 {
    if tau_s > 0.0 {
        (-t_s / tau_s).exp()
    } else {
        0.0
    }
}

impl ClosingCurrent {
    /// Current, A, at `t_s` after closing at `angle_rad` after voltage zero.
    #[must_use]
    pub fn at(&self, angle_rad: f64, t_s: f64) -> f64 {
        let left = |tau_s| left(t_s, tau_s);
        match *self {
            Self::Alternating {
                rms_a,
                frequency_hz,
                x_over_r,
            } => {
                let omega = TAU * frequency_hz;
                let a = angle_rad - x_over_r.atan();
                SQRT_2 * rms_a * ((omega * t_s + a).sin() - a.sin() * left(x_over_r / omega))
            }
            Self::Direct {
                current_a,
                time_constant_s,
            } => current_a * (1.0 - left(time_constant_s)),
            Self::HalfWave {
                peak_a,
                frequency_hz,
            } => peak_a * (TAU * frequency_hz * t_s + angle_rad).sin().max(0.0),
            Self::Lamp {
                rms_a,
                frequency_hz,
                cold_ratio,
                time_constant_s,
            } => {
                let size = 1.0 + (cold_ratio - 1.0) * left(time_constant_s);
                SQRT_2 * rms_a * size * (TAU * frequency_hz * t_s + angle_rad).sin()
            }
            Self::Transformer {
                first_peak_a,
                frequency_hz,
                remanence,
                saturation,
                time_constant_s,
            } => {
                let offset = (remanence + angle_rad.cos()) * left(time_constant_s);
                let flux = offset - (TAU * frequency_hz * t_s + angle_rad).cos();
                let beyond = (flux.abs() - saturation).max(0.0);
                first_peak_a * flux.signum() * beyond / (2.0 + remanence - saturation)
            }
            Self::Capacitor {
                peak_a,
                ringing_hz,
                time_constant_s,
                steady_rms_a,
                frequency_hz,
            } => {
                let (sin, cos) = (TAU * ringing_hz * t_s).sin_cos();
                let steady = (TAU * frequency_hz * t_s + angle_rad).cos();
                let decay = left(time_constant_s);
                peak_a * angle_rad.sin() * decay * sin
                    + SQRT_2 * steady_rms_a * (steady - angle_rad.cos() * decay * cos)
            }
        }
    }

    /// What the current never exceeds from `t_s` on, A.
    #[must_use]
    pub fn bound_from_a(&self, angle_rad: f64, t_s: f64) -> f64 {
        let left = |tau_s| left(t_s, tau_s);
        match *self {
            Self::Alternating {
                rms_a,
                frequency_hz,
                x_over_r,
            } => {
                let offset = (angle_rad - x_over_r.atan()).sin().abs();
                SQRT_2 * rms_a * (1.0 + offset * left(x_over_r / (TAU * frequency_hz)))
            }
            Self::Direct { current_a, .. } => current_a,
            Self::HalfWave { peak_a, .. } => peak_a,
            Self::Lamp {
                rms_a,
                cold_ratio,
                time_constant_s,
                ..
            } => SQRT_2 * rms_a * (1.0 + (cold_ratio - 1.0).max(0.0) * left(time_constant_s)),
            Self::Transformer {
                first_peak_a,
                remanence,
                saturation,
                time_constant_s,
                ..
            } => {
                let flux = 1.0 + (remanence + angle_rad.cos()).abs() * left(time_constant_s);
                first_peak_a * (flux - saturation).max(0.0) / (2.0 + remanence - saturation)
            }
            Self::Capacitor {
                peak_a,
                time_constant_s,
                steady_rms_a,
                ..
            } => {
                let ringing = peak_a + SQRT_2 * steady_rms_a;
                ringing * left(time_constant_s) + SQRT_2 * steady_rms_a
            }
        }
    }

    /// Time after which its size repeats itself, s, and from when on: the transient is gone then.
    /// `None`: direct current.
    #[must_use]
    pub fn repeats(&self) -> Option<(f64, f64)> {
        let half_s = 0.5 / self.frequency_hz()?;
        let gone_after = |tau: f64| Some((half_s, -GONE.ln() * tau));
        match *self {
            Self::Direct { .. } => None,
            Self::HalfWave { .. } => Some((2.0 * half_s, 0.0)),
            Self::Alternating {
                frequency_hz,
                x_over_r,
                ..
            } => gone_after(x_over_r / (TAU * frequency_hz)),
            Self::Lamp {
                time_constant_s, ..
            }
            | Self::Transformer {
                time_constant_s, ..
            }
            | Self::Capacitor {
                time_constant_s, ..
            } => gone_after(time_constant_s),
        }
    }

    /// Time in which it may turn once at `t_s`, s: what a step must resolve.
    #[must_use]
    pub fn pace_s(&self, t_s: f64) -> f64 {
        match *self {
            Self::Direct {
                time_constant_s, ..
            } => time_constant_s.max(0.01),
            Self::Capacitor {
                ringing_hz,
                time_constant_s,
                ..
            } if t_s < 10.0 * time_constant_s => 1.0 / ringing_hz,
            _ => self.frequency_hz().map_or(0.01, |hz| 1.0 / hz),
        }
    }

    /// Frequency of the supply, Hz; `None`: direct current.
    #[must_use]
    pub fn frequency_hz(&self) -> Option<f64> {
        match *self {
            Self::Direct { .. } => None,
            Self::Alternating { frequency_hz, .. }
            | Self::HalfWave { frequency_hz, .. }
            | Self::Lamp { frequency_hz, .. }
            | Self::Transformer { frequency_hz, .. }
            | Self::Capacitor { frequency_hz, .. } => Some(frequency_hz),
        }
    }
}
