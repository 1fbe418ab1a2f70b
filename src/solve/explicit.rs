//! Independent cross-check of the implicit stepper: the explicit 8(5,3) pair of Dormand and Prince
//! from the `ode_solvers` crate. It shares nothing with the stepper but the right-hand side.

use super::{Event, System};
use ode_solvers::dop_shared::OutputType;
use ode_solvers::{DVector, Dop853};

struct Watched<'a, S: System> {
    system: &'a S,
    event: Option<&'a dyn Event>,
}

impl<S: System> ode_solvers::System<f64, DVector<f64>> for Watched<'_, S> {
    fn system(&self, t: f64, y: &DVector<f64>, dy: &mut DVector<f64>) {
        self.system.rhs(t, y.as_slice(), dy.as_mut_slice());
    }

    fn solout(&mut self, t: f64, y: &DVector<f64>, _dy: &DVector<f64>) -> bool {
        self.event.is_some_and(|e| e.value(t, y.as_slice()) >= 0.0)
    }
}

/// Why the explicit run gave no event time.
#[derive(Debug, Clone, PartialEq)]
pub enum ExplicitFailure {
    /// The crate's stepper gave up; its message.
    Stepper(String),
    /// The end time was reached first.
    NoEvent,
}

/// Time of the first zero of the event, by explicit steps with relative tolerance `tolerance`.
/// The stop hook only tells the step that holds the event; the zero is then found by a secant
/// iteration in which every trial is an integration of its own from the start of that step.
pub fn explicit_event_time(
    system: &impl System,
    event: &dyn Event,
    t_start: f64,
    y_start: &[f64],
    t_end: f64,
    tolerance: f64,
) -> Result<f64, ExplicitFailure> {
    let advance = |t: f64, y: &DVector<f64>, end: f64, event: Option<&dyn Event>| {
        let watched = Watched { system, event };
        let mut stepper = Dop853::from_param(
            watched,
            t,
            end,
            end - t,
            y.clone(),
            tolerance,
            tolerance,
            0.9,
            0.0,
            0.333,
            6.0,
            end - t,
            0.0,
            10_000_000,
            u32::MAX,
            OutputType::Sparse,
        );
        stepper
            .integrate()
            .map_err(|e| ExplicitFailure::Stepper(e.to_string()))?;
        let (times, states) = stepper.results().get();
        Ok::<_, ExplicitFailure>((times.clone(), states.clone()))
    };
    let start = DVector::from_column_slice(y_start);
    let (times, states) = advance(t_start, &start, t_end, Some(event))?;
    let n = times.len();
    if n < 2 || event.value(times[n - 1], states[n - 1].as_slice()) < 0.0 {
        return Err(ExplicitFailure::NoEvent);
    }
    let (from, state) = (times[n - 2], &states[n - 2]);
    let (mut a, mut b) = (from, times[n - 1]);
    let (mut value_a, mut value_b) = (
        event.value(a, state.as_slice()),
        event.value(b, states[n - 1].as_slice()),
    );
    for _ in 0..60 {
        if (b - a).abs() <= 1e-12 * b.abs().max(1e-9) {
            break;
        }
        // Illinois: a secant that cannot get stuck on one side.
        let t = b - value_b * (b - a) / (value_b - value_a);
        let (_, trial) = advance(from, state, t, None)?;
        let Some(y) = trial.last() else { break };
        let value = event.value(t, y.as_slice());
        if value * value_b <= 0.0 {
            a = b;
            value_a = value_b;
        } else {
            value_a *= 0.5;
        }
        b = t;
        value_b = value;
        if value == 0.0 {
            break;
        }
    }
    Ok(b)
}
