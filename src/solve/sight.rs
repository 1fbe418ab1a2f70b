//! How an event comes into sight: the cubic through its distance and rate at both ends of a step.

/// Distance and its rate at a time.
#[derive(Debug, Clone, Copy)]
pub struct Sight {
    /// Signed distance; negative before the event.
    pub value: f64,
    /// Its rate, per second.
    pub rate: f64,
}

/// Time to the event at the present rate; infinite when it does not come nearer.
pub fn newton(sight: Sight) -> f64 {
    if sight.rate > 0.0 {
        -sight.value / sight.rate
    } else {
        f64::INFINITY
    }
}

/// The cubic through distance and rate at both ends of a step, in parts of the step.
#[derive(Debug, Clone, Copy)]
pub struct Cubic {
    c: [f64; 4],
    h: f64,
}

impl Cubic {
    /// Through the sights at both ends of a step of length `h`.
    pub fn through(a: Sight, b: Sight, h: f64) -> Cubic {
        let (d0, d1, rise) = (a.rate * h, b.rate * h, b.value - a.value);
        Cubic {
            c: [
                a.value,
                d0,
                3.0 * rise - 2.0 * d0 - d1,
                d0 + d1 - 2.0 * rise,
            ],
            h,
        }
    }

    fn at(&self, s: f64) -> f64 {
        let [a, b, c, d] = self.c;
        a + s * (b + s * (c + s * d))
    }

    fn slope(&self, s: f64) -> f64 {
        let [_, b, c, d] = self.c;
        b + s * (2.0 * c + s * 3.0 * d)
    }

    /// Places inside the step where the cubic turns.
    fn turns(&self) -> [Option<f64>; 2] {
        let [_, b, c, d] = self.c;
        let inside = |s: f64| (s > 0.0 && s < 1.0).then_some(s);
        let disc = c * c - 3.0 * d * b;
        if !(disc > 0.0) {
            return [None, None];
        }
        // The stable pair of roots of `b + 2 c s + 3 d s^2`.
        let q = -(c + c.signum() * disc.sqrt());
        let (x, y) = (q / (3.0 * d), b / q);
        let (first, second) = if x < y { (x, y) } else { (y, x) };
        [inside(first), inside(second)]
    }

    /// Largest value in the step.
    pub fn largest(&self) -> f64 {
        self.turns()
            .into_iter()
            .flatten()
            .map(|s| self.at(s))
            .fold(self.at(0.0).max(self.at(1.0)), f64::max)
    }

    /// First place in the step where the cubic reaches zero from below.
    pub fn crossing(&self) -> Option<f64> {
        let mut low = 0.0;
        let mut high = None;
        for s in self.turns().into_iter().flatten().chain([1.0]) {
            if self.at(s) >= 0.0 {
                high = Some(s);
                break;
            }
            low = s;
        }
        let mut high = high?;
        // Newton inside the bracket, halving where it leaves it.
        let mut s = high;
        for _ in 0..60 {
            let value = self.at(s);
            if value < 0.0 {
                low = s
            } else {
                high = s
            }
            let next = s - value / self.slope(s);
            let next = if next > low && next < high {
                next
            } else {
                0.5 * (low + high)
            };
            if (next - s).abs() < 1e-13 {
                return Some(next);
            }
            s = next;
        }
        Some(s)
    }

    /// Time from the end of the step to the event, by going on along the cubic; infinite when it
    /// does not get there within four steps.
    pub fn ahead(&self, end: Sight) -> f64 {
        let start = newton(end) / self.h;
        if !(start < 6.0) {
            return if end.rate > 0.0 && self.c[2] >= 0.0 {
                start * self.h
            } else {
                f64::INFINITY
            };
        }
        // Curvature and its change at the end; the root of the cubic beyond it.
        let [_, _, c, d] = self.c;
        let (bend, twist) = (2.0 * c + 6.0 * d, 6.0 * d);
        let (value, rate) = (end.value, end.rate * self.h);
        let mut s = start;
        for _ in 0..30 {
            let v = value + s * (rate + s * (0.5 * bend + s * twist / 6.0));
            let slope = rate + s * (bend + s * 0.5 * twist);
            if !(slope > 0.0) {
                return f64::INFINITY;
            }
            let change = v / slope;
            s -= change;
            if !(s > 0.0 && s < 6.0) {
                return f64::INFINITY;
            }
            if change.abs() < 1e-9 * s {
                break;
            }
        }
        s * self.h
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cubic_finds_its_first_crossing_also_behind_a_peak() {
        // (s - 0.3)(s - 0.4)(s - 2) rises through 0.3, falls through 0.4.
        let value = |s: f64| (s - 0.3) * (s - 0.4) * (s - 2.0);
        let slope = |s: f64| (s - 0.4) * (s - 2.0) + (s - 0.3) * (s - 2.0) + (s - 0.3) * (s - 0.4);
        let sight = |s: f64| Sight {
            value: value(s),
            rate: slope(s),
        };
        let cubic = Cubic::through(sight(0.0), sight(1.0), 1.0);
        assert!((cubic.crossing().expect("crosses") - 0.3).abs() < 1e-12);
        let before = Cubic::through(sight(0.0), sight(0.2), 0.2);
        assert_eq!(before.crossing(), None);
        assert!((before.ahead(sight(0.2)) - 0.1).abs() < 1e-9);
    }
}
