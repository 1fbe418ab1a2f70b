//! Units alone that are alike: each question on one grid, chosen by the nominal unit, and trimmed by
//! what that grid leaves of the nominal unit.

use super::alone::{Finely, examine};
use super::trim::Trim;
use super::{ACCURACY, Air, Finding, Questions, own_case};
use crate::device::Device;
use crate::load::Programme;
use crate::predict::PredictError;
use crate::predict::case::Case;
use crate::predict::fidelity::{Fidelity, Ladder};
use crate::predict::run::{RunAnswer, run_on};
use crate::predict::session::Unwatched;
use crate::predict::together::trip_point_near;
use crate::predict::trip_point::{TripPointAnswer, trip_point_on};
use crate::scenario::Scenario;

/// How much looser a step is than on the ladder.
const LONGER: f64 = 4.0;

/// What units about a nominal one are asked on.
pub struct Once {
    questions: Questions,
    /// Grid of the steady states.
    settled: Fidelity,
    /// Grid of every carry.
    carries: Vec<Fidelity>,
    /// Trip point of the nominal unit in every air, and the steady state there.
    start: Vec<Option<(f64, Vec<f64>)>>,
    trim: Trim,
}

impl Once {
    /// For units about a nominal one that was found alone; `None`: one grid leaves too much of it.
    ///
    /// # Errors
    /// The nominal unit cannot be computed.
    pub fn new(
        scenario: &Scenario,
        questions: &Questions,
        nominal: &Finding,
    ) -> Result<Option<Once>, PredictError> {
        let device = Device::new(scenario)?;
        let lowest = |time_s: f64| lowest(&device, time_s);
        let settled = lowest(f64::INFINITY);
        let model = device.on(settled.fineness);
        let own_k = own_case(scenario).ambient_k();
        let start = |air: &Air| {
            let air_k = match air {
                Air::Own => own_k,
                Air::At(k) => *k,
            };
            let guess_a = scenario.protector.rated_current_a;
            Ok(match trip_point_on(&model, air_k, guess_a)? {
                TripPointAnswer::At { current_a, state } => Some((current_a, state)),
                TripPointAnswer::StaysOpen | TripPointAnswer::NeverReleases => None,
            })
        };
        let start: Result<_, PredictError> = questions.airs.iter().map(start).collect();
        let mut once = Once {
            settled,
            carries: nominal.times_s.iter().map(|t| lowest(*t)).collect(),
            start: start?,
            trim: Trim::none(questions),
            questions: questions.clone(),
        };
        let on_it = once.examine(scenario, 1.0)?;
        let is_near =
            once.trim.takes_trip_points(nominal, &on_it) && once.trim.takes_times(nominal, &on_it);
        Ok(is_near.then_some(once))
    }

    /// Largest relative correction by which answers are trimmed.
    pub fn largest_trim(&self) -> f64 {
        self.trim.largest()
    }

    /// The answers of one unit, given as its scenario.
    ///
    /// # Errors
    /// Why this unit cannot be computed.
    pub fn examine(&self, scenario: &Scenario, set_factor: f64) -> Result<Finding, PredictError> {
        examine(scenario, &self.questions, set_factor, Finely::Once(self))
    }

    /// Trip point in an air, from that of the nominal unit.
    pub(super) fn trip_point(
        &self,
        device: &Device,
        air: usize,
        air_k: f64,
        guess_a: f64,
    ) -> Result<TripPointAnswer, PredictError> {
        let model = device.on(self.settled.fineness);
        let holds_cold = || model.release_excess_m(&model.uniform(air_k), 0.0) < 0.0;
        let near = self.start[air].as_ref().filter(|_| holds_cold());
        let mut answer = match near.and_then(|(a, y)| trip_point_near(&model, air_k, *a, y)) {
            Some((current_a, state)) => TripPointAnswer::At { current_a, state },
            None => trip_point_on(&model, air_k, guess_a)?,
        };
        if let TripPointAnswer::At { current_a, .. } = &mut answer {
            *current_a *= self.trim.trip_points[air];
        }
        Ok(answer)
    }

    /// A carry; again on a finer grid where the event comes so much sooner than the nominal unit's
    /// that its own is too coarse.
    pub(super) fn run(
        &self,
        device: &Device,
        carry: usize,
        case: &Case,
        load: &Programme,
        cool: bool,
    ) -> Result<RunAnswer, PredictError> {
        let on = |grid: &Fidelity| {
            let model = device.on(grid.fineness);
            run_on(&model, grid.tolerance, case, load, cool, &mut Unwatched)
        };
        let grid = self.carries[carry];
        let mut answer = on(&grid)?;
        let wanted = lowest(device, answer.end_s);
        if wanted.fineness.order > grid.fineness.order + 1 {
            return on(&wanted);
        }
        let trimmed = |value: &mut Option<f64>, factor: f64| {
            if let Some(value) = value {
                *value *= factor;
            }
        };
        trimmed(&mut answer.trip_time_s, self.trim.times[carry]);
        trimmed(&mut answer.relatch_wait_s, self.trim.waits[carry]);
        Ok(answer)
    }
}

/// The lowest rung for an event after a time, with longer steps: what they leave is much the same for
/// every unit and is trimmed away. Even orders, so that few grids serve many carries.
fn lowest(device: &Device, time_s: f64) -> Fidelity {
    let mut rung = Ladder::new(device, time_s, ACCURACY).rung(0);
    rung.fineness.order += rung.fineness.order % 2;
    rung.tolerance *= LONGER;
    rung
}
