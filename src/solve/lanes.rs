//! Many problems marched to their events at once, one a lane: explicit steps of order 8, implicit
//! ones of order 5 in lanes that have become slow against their fastest rate.
//!
//! Each lane has its own time, step and verdict; what one lane does never enters another's numbers.
//! A lane that comes to rest before its event or leaves its range is given up here and left to
//! whoever can march it alone.

use super::aim::{first_part, near, next_step};
use super::explicit853::STABLE;
use super::flow::LaneFlow;
use super::lane_step::{LaneStep, Steps, inside};
use super::sight::{Cubic, Sight, newton};
use super::wide::{MOST_LANES, Row, Wide, add_scaled, splat, sum_scaled, vectorized};
use pulp::Simd;

/// Remaining time, in units of the fastest rate, beyond which a lane takes implicit steps; an event
/// that does not come nearer is as far: a hot winding may heat the strip on for a while.
const SLOW: f64 = 60.0;
/// Steps after which a lane is given up.
const MOST_STEPS: usize = 400;
/// A lane is at rest when a step changes no unknown by more than this, K.
const AT_REST: f64 = 1e-6;

/// How a lane ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LaneEnd {
    /// At its event.
    Event,
    /// Past its event at the start.
    Already,
    /// Given up: at rest, out of range, too many steps.
    Alone,
}

/// What a lane did.
#[derive(Debug, Clone, Copy)]
pub struct LaneReport {
    /// How it ended.
    pub end: LaneEnd,
    /// Time of the event, s.
    pub t: f64,
    /// Steps, accepted and rejected.
    pub steps: usize,
}

/// Work space.
#[derive(Debug, Clone)]
pub struct Lanes {
    step: LaneStep,
    sum: Row,
    trial: Row,
}

/// What a lane does next.
#[derive(Clone, Copy, PartialEq)]
enum Next {
    /// Takes a step.
    Step,
    /// Closes what is left to its event.
    Land,
    /// Nothing any more.
    Rest,
}

impl Lanes {
    /// Work space for states of `len` numbers, lanes included.
    pub fn new(len: usize) -> Lanes {
        Lanes {
            step: LaneStep::new(len),
            sum: Row::zeros(len),
            trial: Row::zeros(len),
        }
    }

    /// March some lanes of `y` from time 0 to their events; the others stay as they are.
    pub fn run<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl LaneFlow<S>,
        y: &mut [f64],
        asked: &[bool; MOST_LANES],
        tolerance: f64,
    ) -> [LaneReport; MOST_LANES] {
        vectorized!(simd, {
            let mut reports = [LaneReport {
                end: LaneEnd::Alone,
                t: 0.0,
                steps: 0,
            }; MOST_LANES];
            let (near, first_part) = (near(tolerance), first_part(tolerance));
            let mut fastest = [0.0; MOST_LANES];
            flow.fastest_lanes().store(&mut fastest);
            self.step.start(simd, flow, y);
            let (value, rate) = flow.distance(y, &self.step.slope);
            let mut sights = sights_of(value, rate);
            let (mut t, mut h) = ([0.0; MOST_LANES], [0.0; MOST_LANES]);
            let mut next = [Next::Rest; MOST_LANES];
            // The first step always explicit: it passes the thin layers of a sudden change.
            let mut slow = [false; MOST_LANES];
            let inside = inside(flow, y);
            for lane in (0..S::F64_LANES).filter(|lane| asked[*lane]) {
                let ahead = newton(sights[lane]);
                if sights[lane].value >= 0.0 {
                    reports[lane].end = LaneEnd::Already;
                } else if inside[lane] {
                    next[lane] = Next::Step;
                    h[lane] = (first_part * ahead).min(STABLE / fastest[lane]);
                }
            }
            while next.contains(&Next::Step) {
                let mut steps = Steps::NONE;
                for lane in (0..S::F64_LANES).filter(|lane| next[*lane] == Next::Step) {
                    steps.set(lane, h[lane], slow[lane]);
                }
                let tried = self.step.try_steps(simd, flow, y, &steps, tolerance);
                let (value, rate) = flow.distance(&self.step.new, &self.step.new_slope);
                let arrived = sights_of(value, rate);
                let mut moved = [0.0; MOST_LANES];
                let mut rest = [0.0; MOST_LANES];
                for lane in 0..S::F64_LANES {
                    if next[lane] != Next::Step {
                        continue;
                    }
                    let report = &mut reports[lane];
                    report.steps += 1;
                    if report.steps > MOST_STEPS {
                        next[lane] = Next::Rest;
                        continue;
                    }
                    if !(tried.size[lane] <= 1.0) {
                        h[lane] *= rejected(tried.growth[lane]);
                        continue;
                    }
                    if !tried.inside[lane] {
                        next[lane] = Next::Rest;
                        continue;
                    }
                    let (h_now, rate_fast) = (h[lane], fastest[lane]);
                    let cubic = Cubic::through(sights[lane], arrived[lane], h_now);
                    if let Some(part) = cubic.crossing() {
                        let over = h_now * (1.0 - part);
                        if over > near * h_now || over * rate_fast > 1.0 {
                            h[lane] = h_now * part.max(1e-6);
                            continue;
                        }
                        rest[lane] = -over;
                        next[lane] = Next::Land;
                    } else {
                        let ahead = cubic.ahead(arrived[lane]);
                        if ahead <= near * h_now && ahead * rate_fast < 1.0 {
                            rest[lane] = ahead;
                            next[lane] = Next::Land;
                        } else {
                            let is_at_rest = tried.speed[lane] * h_now < AT_REST;
                            if is_at_rest || cubic.largest() >= 0.0 {
                                next[lane] = Next::Rest;
                            }
                            slow[lane] = 1.5 * newton(arrived[lane]) * rate_fast > SLOW;
                            let longest = longest(slow[lane], rate_fast);
                            let grown = h_now * tried.growth[lane].clamp(0.3, 6.0);
                            h[lane] = next_step(grown.min(longest), ahead);
                        }
                    }
                    moved[lane] = 1.0;
                    t[lane] += h_now;
                    sights[lane] = arrived[lane];
                }
                self.step.accept(simd, &moved, y);
                if next.contains(&Next::Land) {
                    self.land(simd, flow, y, &rest, &next);
                    let (value, rate) = flow.distance(y, &self.trial);
                    let closing = sights_of(value, rate);
                    let mut last = [0.0; MOST_LANES];
                    for lane in 0..S::F64_LANES {
                        if next[lane] != Next::Land {
                            continue;
                        }
                        let change = -closing[lane].value / closing[lane].rate;
                        if change.abs() <= rest[lane].abs().max(1e-9 * t[lane]) {
                            last[lane] = change;
                        }
                        t[lane] += rest[lane] + last[lane];
                        reports[lane].end = LaneEnd::Event;
                        reports[lane].t = t[lane];
                        next[lane] = Next::Rest;
                    }
                    let last = Wide::load(simd, &last);
                    add_scaled(simd, y, &self.trial, last);
                }
            }
            reports
        })
    }

    /// March some lanes of `y` for a time of their own each, whatever their events do; the others
    /// stay as they are. True where the lane arrived; a lane that leaves its range or needs too
    /// many steps does not.
    pub fn advance<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl LaneFlow<S>,
        y: &mut [f64],
        durations_s: &[f64; MOST_LANES],
        asked: &[bool; MOST_LANES],
        tolerance: f64,
    ) -> [bool; MOST_LANES] {
        vectorized!(simd, {
            let (mut fastest, mut left) = ([0.0; MOST_LANES], *durations_s);
            flow.fastest_lanes().store(&mut fastest);
            self.step.start(simd, flow, y);
            let (mut arrived, mut moves) = ([false; MOST_LANES], [false; MOST_LANES]);
            let (mut h, mut slow) = ([0.0; MOST_LANES], [false; MOST_LANES]);
            for lane in (0..S::F64_LANES).filter(|lane| asked[*lane]) {
                if left[lane] > 0.0 {
                    moves[lane] = true;
                    h[lane] = (first_part(tolerance) * left[lane]).min(STABLE / fastest[lane]);
                } else {
                    arrived[lane] = left[lane] == 0.0;
                }
            }
            let mut steps = 0;
            while moves.contains(&true) {
                steps += 1;
                let mut tries = Steps::NONE;
                for lane in (0..S::F64_LANES).filter(|lane| moves[*lane]) {
                    h[lane] = h[lane].min(left[lane]);
                    tries.set(lane, h[lane], slow[lane]);
                }
                let tried = self.step.try_steps(simd, flow, y, &tries, tolerance);
                let mut moved = [0.0; MOST_LANES];
                for lane in 0..S::F64_LANES {
                    if !moves[lane] {
                        continue;
                    }
                    if !(tried.size[lane] <= 1.0) {
                        h[lane] *= rejected(tried.growth[lane]);
                    } else if tried.inside[lane] {
                        moved[lane] = 1.0;
                        left[lane] -= h[lane];
                        slow[lane] = left[lane] * fastest[lane] > SLOW;
                        h[lane] = (h[lane] * tried.growth[lane].clamp(0.3, 6.0))
                            .min(longest(slow[lane], fastest[lane]));
                    } else {
                        moves[lane] = false;
                    }
                }
                self.step.accept(simd, &moved, y);
                for lane in 0..S::F64_LANES {
                    if !moves[lane] {
                        continue;
                    }
                    arrived[lane] = left[lane] <= 0.0;
                    moves[lane] = !arrived[lane] && steps < MOST_STEPS;
                }
            }
            arrived
        })
    }

    /// A short step of order 4 of the landing lanes; leaves the last slope in `trial`.
    fn land<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl LaneFlow<S>,
        y: &mut [f64],
        rest: &[f64; MOST_LANES],
        next: &[Next; MOST_LANES],
    ) {
        vectorized!(simd, {
            let h = Wide::load(simd, &only(rest, next, Next::Land));
            self.sum.copy_from_slice(&self.step.slope);
            self.trial.copy_from_slice(&self.step.slope);
            for (node, weight) in [(0.5, 2.0), (0.5, 2.0), (1.0, 1.0)] {
                let at = &mut self.step.new;
                sum_scaled(simd, y, &self.trial, h * splat(simd, node), at);
                flow.rates(splat(simd, 0.0), at, &mut self.trial);
                add_scaled(simd, &mut self.sum, &self.trial, splat(simd, weight));
            }
            add_scaled(simd, y, &self.sum, h * splat(simd, 1.0 / 6.0));
        })
    }
}

/// Longest step of a lane, s.
fn longest(is_slow: bool, fastest_per_s: f64) -> f64 {
    if is_slow {
        f64::INFINITY
    } else {
        STABLE / fastest_per_s
    }
}

/// What a rejected step is multiplied by.
fn rejected(growth: f64) -> f64 {
    if growth.is_finite() {
        growth.clamp(0.1, 0.85)
    } else {
        0.1
    }
}

/// The numbers of lanes that do one thing, 0 in the others.
fn only(x: &[f64; MOST_LANES], next: &[Next; MOST_LANES], which: Next) -> [f64; MOST_LANES] {
    let mut out = [0.0; MOST_LANES];
    for lane in 0..MOST_LANES {
        if next[lane] == which {
            out[lane] = x[lane];
        }
    }
    out
}

#[inline(always)]
fn sights_of<S: Simd>(value: Wide<S>, rate: Wide<S>) -> [Sight; MOST_LANES] {
    let (mut values, mut rates) = ([0.0; MOST_LANES], [0.0; MOST_LANES]);
    value.store(&mut values);
    rate.store(&mut rates);
    let mut out = [Sight {
        value: 0.0,
        rate: 0.0,
    }; MOST_LANES];
    for lane in 0..MOST_LANES {
        out[lane] = Sight {
            value: values[lane],
            rate: rates[lane],
        };
    }
    out
}
