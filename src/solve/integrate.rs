//! Adaptive integration up to a time or to the first zero of an event function.

use super::{DenseStep, Rodas5p, System, root};

/// Part of a step to which an event is found on the interpolant; the interpolant itself is right to
/// a few ten-thousandths.
const ROOT: f64 = 1e-6;

/// How finely to integrate.
#[derive(Debug, Clone, Copy)]
pub struct Controls {
    /// Local error of a step against [`System::scale`].
    pub tolerance: f64,
    /// Most steps before giving up.
    pub max_steps: usize,
}

impl Controls {
    /// Controls for a tolerance.
    pub fn new(tolerance: f64) -> Controls {
        Controls {
            tolerance,
            max_steps: 200_000,
        }
    }
}

/// An event: happens when the value reaches zero from below.
pub trait Event {
    /// Value at a time and state; negative before the event.
    fn value(&self, t: f64, y: &[f64]) -> f64;

    /// Most by which the value can change for one step of `along` (all of it positive) in any of
    /// its signs, where the slope at one state does not tell: a value with corners.
    fn steepness(&self, _t: f64, _y: &[f64], _along: &[f64]) -> Option<f64> {
        None
    }
}

/// Why an integration ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stop {
    /// The end time was reached.
    End,
    /// The event happened (at the reported time).
    Event,
    /// The observer asked to stop.
    Observer,
}

/// What an integration did.
#[derive(Debug, Clone, Copy)]
pub struct Report {
    /// Why it ended.
    pub stop: Stop,
    /// Time reached, s.
    pub t: f64,
    /// Largest value of the event function seen at the ends and samples of the steps.
    pub largest_event_value: f64,
    /// Accepted steps.
    pub steps: usize,
    /// Rejected steps.
    pub rejected: usize,
    /// Right-hand sides evaluated.
    pub rhs_count: usize,
}

/// Why an integration failed.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Failure {
    /// The step size fell below what the clock can resolve at this time (s).
    StepTooSmall {
        /// Time reached, s.
        t: f64,
    },
    /// Nobody waits for it any more.
    Halted,
    /// Too many steps.
    TooManySteps {
        /// Time reached, s.
        t: f64,
    },
}

/// Integrate from `(t, y)` to `t_end`; `y` is left at the state where the integration stopped.
///
/// `observe` sees every accepted step (cut at the event) and may stop the integration by
/// returning false. Event times are refined by repeating the last step with the length that ends
/// at the event, so that they carry the accuracy of the solution and not of an interpolant.
pub fn integrate(
    system: &impl System,
    t_start: f64,
    y: &mut [f64],
    t_end: f64,
    controls: &Controls,
    event: Option<&dyn Event>,
    observe: &mut dyn FnMut(&DenseStep) -> bool,
) -> Result<Report, Failure> {
    let n = y.len();
    let mut stepper = Rodas5p::new(system);
    let mut t = t_start;
    let mut new = vec![0.0; n];
    let mut error = vec![0.0; n];
    let mut scratch = vec![0.0; n];
    let mut dense = DenseStep::default();
    let mut value = event.map_or(f64::NEG_INFINITY, |e| e.value(t, y));
    let mut report = Report {
        stop: Stop::End,
        t,
        largest_event_value: value,
        steps: 0,
        rejected: 0,
        rhs_count: 0,
    };
    if value >= 0.0 {
        report.stop = Stop::Event;
        return Ok(report);
    }
    if t_end <= t_start {
        return Ok(report);
    }
    let mut h = first_step(system, t, y, &mut scratch, controls).min(t_end - t);
    let mut fresh = true;
    loop {
        if report.steps + report.rejected > controls.max_steps {
            return Err(Failure::TooManySteps { t });
        }
        if h <= 1e-14 * t.abs().max(1e-6) {
            return Err(Failure::StepTooSmall { t });
        }
        // A last sliver is merged into the step before it.
        let ends = h >= (t_end - t) * (1.0 - 1e-9);
        if ends {
            h = t_end - t;
        }
        if fresh {
            stepper.linearise(system, t, y);
            fresh = false;
        }
        let finite = stepper.step(system, t, y, h, &mut new, &mut error);
        let size = if finite {
            error_size(system, &new, &error, controls.tolerance)
        } else {
            f64::INFINITY
        };
        if !(size <= 1.0) {
            report.rejected += 1;
            h *= if finite && size.is_finite() {
                (0.9 * size.powf(-0.2)).clamp(0.1, 0.8)
            } else {
                0.1
            };
            continue;
        }
        report.steps += 1;
        stepper.dense(t, h, y, &new, &mut dense);
        if let Some(e) = event {
            let end_value = e.value(t + h, &new);
            let (largest, bracket) = scan(e, &dense, value, end_value, &mut scratch);
            report.largest_event_value = report.largest_event_value.max(largest);
            if let Some(bracket) = bracket {
                let h_event = refine(
                    system,
                    e,
                    &mut stepper,
                    &dense,
                    bracket,
                    &mut new,
                    &mut error,
                    &mut scratch,
                );
                let start = y.to_vec();
                stepper.dense(t, h_event, &start, &new, &mut dense);
                y.copy_from_slice(&new);
                observe(&dense);
                report.stop = Stop::Event;
                report.t = t + h_event;
                report.rhs_count = stepper.rhs_count;
                return Ok(report);
            }
            value = end_value;
        }
        t = if ends { t_end } else { t + h };
        y.copy_from_slice(&new);
        fresh = true;
        let go_on = observe(&dense);
        if ends || !go_on {
            report.stop = if ends { Stop::End } else { Stop::Observer };
            report.t = t;
            report.rhs_count = stepper.rhs_count;
            return Ok(report);
        }
        h *= (0.9 * size.max(1e-12).powf(-0.2)).clamp(0.2, 6.0);
    }
}

fn error_size(system: &impl System, y: &[f64], error: &[f64], tolerance: f64) -> f64 {
    let sum: f64 = error
        .iter()
        .enumerate()
        .map(|(i, e)| {
            let r = e / (tolerance * system.scale(y, i));
            r * r
        })
        .sum();
    (sum / y.len() as f64).sqrt()
}

fn first_step(system: &impl System, t: f64, y: &[f64], dy: &mut [f64], controls: &Controls) -> f64 {
    system.rhs(t, y, dy);
    let speed: f64 = dy
        .iter()
        .enumerate()
        .map(|(i, d)| (d / system.scale(y, i)).abs())
        .fold(0.0, f64::max);
    if speed > 0.0 {
        (controls.tolerance.powf(0.2) / speed).min(1e6)
    } else {
        1e-3
    }
}

/// Largest event value in a step, and the fraction of the step that brackets the first zero.
fn scan(
    event: &dyn Event,
    dense: &DenseStep,
    start: f64,
    end: f64,
    y: &mut [f64],
) -> (f64, Option<(f64, f64)>) {
    let mut at = |s: f64| {
        let t = dense.t + s * dense.h;
        dense.at(t, y);
        event.value(t, y)
    };
    let nodes = [0.0, 0.25, 0.5, 0.75, 1.0];
    let values = [start, at(0.25), at(0.5), at(0.75), end];
    let mut largest = start;
    for i in 1..nodes.len() {
        largest = largest.max(values[i]);
        if values[i] >= 0.0 {
            return (largest, Some((nodes[i - 1], nodes[i])));
        }
    }
    // A peak between samples may touch zero although every sample is negative.
    for i in 1..nodes.len() - 1 {
        let (a, b, c) = (values[i - 1], values[i], values[i + 1]);
        if b < a || b < c {
            continue;
        }
        let curvature = a - 2.0 * b + c;
        if curvature >= 0.0 {
            continue;
        }
        let s = nodes[i] + 0.25 * 0.5 * (a - c) / curvature;
        let peak = at(s);
        largest = largest.max(peak);
        if peak >= 0.0 {
            return (largest, Some((nodes[i - 1], s)));
        }
    }
    (largest, None)
}

/// Length of the step that ends at the event; leaves the state there in `new`.
#[allow(clippy::too_many_arguments)]
fn refine(
    system: &impl System,
    event: &dyn Event,
    stepper: &mut Rodas5p,
    dense: &DenseStep,
    bracket: (f64, f64),
    new: &mut [f64],
    error: &mut [f64],
    y: &mut [f64],
) -> f64 {
    let t = dense.t;
    let mut on_dense = |s: f64| {
        dense.at(t + s * dense.h, y);
        event.value(t + s * dense.h, y)
    };
    let on_line = root(&mut on_dense, bracket, ROOT);
    let mut h = (on_line * dense.h).max(1e-12 * dense.h);
    // Slope of the event along the solution, from the dense output about the root; from then on
    // from the lengths tried.
    let (left, right) = ((on_line - 1e-3).max(0.0), (on_line + 1e-3).min(1.0));
    let mut slope = (on_dense(right) - on_dense(left)) / ((right - left) * dense.h);
    let mut last: Option<(f64, f64)> = None;
    for _ in 0..8 {
        if !stepper.step(system, t, dense.start(), h, new, error) {
            break;
        }
        let value = event.value(t + h, new);
        if let Some((h_before, before)) = last
            && (h - h_before).abs() > 1e-9 * h
            && (value - before) / (h - h_before) > 0.0
        {
            slope = (value - before) / (h - h_before);
        }
        last = Some((h, value));
        let change = -value / slope;
        if !change.is_finite() || change.abs() <= 1e-12 * (t.abs() + h) {
            return h;
        }
        let next = (h + change).clamp(0.1 * h, dense.h * 1.5);
        if next == h {
            return h;
        }
        h = next;
    }
    // The state must belong to the final length.
    let _ = stepper.step(system, t, dense.start(), h, new, error);
    h
}
