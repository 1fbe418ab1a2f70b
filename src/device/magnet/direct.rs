//! Direct currents: which begins to move the armature, which moves it through slowly, which in one
//! blow.

use super::{Magnet, Reach};

/// Places between which a largest value is first looked for.
const PLACES: usize = 200;

/// Three direct currents of an instantaneous element, A. Standards apply the current at once, so
/// that `step_a` is the pick-up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DirectCurrents {
    /// The armature begins to move.
    pub start_a: f64,
    /// Raised slowly it releases; `None`: the iron saturates, only the blow can release it.
    pub static_a: Option<f64>,
    /// Applied at once it releases; `None`: no current does.
    pub step_a: Option<f64>,
}

impl Magnet {
    /// The three direct currents; `None` where the iron saturates before the armature begins to
    /// move.
    pub fn direct_currents(&self) -> Option<DirectCurrents> {
        let (strike, release) = (self.built.strike_m, self.built.release_m());
        let start_a = self.balance_a(0.0, Reach::Free);
        let reaches = [
            (0.0, strike, Reach::Free),
            (strike, release, Reach::Trigger),
        ];
        let balance = reaches.map(|(a, b, reach)| largest(a, b, |x| self.balance_a(x, reach)));
        let work = |x: f64| {
            if x > 0.0 {
                self.built.circuit.current_for_work_a(self.work_j(x), x)
            } else {
                start_a
            }
        };
        let blow = reaches.map(|(a, b, _)| largest(a, b, work));
        let finite = |a: f64| a.is_finite().then_some(a);
        finite(start_a).map(|start_a| DirectCurrents {
            start_a,
            static_a: finite(balance[0].max(balance[1])),
            step_a: finite(start_a.max(blow[0]).max(blow[1])),
        })
    }
}

/// Largest value between two places: the best of many, then by thirds between its neighbours.
fn largest(from: f64, to: f64, value: impl Fn(f64) -> f64) -> f64 {
    let at = |k: usize| from + (to - from) * k as f64 / PLACES as f64;
    let best = (0..=PLACES).max_by(|a, b| value(at(*a)).total_cmp(&value(at(*b))));
    let best = best.unwrap_or(0);
    let (mut a, mut b) = (at(best.saturating_sub(1)), at((best + 1).min(PLACES)));
    let mut most = value(at(best));
    for _ in 0..40 {
        let (left, right) = (a + (b - a) / 3.0, b - (b - a) / 3.0);
        let (l, r) = (value(left), value(right));
        most = most.max(l).max(r);
        if l < r {
            a = left;
        } else {
            b = right;
        }
    }
    most
}
