//! Many problems marched to their events at once, one a lane, by explicit steps of order 8.
//!
//! Each lane has its own time, step and verdict; what one lane does never enters another's numbers.
//! A lane that becomes slow against its fastest rate, has no event in sight or leaves its range is
//! given up here and left to whoever can march it alone.

use super::aim::{EXPLICIT_SLACK, first_part, near, next_step};
use super::explicit853::{Explicit853, STABLE};
use super::flow::LaneFlow;
use super::sight::{Cubic, Sight, newton};
use super::wide::{
    MOST_LANES, Mask, Row, Wide, add_scaled, registers, registers_mut, splat, sum_scaled,
    vectorized,
};
use pulp::Simd;

/// Remaining time, in units of the fastest rate, up to which explicit steps in lanes are cheaper
/// than a unit asked alone; an event that does not come nearer is waited for, too: a hot winding
/// may heat the strip on for a while.
const SLOW: f64 = 1500.0;
/// Steps after which a lane is given up.
const MOST_STEPS: usize = 400;

/// Whether to go on with so much time left, in units of the fastest rate; infinite when the event
/// does not come nearer.
fn lasts(left: f64) -> bool {
    left < SLOW || left == f64::INFINITY
}

/// How a lane ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LaneEnd {
    /// At its event.
    Event,
    /// Past its event at the start.
    Already,
    /// Given up: slow, no event in sight, out of range.
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
    explicit: Explicit853,
    slope: Row,
    new: Row,
    new_slope: Row,
    sum: Row,
    trial: Row,
}

/// A step of every lane.
struct Tried {
    /// Its error against the tolerance.
    size: [f64; MOST_LANES],
    /// The inverse eighth root of that times 0.9.
    growth: [f64; MOST_LANES],
    /// Whether it ends in the range.
    inside: [bool; MOST_LANES],
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
        let room = || Row::zeros(len);
        Lanes {
            explicit: Explicit853::new(len),
            slope: room(),
            new: room(),
            new_slope: room(),
            sum: room(),
            trial: room(),
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
            let zero = splat(simd, 0.0);
            let mut reports = [LaneReport {
                end: LaneEnd::Alone,
                t: 0.0,
                steps: 0,
            }; MOST_LANES];
            let (near, first_part) = (near(tolerance), first_part(tolerance));
            let mut fastest = [0.0; MOST_LANES];
            flow.fastest_lanes().store(&mut fastest);
            flow.rates(zero, y, &mut self.slope);
            let (value, rate) = flow.distance(y, &self.slope);
            let mut sights = sights_of(value, rate);
            let (mut t, mut h) = ([0.0; MOST_LANES], [0.0; MOST_LANES]);
            let mut next = [Next::Rest; MOST_LANES];
            let inside = inside(flow, y);
            for lane in (0..S::F64_LANES).filter(|lane| asked[*lane]) {
                let ahead = newton(sights[lane]);
                if sights[lane].value >= 0.0 {
                    reports[lane].end = LaneEnd::Already;
                } else if lasts(ahead * fastest[lane]) && inside[lane] {
                    next[lane] = Next::Step;
                    h[lane] = (first_part * ahead).min(STABLE / fastest[lane]);
                }
            }
            while next.contains(&Next::Step) {
                let step = only(&h, &next, Next::Step);
                let tried = self.try_step(simd, flow, y, &step, tolerance);
                let (value, rate) = flow.distance(&self.new, &self.new_slope);
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
                            let grown = (h_now * tried.growth[lane].clamp(0.3, 6.0))
                                .min(STABLE / rate_fast);
                            h[lane] = next_step(grown, ahead);
                            let left = 1.5 * newton(arrived[lane]);
                            if !lasts(left * rate_fast) || cubic.largest() >= 0.0 {
                                next[lane] = Next::Rest;
                            }
                        }
                    }
                    moved[lane] = 1.0;
                    t[lane] += h_now;
                    sights[lane] = arrived[lane];
                }
                let moved = zero.below(Wide::load(simd, &moved));
                copy_where(simd, moved, &self.new, y);
                copy_where(simd, moved, &self.new_slope, &mut self.slope);
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
            let zero = splat(simd, 0.0);
            let (mut fastest, mut left) = ([0.0; MOST_LANES], *durations_s);
            flow.fastest_lanes().store(&mut fastest);
            flow.rates(zero, y, &mut self.slope);
            let (mut arrived, mut moves) = ([false; MOST_LANES], [false; MOST_LANES]);
            let mut h = [0.0; MOST_LANES];
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
                let mut step = [0.0; MOST_LANES];
                for lane in (0..S::F64_LANES).filter(|lane| moves[*lane]) {
                    step[lane] = h[lane].min(left[lane]);
                }
                let tried = self.try_step(simd, flow, y, &step, tolerance);
                let mut moved = [0.0; MOST_LANES];
                for lane in 0..S::F64_LANES {
                    if !moves[lane] {
                        continue;
                    }
                    if !(tried.size[lane] <= 1.0) {
                        h[lane] = step[lane] * rejected(tried.growth[lane]);
                    } else if tried.inside[lane] {
                        moved[lane] = 1.0;
                        left[lane] -= step[lane];
                        h[lane] = (step[lane] * tried.growth[lane].clamp(0.3, 6.0))
                            .min(STABLE / fastest[lane]);
                    } else {
                        moves[lane] = false;
                    }
                }
                let moved = zero.below(Wide::load(simd, &moved));
                copy_where(simd, moved, &self.new, y);
                copy_where(simd, moved, &self.new_slope, &mut self.slope);
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

    /// Try a step in every lane: the state reached stands in `new`, its slope in `new_slope`.
    #[inline(always)]
    fn try_step<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl LaneFlow<S>,
        y: &[f64],
        step: &[f64; MOST_LANES],
        tolerance: f64,
    ) -> Tried {
        let (zero, h) = (splat(simd, 0.0), Wide::load(simd, step));
        self.explicit.first_slope().copy_from_slice(&self.slope);
        self.explicit.step(simd, flow, zero, h, y, &mut self.new);
        let (mut five, mut three) = (zero, zero);
        let reference = flow.reference();
        self.explicit
            .errors(simd, reference, &self.new, &mut five, &mut three);
        flow.rates(zero, &self.new, &mut self.new_slope);
        let all = splat(simd, flow.unknowns() as f64);
        let both = three.times_plus(splat(simd, 0.01), five);
        let size = h * five / (both.max(splat(simd, 1e-300)) * all).sqrt()
            * splat(simd, 1.0 / (EXPLICIT_SLACK * tolerance));
        let growth = splat(simd, 0.9) / size.max(splat(simd, 1e-12)).fourth_root().sqrt();
        let mut tried = Tried {
            size: [0.0; MOST_LANES],
            growth: [0.0; MOST_LANES],
            inside: inside(flow, &self.new),
        };
        size.store(&mut tried.size);
        growth.store(&mut tried.growth);
        tried
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
            self.sum.copy_from_slice(&self.slope);
            self.trial.copy_from_slice(&self.slope);
            for (node, weight) in [(0.5, 2.0), (0.5, 2.0), (1.0, 1.0)] {
                sum_scaled(simd, y, &self.trial, h * splat(simd, node), &mut self.new);
                flow.rates(splat(simd, 0.0), &self.new, &mut self.trial);
                add_scaled(simd, &mut self.sum, &self.trial, splat(simd, weight));
            }
            add_scaled(simd, y, &self.sum, h * splat(simd, 1.0 / 6.0));
        })
    }
}

/// Which lanes lie in their range.
#[inline(always)]
fn inside<S: Simd>(flow: &impl LaneFlow<S>, y: &[f64]) -> [bool; MOST_LANES] {
    let (mut low, mut high) = ([0.0; MOST_LANES], [0.0; MOST_LANES]);
    let extremes = flow.extremes(y);
    extremes.0.store(&mut low);
    extremes.1.store(&mut high);
    let range = flow.range();
    std::array::from_fn(|lane| low[lane] >= range.0 && high[lane] <= range.1)
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

#[inline(always)]
fn copy_where<S: Simd>(simd: S, lanes: Mask<S>, from: &[f64], to: &mut [f64]) {
    for (to, from) in registers_mut::<S>(to).iter_mut().zip(registers::<S>(from)) {
        *to = lanes
            .choose(Wide::of(simd, *from), Wide::of(simd, *to))
            .raw();
    }
}
