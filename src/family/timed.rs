//! What was timed at the part in hand, and how well a part of the family agrees with it.

/// Scatter of trip times and waits of one unit, relative (trips after shock tests must stay within
/// 15 %, MIL-DTL-17361G 4.5.10.3.1; taken as a little more than one standard deviation).
const SCATTER: f64 = 0.12;
/// What a hand at a stop-watch is off, s.
const STOP_WATCH_S: f64 = 0.25;

/// What was timed: a trip, resets that held and resets that did not.
#[derive(Debug, Clone, PartialEq, Default)]
#[non_exhaustive]
pub struct Timed {
    /// Trip from cold: after this time, s, under this current, A.
    pub trip: Option<(f64, f64)>,
    /// The latch held when it was reset after these waits, s.
    pub held_s: Vec<f64>,
    /// The latch did not hold yet after these waits, s.
    pub refused_s: Vec<f64>,
}

impl Timed {
    /// Whether nothing was.
    pub fn is_nothing(&self) -> bool {
        self.trip.is_none() && self.held_s.is_empty() && self.refused_s.is_empty()
    }

    /// How well a trip after `trip_s` agrees, 0 to 1 (1: just so), where times are known to
    /// `relative`.
    pub(super) fn agrees_with_trip(&self, trip_s: f64, relative: f64) -> f64 {
        self.trip.map_or(1.0, |(seen_s, _)| {
            let off = (trip_s / seen_s).ln() / relative.hypot(STOP_WATCH_S / trip_s.max(seen_s));
            (-0.5 * off * off).exp()
        })
    }

    /// How well a part agrees that trips after `trip_s` and can be reset `reset_s` later (infinite:
    /// never), 0 to 1.
    pub(super) fn agrees(&self, trip_s: f64, reset_s: f64) -> f64 {
        self.agrees_with_trip(trip_s, SCATTER) * self.agrees_with_reset(reset_s)
    }

    /// How well a part agrees that can be reset after `reset_s` (infinite: never), 0 to 1.
    pub(super) fn agrees_with_reset(&self, reset_s: f64) -> f64 {
        let ready_by = |wait_s: &f64| {
            let spread = SCATTER.hypot(STOP_WATCH_S / reset_s.max(*wait_s));
            // A logistic curve of the spread of a normal one.
            1.0 / (1.0 + ((reset_s / wait_s).ln() * 1.7 / spread).exp())
        };
        let held: f64 = self.held_s.iter().map(ready_by).product();
        let refused: f64 = self.refused_s.iter().map(|s| 1.0 - ready_by(s)).product();
        held * refused
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_agrees_with_what_it_would_have_done() {
        let timed = Timed {
            trip: Some((9.0, 24.0)),
            held_s: vec![40.0],
            refused_s: vec![20.0],
        };
        let sure = timed.agrees(9.0, 30.0);
        assert!(sure > 0.9, "{sure}");
        for (trip_s, reset_s) in [(18.0, 30.0), (9.0, 80.0), (9.0, 10.0), (9.0, f64::INFINITY)] {
            assert!(timed.agrees(trip_s, reset_s) < 0.02, "{trip_s} {reset_s}");
        }
        // A stop-watch that is slow by its whole reading is no reason to agree with a part that
        // takes a minute.
        let short = Timed {
            trip: Some((0.05, 11.0)),
            ..Timed::default()
        };
        assert!(short.agrees(0.2, 30.0) > 0.1 && short.agrees(60.0, 30.0) < 1e-9);
        assert_eq!(Timed::default().agrees(9.0, f64::INFINITY), 1.0);
    }
}
