//! One strip marched to an event: explicit steps of order 8 while that is cheap, implicit ones of
//! order 5 where the solution has become slow against its fastest rate.
//!
//! The event is aimed at: the distance and its rate at both ends of every step make a cubic whose
//! root is where the next step should end. What is left after landing is closed by a short step of
//! order 4 and a last correction, so that the event carries the accuracy of the steps and never
//! that of an interpolant.

use super::aim::{EXPLICIT_SLACK, first_part, near, next_step};
use super::explicit853::{Explicit853, STABLE};
use super::flow::{Distance, StiffFlow};
use super::implicit5p::Implicit5p;
use super::integrate::{Failure, Stop};
use super::sight::{Cubic, Sight, newton};
use super::wide::{Row, Wide, add_scaled, registers, sum_scaled, vectorized};
use pulp::Simd;

/// What a march did.
#[derive(Debug, Clone, Copy)]
pub struct Marched {
    /// Why it ended.
    pub stop: Stop,
    /// Time reached, s.
    pub t: f64,
    /// Largest distance value seen.
    pub largest: f64,
    /// Accepted steps.
    pub steps: usize,
    /// Rejected steps.
    pub rejected: usize,
    /// Right-hand sides evaluated.
    pub rate_count: usize,
    /// Jacobians evaluated.
    pub jacobian_count: usize,
}

/// A step just accepted, as an observer sees it.
pub struct Accepted<'s> {
    /// State at its end.
    pub y: &'s [f64],
    /// Steps so far.
    pub steps: usize,
    /// Whether no event is in sight.
    pub far: bool,
}

/// Work space of marches of one size of state; reused between them.
#[derive(Debug, Clone)]
pub struct March {
    explicit: Explicit853,
    implicit: Option<Implicit5p>,
    unknowns: usize,
    slope: Row,
    new: Row,
    new_slope: Row,
    error: Row,
}

impl March {
    /// Work space for `unknowns` numbers padded to `len`.
    pub fn new(unknowns: usize, len: usize) -> March {
        March {
            explicit: Explicit853::new(len),
            implicit: None,
            unknowns,
            slope: Row::zeros(len),
            new: Row::zeros(len),
            new_slope: Row::zeros(len),
            error: Row::zeros(len),
        }
    }

    /// Whether it is for states of so many numbers.
    pub fn is_for(&self, len: usize) -> bool {
        self.new.len() == len
    }

    /// March `y` from `t_start` to `t_end` or to the event. `observe` sees every accepted step and
    /// stops the march by returning false.
    #[allow(clippy::too_many_arguments)]
    pub fn run<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl StiffFlow<S>,
        mut event: Option<&mut impl Distance>,
        t_start: f64,
        y: &mut [f64],
        t_end: f64,
        tolerance: f64,
        observe: &mut impl FnMut(Accepted<'_>) -> bool,
    ) -> Result<Marched, Failure> {
        vectorized!(simd, {
            let fastest = flow.fastest_per_s().max(1e-12);
            let near = near(tolerance);
            let mut t = t_start;
            let mut done = Marched {
                stop: Stop::End,
                t,
                largest: f64::NEG_INFINITY,
                steps: 0,
                rejected: 0,
                rate_count: 1,
                jacobian_count: 0,
            };
            flow.rates(Wide::splat(simd, t), y, &mut self.slope);
            let mut sight = Sight {
                value: f64::NEG_INFINITY,
                rate: 0.0,
            };
            if let Some(e) = event.as_deref_mut() {
                let (value, rate) = e.value_and_rate(t, y, &self.slope);
                sight = Sight { value, rate };
                done.largest = value;
                if value >= 0.0 {
                    done.stop = Stop::Event;
                    return Ok(done);
                }
            }
            if t_end <= t_start {
                return Ok(done);
            }
            self.explicit.rate_count = 0;
            if let Some(implicit) = &mut self.implicit {
                (implicit.stages.rate_count, implicit.jacobian_count) = (0, 0);
            }
            // Time to the event as far as it can be seen; infinite when it recedes.
            let mut ahead = newton(sight);
            let mut h = first_step(simd, flow, y, &self.slope, tolerance);
            if ahead.is_finite() {
                h = h.max(first_part(tolerance) * ahead);
            }
            h = h.min(t_end - t);
            let mut fresh = true;
            loop {
                if done.steps + done.rejected > 200_000 {
                    return Err(Failure::TooManySteps { t });
                }
                if !(h > 1e-14 * t.abs().max(1e-6)) {
                    return Err(Failure::StepTooSmall { t });
                }
                let left = (1.5 * newton(sight)).min(t_end - t);
                // The first step always explicit: it passes the thin layers of a sudden change.
                let slow = left * fastest > flow.implicit_from() && done.steps > 0;
                if !slow {
                    h = h.min(STABLE / fastest);
                }
                // A last sliver is merged into the step before it.
                let ends = h >= (t_end - t) * (1.0 - 1e-9);
                if ends {
                    h = t_end - t;
                }
                let (size, order) = if slow {
                    let implicit = self
                        .implicit
                        .get_or_insert_with(|| Implicit5p::new(self.unknowns, self.new.len()));
                    if fresh {
                        implicit.linearise(flow, t, y);
                        fresh = false;
                    }
                    let finite = implicit.step(
                        simd,
                        flow,
                        t,
                        h,
                        y,
                        &self.slope,
                        &mut self.new,
                        &mut self.error,
                    );
                    let size = if finite {
                        rms(simd, flow, &self.new, &self.error, tolerance)
                    } else {
                        f64::INFINITY
                    };
                    (size, 5.0)
                } else {
                    self.explicit.first_slope().copy_from_slice(&self.slope);
                    self.explicit.step(
                        simd,
                        flow,
                        Wide::splat(simd, t),
                        Wide::splat(simd, h),
                        y,
                        &mut self.new,
                    );
                    let (mut five, mut three) = (Wide::splat(simd, 0.0), Wide::splat(simd, 0.0));
                    let reference = flow.reference();
                    self.explicit
                        .errors(simd, reference, &self.new, &mut five, &mut three);
                    let (five, three) = (five.sum(), three.sum());
                    let all = flow.unknowns() as f64;
                    let size = if five == 0.0 {
                        0.0
                    } else {
                        h * five
                            / ((five + 0.01 * three) * all).sqrt()
                            / (EXPLICIT_SLACK * tolerance)
                    };
                    (size, 8.0)
                };
                if !(size <= 1.0) {
                    done.rejected += 1;
                    h *= if size.is_finite() {
                        (0.9 * size.powf(-1.0 / order)).clamp(0.1, 0.85)
                    } else {
                        0.1
                    };
                    continue;
                }
                flow.rates(Wide::splat(simd, t + h), &self.new, &mut self.new_slope);
                done.rate_count += 1;
                let mut next = sight;
                let mut far = true;
                if let Some(e) = event.as_deref_mut() {
                    let (value, rate) = e.value_and_rate(t + h, &self.new, &self.new_slope);
                    next = Sight { value, rate };
                    let cubic = Cubic::through(sight, next, h);
                    if let Some(part) = cubic.crossing() {
                        let over = h * (1.0 - part);
                        if over > near * h || over * fastest > 1.0 {
                            // Too far beyond: the step again, to where the cubic crosses.
                            if part * h > 1e-13 * t.abs().max(1e-9) {
                                done.rejected += 1;
                                h *= part;
                                continue;
                            }
                        }
                        self.land(simd, flow, e, t + h, -over, next, y, &mut done);
                        self.count(&mut done);
                        return Ok(done);
                    }
                    ahead = cubic.ahead(next);
                    far = !ahead.is_finite();
                    if ahead <= near * h && ahead * fastest < 1.0 && t + h + ahead <= t_end {
                        self.land(simd, flow, e, t + h, ahead, next, y, &mut done);
                        self.count(&mut done);
                        return Ok(done);
                    }
                    done.largest = done.largest.max(cubic.largest());
                } else {
                    ahead = f64::INFINITY;
                }
                done.steps += 1;
                t = if ends { t_end } else { t + h };
                sight = next;
                y.copy_from_slice(&self.new);
                std::mem::swap(&mut self.slope, &mut self.new_slope);
                fresh = true;
                let go_on = observe(Accepted {
                    y,
                    steps: done.steps,
                    far,
                });
                if ends || !go_on {
                    done.stop = if ends { Stop::End } else { Stop::Observer };
                    done.t = t;
                    self.count(&mut done);
                    return Ok(done);
                }
                let grown = h * (0.9 * size.max(1e-12).powf(-1.0 / order)).clamp(0.3, 6.0);
                h = next_step(grown, ahead);
            }
        })
    }

    fn count(&self, done: &mut Marched) {
        done.rate_count += self.explicit.rate_count;
        if let Some(implicit) = &self.implicit {
            done.rate_count += implicit.stages.rate_count;
            done.jacobian_count = implicit.jacobian_count;
        }
    }

    /// Close what is left to the event (`rest` in time, either way) by a short step of order 4 and
    /// a last correction.
    #[allow(clippy::too_many_arguments)]
    fn land<S: Simd>(
        &mut self,
        simd: S,
        flow: &mut impl StiffFlow<S>,
        event: &mut impl Distance,
        t: f64,
        rest: f64,
        sight: Sight,
        y: &mut [f64],
        done: &mut Marched,
    ) {
        vectorized!(simd, {
            let h = Wide::splat(simd, rest);
            // Stages in turn; `error` gathers their weighted sum.
            self.error.copy_from_slice(&self.new_slope);
            self.slope.copy_from_slice(&self.new_slope);
            for (node, weight) in [(0.5, 2.0), (0.5, 2.0), (1.0, 1.0)] {
                sum_scaled(simd, &self.new, &self.slope, h * Wide::splat(simd, node), y);
                flow.rates(Wide::splat(simd, t + node * rest), y, &mut self.slope);
                add_scaled(
                    simd,
                    &mut self.error,
                    &self.slope,
                    Wide::splat(simd, weight),
                );
            }
            done.rate_count += 3;
            let sixth = h * Wide::splat(simd, 1.0 / 6.0);
            sum_scaled(simd, &self.new, &self.error, sixth, y);
            let (value, rate) = event.value_and_rate(t + rest, y, &self.slope);
            let rate = if rate != 0.0 { rate } else { sight.rate };
            let last = -value / rate;
            let last = if last.is_finite() && last.abs() <= rest.abs().max(1e-9 * t.abs()) {
                last
            } else {
                0.0
            };
            add_scaled(simd, y, &self.slope, Wide::splat(simd, last));
            done.steps += 1;
            done.stop = Stop::Event;
            done.largest = done.largest.max(0.0);
            done.t = t + rest + last;
        })
    }
}

/// Root mean square of an error against `tolerance * (1 + |y - reference|)`.
#[inline(always)]
fn rms<S: Simd>(
    simd: S,
    flow: &impl StiffFlow<S>,
    y: &[f64],
    error: &[f64],
    tolerance: f64,
) -> f64 {
    let (reference, one) = (flow.reference(), Wide::splat(simd, 1.0));
    let mut sum = Wide::splat(simd, 0.0);
    for (y, e) in registers::<S>(y).iter().zip(registers::<S>(error)) {
        let part = Wide::of(simd, *e) / (one + (Wide::of(simd, *y) - reference).abs());
        sum = part.times_plus(part, sum);
    }
    (sum.sum() / flow.unknowns() as f64).sqrt() / tolerance
}

#[inline(always)]
fn first_step<S: Simd>(
    simd: S,
    flow: &impl StiffFlow<S>,
    y: &[f64],
    slope: &[f64],
    tolerance: f64,
) -> f64 {
    let (reference, one) = (flow.reference(), Wide::splat(simd, 1.0));
    let mut speed = Wide::splat(simd, 0.0);
    for (y, k) in registers::<S>(y).iter().zip(registers::<S>(slope)) {
        let size = one + (Wide::of(simd, *y) - reference).abs();
        speed = speed.max((Wide::of(simd, *k) / size).abs());
    }
    let speed = speed.range().1;
    if speed > 0.0 {
        (tolerance.powf(0.2) / speed).min(1e6)
    } else {
        1e-3
    }
}
