//! The answers of one setting of the metals, as logarithms.

use crate::device::Device;
use crate::load::Programme;
use crate::physics::one_body;
use crate::predict::PredictError;
use crate::predict::case::Case;
use crate::predict::fidelity::Fidelity;
use crate::predict::run::{RunAnswer, run_on};
use crate::predict::session::Unwatched;
use crate::predict::trip_point::trip_point_on;
use crate::predict::waits::ready_wait;
use crate::scenario::{Before, Scenario};

/// Trip point, trip time (or pace, see [`Asked::pace`]), relatch wait and ready wait: logarithms, NaN
/// where there is none.
pub(super) type Answers = [f64; 4];
pub(super) const TRIP_POINT: usize = 0;
pub(super) const TRIP_TIME: usize = 1;
pub(super) const RELATCH: usize = 2;
pub(super) const READY: usize = 3;

/// A load less than this over a part's own trip point is asked at the nominal part's multiple of it.
const LEAST_OVER: f64 = 1.02;

/// What is asked of every setting, on one grid, so that numerical errors go out of the ratios.
pub(super) struct Asked<'a> {
    pub case: &'a Case,
    pub fidelity: Fidelity,
    /// The nominal part's trip point, A.
    pub nominal_a: Option<f64>,
    /// Whether the nominal part trips.
    pub trips: bool,
    /// Constant current of the load, A; `None` for any other load.
    pub load_a: Option<f64>,
    /// Whether the wait before a start is asked.
    pub starts: bool,
}

impl Asked<'_> {
    /// The answers of a scenario that differs from the nominal one in its metals alone.
    pub fn of(&self, scenario: &Scenario) -> Result<Answers, PredictError> {
        let device = Device::new(scenario)?;
        let model = device.on(self.fidelity.fineness);
        let rated_a = self.nominal_a.unwrap_or(self.case.rated_current_a);
        let held_a = trip_point_on(&model, self.case.ambient_k(), rated_a)?.current_a();
        let mut answers = [f64::NAN; 4];
        answers[TRIP_POINT] = held_a.map_or(f64::NAN, f64::ln);
        if !self.trips {
            return Ok(answers);
        }
        let mut load = scenario.load.clone();
        let mut asked_a = self.load_a;
        if let (Some(load_a), Some(held_a), Some(nominal_a)) = (self.load_a, held_a, self.nominal_a)
            && load_a < LEAST_OVER * held_a
        {
            let same_multiple_a = load_a * held_a / nominal_a;
            load = Programme::constant(same_multiple_a);
            asked_a = Some(same_multiple_a);
        }
        let tolerance = self.fidelity.tolerance;
        let run = match run_on(&model, tolerance, self.case, &load, true, &mut Unwatched) {
            Ok(run) => run,
            Err(PredictError::HotBeyondRelease { .. }) => return Ok(answers),
            Err(other) => return Err(other),
        };
        let Some(time_s) = run.trip_time_s.filter(|t| *t > 0.0) else {
            return Ok(answers);
        };
        answers[TRIP_TIME] = match (asked_a, held_a) {
            (Some(asked_a), Some(held_a)) => (time_s / self.pace(asked_a, held_a)).ln(),
            _ => time_s.ln(),
        };
        answers[RELATCH] = run.relatch_wait_s.map_or(f64::NAN, f64::ln);
        if self.starts {
            answers[READY] = self.ready(scenario, &device, &load, &run)?;
        }
        Ok(answers)
    }

    fn ready(
        &self,
        scenario: &Scenario,
        device: &Device,
        load: &Programme,
        run: &RunAnswer,
    ) -> Result<f64, PredictError> {
        let Some(start) = &scenario.start_up else {
            return Ok(f64::NAN);
        };
        let wait = ready_wait(device, self.case, load, start, run, self.fidelity)?.wait;
        Ok(wait.time_s().map_or(f64::NAN, f64::ln))
    }

    /// What makes the trip time endless at a trip point, see [`one_body::pace`].
    pub fn pace(&self, current_a: f64, held_a: f64) -> f64 {
        let before_a = match self.case.before {
            Before::Cold => 0.0,
            Before::Hot { fraction_of_rated } => fraction_of_rated * self.case.rated_current_a,
        };
        one_body::pace(current_a, held_a, before_a)
    }
}
