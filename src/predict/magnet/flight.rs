//! One closing: the armature from its rest to the release, or until it is clear that it does not
//! release.

use crate::device::{Magnet, Reach};
use crate::physics::closing_current::ClosingCurrent;
use crate::solve::pair54::{self, Stepped};

/// Local error of a step, over the way to the release and the speed scale.
const TOLERANCE: f64 = 1e-6;
/// Looks a period for the current that moves a resting armature.
const LOOKS: f64 = 48.0;
/// Steps a period at least.
const STEPS: f64 = 20.0;
/// Part of a period within which two phases count as the same.
const SAME: f64 = 1e-3;

/// A moment of the armature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moved {
    /// Time since closing, s.
    pub time_s: f64,
    /// Speed, m/s.
    pub speed_m_per_s: f64,
}

/// What a closing does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flight {
    /// The striker first meets the trigger.
    pub strike: Option<Moved>,
    /// The trigger releases.
    pub release: Option<Moved>,
    /// Time that was looked at, s: less than the horizon where what follows only repeats.
    pub looked_at_s: f64,
    /// How often the current was evaluated.
    pub evaluations: u32,
}

/// Fly through one closing at `angle_rad` after voltage zero, up to `horizon_s`; `watch` sees time,
/// closing of the gap and speed at the end of each step.
pub fn flight(
    magnet: &Magnet,
    current: &ClosingCurrent,
    angle_rad: f64,
    horizon_s: f64,
    watch: &mut dyn FnMut(f64, f64, f64),
) -> Flight {
    let built = &magnet.built;
    let mut run = Run {
        magnet,
        current,
        angle_rad,
        horizon_s,
        t: 0.0,
        y: [0.0; 2],
        reach: Reach::Free,
        way_m: built.release_m(),
        speed_m_per_s: (built.release_m() * built.preload_n.max(1e-3) / built.mass_kg).sqrt(),
        step_s: 1e-4,
        strike: None,
        evaluations: 0,
        left_s: None,
        rate: None,
    };
    let release = run.fly(watch);
    Flight {
        strike: run.strike,
        release,
        looked_at_s: run.t,
        evaluations: run.evaluations,
    }
}

struct Run<'a> {
    magnet: &'a Magnet,
    current: &'a ClosingCurrent,
    angle_rad: f64,
    horizon_s: f64,
    t: f64,
    /// Closing of the gap, m, and speed, m/s.
    y: [f64; 2],
    reach: Reach,
    way_m: f64,
    speed_m_per_s: f64,
    step_s: f64,
    strike: Option<Moved>,
    evaluations: u32,
    /// When the armature left its rest, the transient being gone, s.
    left_s: Option<f64>,
    /// Rate at the present state, where a step has left it.
    rate: Option<[f64; 2]>,
}

/// What a step met.
enum Met {
    Nothing,
    Rest,
    Trigger,
    Release,
}

impl Run<'_> {
    fn fly(&mut self, watch: &mut dyn FnMut(f64, f64, f64)) -> Option<Moved> {
        watch(0.0, 0.0, 0.0);
        loop {
            if self.is_over() {
                return None;
            }
            if let Some((least_a, most_a)) = self.stays() {
                let Some(t) = self.leaves(least_a, most_a) else {
                    self.t = self.horizon_s;
                    return None;
                };
                self.t = t;
                if self.repeats() {
                    return None;
                }
                self.rate = None;
                watch(t, self.y[0], self.y[1]);
                let onward = self.y[0] > 0.0 && self.amperes(t) > most_a;
                self.reach = if onward {
                    Reach::Trigger
                } else {
                    self.reach_at_rest()
                };
            }
            let met = self.step();
            watch(self.t, self.y[0], self.y[1]);
            let now = Moved {
                time_s: self.t,
                speed_m_per_s: self.y[1],
            };
            match met {
                Met::Nothing => {}
                Met::Rest => self.y = [0.0; 2],
                Met::Release => return Some(now),
                Met::Trigger => {
                    if self.reach == Reach::Free {
                        self.strike = self.strike.or(Some(now));
                    }
                    self.reach = match self.reach {
                        Reach::Free => Reach::Trigger,
                        Reach::Trigger => Reach::Free,
                    };
                }
            }
        }
    }

    fn amperes(&mut self, t: f64) -> f64 {
        self.evaluations += 1;
        self.current.at(self.angle_rad, t).abs()
    }

    /// The horizon is reached, or nothing can move a resting armature any more.
    fn is_over(&self) -> bool {
        let rests = || {
            let bound_a = self.current.bound_from_a(self.angle_rad, self.t);
            self.y == [0.0; 2] && bound_a < self.magnet.balance_a(0.0, self.reach_at_rest())
        };
        self.t >= self.horizon_s || rests()
    }

    /// Whether the armature leaves its rest at the phase at which it has left it before, the
    /// transient being gone.
    fn repeats(&mut self) -> bool {
        let Some((period_s, from_s)) = self.current.repeats() else {
            return false;
        };
        if self.y != [0.0; 2] || self.t < from_s {
            return false;
        }
        let before_s = *self.left_s.get_or_insert(self.t);
        let periods = (self.t - before_s) / period_s;
        periods > 0.5 && (periods - periods.round()).abs() < SAME
    }

    /// Between which currents the armature stays where it is; `None` while it moves.
    fn stays(&self) -> Option<(f64, f64)> {
        let strike_m = self.magnet.built.strike_m;
        if self.y == [0.0; 2] {
            return Some((-1.0, self.magnet.balance_a(0.0, self.reach_at_rest())));
        }
        let slow = self.y[1].abs() < 1e-4 * self.speed_m_per_s;
        (slow && self.y[0] == strike_m).then(|| {
            (
                self.magnet.balance_a(strike_m, Reach::Free),
                self.magnet.balance_a(strike_m, Reach::Trigger),
            )
        })
    }

    fn reach_at_rest(&self) -> Reach {
        if self.magnet.built.strike_m > 0.0 {
            Reach::Free
        } else {
            Reach::Trigger
        }
    }

    /// First time at which the current leaves these limits.
    fn leaves(&mut self, least_a: f64, most_a: f64) -> Option<f64> {
        let (mut t, mut outside) = (self.t, f64::NEG_INFINITY);
        let beyond = |a: f64| (a - most_a).max(least_a - a);
        loop {
            let now = beyond(self.amperes(t));
            if now > 0.0 {
                if t <= self.t {
                    return Some(t);
                }
                let (mut a, mut b) = (t - self.current.pace_s(self.t) / LOOKS, t);
                a = a.max(self.t);
                // Illinois: the end that stays is halved, so that both close in.
                let (mut fa, mut fb) = (outside, now);
                for _ in 0..60 {
                    if b - a < 1e-9 {
                        break;
                    }
                    let middle = (b - fb * (b - a) / (fb - fa)).clamp(a, b);
                    let value = beyond(self.amperes(middle));
                    if value > 0.0 {
                        (b, fb, fa) = (middle, value, 0.5 * fa);
                    } else {
                        (a, fa, fb) = (middle, value, 0.5 * fb);
                    }
                }
                return Some(b);
            }
            outside = now;
            t += self.current.pace_s(self.t) / LOOKS;
            if t >= self.horizon_s {
                return None;
            }
        }
    }

    /// One accepted step, ended at what it meets.
    fn step(&mut self) -> Met {
        let rate = self.rate.unwrap_or_else(|| self.rate_at(self.t, self.y));
        let most_s = self.current.pace_s(self.t) / STEPS;
        loop {
            let h = self.step_s.min(most_s).min(self.horizon_s - self.t);
            let next = self.tried(&rate, h);
            let [way, speed] = next.error;
            let error = (way / self.way_m)
                .abs()
                .max((speed / self.speed_m_per_s).abs());
            let factor = 0.9 * (error / TOLERANCE).max(1e-8).powf(-0.2);
            self.step_s = h * factor.clamp(0.2, 5.0);
            if error > TOLERANCE && h > 1e-9 {
                continue;
            }
            let Some((target_m, met, within)) = self.meets(&next, h) else {
                (self.t, self.y, self.rate) = (self.t + h, next.y, Some(next.rate));
                return Met::Nothing;
            };
            self.end_at(&rate, &next, h, target_m, within);
            self.rate = None;
            return met;
        }
    }

    fn rate_at(&mut self, t: f64, y: [f64; 2]) -> [f64; 2] {
        let a = self.amperes(t);
        let [x_m, speed] = y;
        [speed, self.magnet.acceleration_m_per_s2(a, x_m, self.reach)]
    }

    fn tried(&mut self, rate: &[f64; 2], h: f64) -> Stepped<2> {
        let (t, y) = (self.t, self.y);
        pair54::step(&mut |t, y| self.rate_at(t, *y), t, &y, rate, h)
    }

    /// The place where a step leaves the reach, what is there, and between which parts of the step
    /// it does.
    fn meets(&self, next: &Stepped<2>, h: f64) -> Option<(f64, Met, [f64; 2])> {
        let built = &self.magnet.built;
        let (low, high) = match self.reach {
            Reach::Free => ((0.0, Met::Rest), (built.strike_m, Met::Trigger)),
            Reach::Trigger if built.strike_m > 0.0 => {
                ((built.strike_m, Met::Trigger), (self.way_m, Met::Release))
            }
            Reach::Trigger => ((0.0, Met::Rest), (self.way_m, Met::Release)),
        };
        let [v0, v1] = [self.y[1], next.y[1]];
        let turns = v0 * v1 < 0.0;
        let turn = if turns { v0 / (v0 - v1) } else { 0.0 };
        if turns {
            let x = self.between(next, h, turn);
            if x > high.0 {
                return Some((high.0, high.1, [0.0, turn]));
            }
            if x < low.0 {
                return Some((low.0, low.1, [0.0, turn]));
            }
        }
        if next.y[0] > high.0 {
            Some((high.0, high.1, [turn, 1.0]))
        } else if next.y[0] < low.0 {
            Some((low.0, low.1, [turn, 1.0]))
        } else {
            None
        }
    }

    /// Closing of the gap within a step: Hermite's cubic.
    fn between(&self, next: &Stepped<2>, h: f64, part: f64) -> f64 {
        let (a, b) = (self.y, next.y);
        let rest = 1.0 - part;
        rest * rest * ((1.0 + 2.0 * part) * a[0] + part * h * a[1])
            + part * part * ((3.0 - 2.0 * part) * b[0] - rest * h * b[1])
    }

    /// End the step at a place that it passes between two parts of it.
    fn end_at(
        &mut self,
        rate: &[f64; 2],
        next: &Stepped<2>,
        h: f64,
        target_m: f64,
        within: [f64; 2],
    ) {
        let [mut from, mut to] = within;
        let rises = self.between(next, h, to) > target_m;
        for _ in 0..30 {
            let middle = 0.5 * (from + to);
            if (self.between(next, h, middle) > target_m) == rises {
                to = middle;
            } else {
                from = middle;
            }
        }
        let mut part_s = to * h;
        let mut y = self.tried(rate, part_s).y;
        for _ in 0..3 {
            let missing_m = target_m - y[0];
            if missing_m.abs() < 1e-10 * self.way_m || y[1] == 0.0 {
                break;
            }
            part_s = (part_s + missing_m / y[1]).clamp(0.0, h);
            y = self.tried(rate, part_s).y;
        }
        (self.t, self.y) = (self.t + part_s, [target_m, y[1]]);
    }
}
