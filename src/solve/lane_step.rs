//! One step of every lane: explicit in some, implicit in others.

use super::aim::EXPLICIT_SLACK;
use super::explicit853::Explicit853;
use super::flow::LaneFlow;
use super::lane_matrix::LaneMatrix;
use super::stages::Stages;
use super::tableau5p::GAMMA;
use super::wide::{MOST_LANES, Mask, Row, Wide, registers, registers_mut, splat, vectorized};
use pulp::Simd;

/// Work space, and where the lanes stand.
#[derive(Debug, Clone)]
pub(super) struct LaneStep {
    explicit: Explicit853,
    implicit: Option<Implicit>,
    /// Slopes where the lanes stand.
    pub slope: Row,
    /// States that a step reached.
    pub new: Row,
    /// Slopes there.
    pub new_slope: Row,
}

/// Work space of implicit steps.
#[derive(Debug, Clone)]
struct Implicit {
    matrix: LaneMatrix,
    stages: Stages,
    new: Row,
    error: Row,
    /// Whether the matrix holds the slopes where the lanes stand.
    is_fresh: bool,
}

/// The steps that the lanes are to take, s; 0 in lanes that take none.
#[derive(Clone, Copy)]
pub(super) struct Steps {
    pub explicit: [f64; MOST_LANES],
    pub implicit: [f64; MOST_LANES],
}

impl Steps {
    pub const NONE: Steps = Steps {
        explicit: [0.0; MOST_LANES],
        implicit: [0.0; MOST_LANES],
    };

    /// Set the step of a lane.
    pub fn set(&mut self, lane: usize, h: f64, is_slow: bool) {
        let steps = match is_slow {
            true => &mut self.implicit,
            false => &mut self.explicit,
        };
        steps[lane] = h;
    }
}

/// How steps went.
pub(super) struct Tried {
    /// Error against the tolerance.
    pub size: [f64; MOST_LANES],
    /// What the step may be multiplied by, by the order of its error, times 0.9.
    pub growth: [f64; MOST_LANES],
    /// Whether it ends in the range.
    pub inside: [bool; MOST_LANES],
    /// Largest slope where an implicit step ends; infinite after an explicit one.
    pub speed: [f64; MOST_LANES],
}

impl LaneStep {
    /// Work space for states of `len` numbers, lanes included.
    pub fn new(len: usize) -> LaneStep {
        LaneStep {
            explicit: Explicit853::new(len),
            implicit: None,
            slope: Row::zeros(len),
            new: Row::zeros(len),
            new_slope: Row::zeros(len),
        }
    }

    /// Stand at `y`.
    #[inline(always)]
    pub fn start<S: Simd>(&mut self, simd: S, flow: &mut impl LaneFlow<S>, y: &[f64]) {
        flow.rates(splat(simd, 0.0), y, &mut self.slope);
        if let Some(implicit) = &mut self.implicit {
            implicit.is_fresh = false;
        }
    }

    /// Try a step in every lane: the state reached stands in `new`, its slope in `new_slope`.
    pub fn try_steps<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl LaneFlow<S>,
        y: &[f64],
        steps: &Steps,
        tolerance: f64,
    ) -> Tried {
        vectorized!(simd, {
            let zero = splat(simd, 0.0);
            let (mut size, mut growth) = (zero, zero);
            let mut slow = zero.below(zero);
            let some = |h: &[f64; MOST_LANES]| h.iter().any(|h| *h > 0.0);
            if some(&steps.explicit) {
                let h = Wide::load(simd, &steps.explicit);
                (size, growth) = self.explicit_step(simd, flow, y, h, tolerance);
            }
            if some(&steps.implicit) {
                let h = Wide::load(simd, &steps.implicit);
                slow = zero.below(h);
                let (own_size, own_growth) = self.implicit_step(simd, flow, y, h, slow, tolerance);
                size = slow.choose(own_size, size);
                growth = slow.choose(own_growth, growth);
            }
            flow.rates(zero, &self.new, &mut self.new_slope);
            let mut tried = Tried {
                size: [0.0; MOST_LANES],
                growth: [0.0; MOST_LANES],
                inside: inside(flow, &self.new),
                speed: [f64::INFINITY; MOST_LANES],
            };
            if some(&steps.implicit) {
                let mut speed = zero;
                for slope in registers::<S>(&self.new_slope) {
                    speed = speed.max(Wide::of(simd, *slope).abs());
                }
                let never = splat(simd, f64::INFINITY);
                slow.choose(speed, never).store(&mut tried.speed);
            }
            size.store(&mut tried.size);
            growth.store(&mut tried.growth);
            tried
        })
    }

    #[inline(always)]
    fn explicit_step<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl LaneFlow<S>,
        y: &[f64],
        h: Wide<S>,
        tolerance: f64,
    ) -> (Wide<S>, Wide<S>) {
        let zero = splat(simd, 0.0);
        self.explicit.first_slope().copy_from_slice(&self.slope);
        self.explicit.step(simd, flow, zero, h, y, &mut self.new);
        let (mut five, mut three) = (zero, zero);
        let reference = flow.reference();
        self.explicit
            .errors(simd, reference, &self.new, &mut five, &mut three);
        let all = splat(simd, flow.unknowns() as f64);
        let both = three.times_plus(splat(simd, 0.01), five);
        let size = h * five / (both.max(splat(simd, 1e-300)) * all).sqrt()
            * splat(simd, 1.0 / (EXPLICIT_SLACK * tolerance));
        let eighth = size.max(splat(simd, 1e-12)).fourth_root().sqrt();
        (size, splat(simd, 0.9) / eighth)
    }

    /// Of the slow lanes alone: the others keep what `new` holds.
    #[inline(always)]
    fn implicit_step<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl LaneFlow<S>,
        y: &[f64],
        h: Wide<S>,
        slow: Mask<S>,
        tolerance: f64,
    ) -> (Wide<S>, Wide<S>) {
        let own = self
            .implicit
            .get_or_insert_with(|| Implicit::new(flow.first_columns(), y.len()));
        let (zero, one) = (splat(simd, 0.0), splat(simd, 1.0));
        if !own.is_fresh {
            own.matrix.linearise(flow, y, &self.slope);
            own.is_fresh = true;
        }
        let h = slow.choose(h, one / flow.fastest_lanes());
        own.matrix.factor(simd, one / (h * splat(simd, GAMMA)));
        let (new, error) = (&mut own.new, &mut own.error);
        let (matrix, slope) = (&own.matrix, &self.slope);
        own.stages
            .step(simd, flow, matrix, (zero, h), y, slope, None, new, error);
        let (reference, mut sum) = (flow.reference(), zero);
        for (y, e) in registers::<S>(new).iter().zip(registers::<S>(error)) {
            let part = Wide::of(simd, *e) / (one + (Wide::of(simd, *y) - reference).abs());
            sum = part.times_plus(part, sum);
        }
        copy_where(simd, slow, new, &mut self.new);
        let each = splat(simd, 1.0 / flow.unknowns() as f64);
        let size = (sum * each).sqrt() * splat(simd, 1.0 / tolerance);
        // The fifth root, nearly: 1/4 - 1/16 + 1/64.
        let fourth = size.max(splat(simd, 1e-12)).fourth_root();
        let sixteenth = fourth.fourth_root();
        let fifth = fourth * sixteenth.fourth_root();
        (size, splat(simd, 0.9) * sixteenth / fifth)
    }

    /// Let some lanes of `y` stand where the step led.
    #[inline(always)]
    pub fn accept<S: Simd>(&mut self, simd: S, moved: &[f64; MOST_LANES], y: &mut [f64]) {
        let moved = splat(simd, 0.0).below(Wide::load(simd, moved));
        copy_where(simd, moved, &self.new, y);
        copy_where(simd, moved, &self.new_slope, &mut self.slope);
        if let Some(implicit) = &mut self.implicit {
            implicit.is_fresh = false;
        }
    }
}

impl Implicit {
    fn new(first_columns: Vec<usize>, len: usize) -> Implicit {
        let width = len / first_columns.len();
        Implicit {
            matrix: LaneMatrix::new(first_columns, width),
            stages: Stages::new(len),
            new: Row::zeros(len),
            error: Row::zeros(len),
            is_fresh: false,
        }
    }
}

/// Which lanes lie in their range.
#[inline(always)]
pub(super) fn inside<S: Simd>(flow: &impl LaneFlow<S>, y: &[f64]) -> [bool; MOST_LANES] {
    let (mut low, mut high) = ([0.0; MOST_LANES], [0.0; MOST_LANES]);
    let extremes = flow.extremes(y);
    extremes.0.store(&mut low);
    extremes.1.store(&mut high);
    let range = flow.range();
    std::array::from_fn(|lane| low[lane] >= range.0 && high[lane] <= range.1)
}

#[inline(always)]
fn copy_where<S: Simd>(simd: S, lanes: Mask<S>, from: &[f64], to: &mut [f64]) {
    for (to, from) in registers_mut::<S>(to).iter_mut().zip(registers::<S>(from)) {
        *to = lanes
            .choose(Wide::of(simd, *from), Wide::of(simd, *to))
            .raw();
    }
}
