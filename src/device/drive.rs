//! What drives a protector over one smooth piece of time: current, ambient, contacts.

use crate::load::Piece;

/// Contacts closed or open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Phase {
    /// Current flows and the contact conducts heat.
    Closed,
    /// No current, no contact.
    Open,
}

/// A straight piece of the ambient temperature against absolute time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ambient {
    /// Time of reference, s.
    pub at_s: f64,
    /// Temperature there, K.
    pub value_k: f64,
    /// Slope, K/s.
    pub slope_k_per_s: f64,
}

impl Ambient {
    /// The same temperature for ever.
    pub fn constant(value_k: f64) -> Ambient {
        Ambient {
            at_s: 0.0,
            value_k,
            slope_k_per_s: 0.0,
        }
    }

    /// The piece of a course of points (s, K) that holds just after `t`, and where it ends.
    pub fn of(points: &[(f64, f64)], t: f64) -> (Ambient, f64) {
        match points {
            [] => (Ambient::constant(293.15), f64::INFINITY),
            [(_, only)] => (Ambient::constant(*only), f64::INFINITY),
            _ => {
                let first = points[0];
                let last = points[points.len() - 1];
                if t < first.0 {
                    return (Ambient::constant(first.1), first.0);
                }
                for pair in points.windows(2) {
                    let ((a, from), (b, to)) = (pair[0], pair[1]);
                    if t < b {
                        let slope_k_per_s = (to - from) / (b - a);
                        return (
                            Ambient {
                                at_s: a,
                                value_k: from,
                                slope_k_per_s,
                            },
                            b,
                        );
                    }
                }
                (Ambient::constant(last.1), f64::INFINITY)
            }
        }
    }

    /// Temperature at a time, K.
    pub fn at(&self, t: f64) -> f64 {
        if self.slope_k_per_s == 0.0 {
            self.value_k
        } else {
            self.value_k + self.slope_k_per_s * (t - self.at_s)
        }
    }
}

/// What drives the protector over one smooth piece of time.
#[derive(Debug, Clone, Copy)]
pub struct Drive {
    /// Closed or open.
    pub phase: Phase,
    /// Current in programme time.
    pub current: Piece,
    /// Absolute time at which the programme started, s.
    pub programme_start_s: f64,
    /// Ambient in absolute time.
    pub ambient: Ambient,
}

impl Drive {
    /// A constant current at a constant ambient.
    pub fn constant(current_a: f64, ambient_k: f64) -> Drive {
        Drive {
            phase: Phase::Closed,
            current: Piece::constant(current_a),
            programme_start_s: 0.0,
            ambient: Ambient::constant(ambient_k),
        }
    }

    /// Open contacts at a constant ambient.
    pub fn open(ambient_k: f64) -> Drive {
        Drive {
            phase: Phase::Open,
            ..Drive::constant(0.0, ambient_k)
        }
    }

    /// Current, A, and its slope, A/s, at absolute time `t`.
    pub fn current(&self, t: f64) -> (f64, f64) {
        match self.phase {
            Phase::Closed => self.current.at(t - self.programme_start_s),
            Phase::Open => (0.0, 0.0),
        }
    }

    /// Ambient, K, at absolute time `t`.
    pub fn ambient_k(&self, t: f64) -> f64 {
        self.ambient.at(t)
    }
}
