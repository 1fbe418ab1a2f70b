//! Grids and sheets for units about a nominal one, and where its own trip points lie.

use super::trim::Trim;
use super::{Air, Amperes, Examiner, Member, Questions, case_of, examine_alone, own_case};
use crate::device::{Device, Fineness, Model, Sheet, Unit};
use crate::load::Programme;
use crate::predict::PredictError;
use crate::predict::fidelity::{Fidelity, Ladder};
use crate::predict::run::run_on;
use crate::predict::session::Unwatched;
use crate::predict::trip_point::{TripPointAnswer, closed_steady, trip_point_on};
use crate::scenario::Scenario;

/// Accuracy of the grids side by side, before they are trimmed: what a grid leaves differs with the
/// unit, by a third of it at 5 % scatter.
const GRID_ACCURACY: f64 = 3e-4;

/// Accuracy of the nominal unit alone, by which they are trimmed.
const NOMINAL_ACCURACY: f64 = 1e-5;

/// Tolerance of the marches. Tighter than what one unit needs that aims at its event from the first
/// step: where a winding has to get hot first the event is not in sight at the start, and only the
/// error of the steps bounds them.
const TOLERANCE: f64 = 1e-5;

/// One grid and the carries that are asked on it.
pub(super) struct Stage {
    pub sheet: Sheet,
    pub tolerance: f64,
    pub carries: Vec<usize>,
    /// Steady state of the nominal unit before each carry, where it starts hot.
    pub before: Vec<Option<Vec<f64>>>,
}

impl Stage {
    fn new(sheet: Sheet, tolerance: f64) -> Stage {
        Stage {
            sheet,
            tolerance,
            carries: Vec::new(),
            before: Vec::new(),
        }
    }
}

/// Trip point of the nominal unit in one air.
pub(super) struct Start {
    /// A.
    pub current_a: f64,
    /// Steady state there.
    pub state: Vec<f64>,
    /// The air, K.
    pub air_k: f64,
}

/// The nominal unit, asked on a grid good enough to choose others by.
struct Scout<'a> {
    scenario: &'a Scenario,
    questions: &'a Questions,
    model: &'a Model,
    tolerance: f64,
    /// Its airs, K.
    airs: &'a [f64],
    /// Highest temperature seen, K.
    high_k: f64,
}

impl Scout<'_> {
    /// Its trip points; `None` where there is none: units about such a one are asked alone.
    fn starts(&mut self, model: &Model) -> Result<Option<Vec<Start>>, PredictError> {
        let mut starts = Vec::new();
        for air_k in self.airs.iter().copied() {
            let guess_a = self.scenario.protector.rated_current_a;
            let TripPointAnswer::At { current_a, state } = trip_point_on(model, air_k, guess_a)?
            else {
                return Ok(None);
            };
            self.high_k = self.high_k.max(model.peak_k(&state));
            starts.push(Start {
                current_a,
                state,
                air_k,
            });
        }
        Ok(Some(starts))
    }

    /// Its trip times, s; infinite where it holds, or is beyond release from the start.
    fn times_s(&mut self) -> Result<Vec<f64>, PredictError> {
        let mut times = Vec::new();
        for carry in &self.questions.carries {
            let current_a = match carry.current {
                Amperes::Own => self.scenario.load.last_a(),
                Amperes::Of(a) => a,
            };
            let case = case_of(self.scenario, self.airs[carry.air], carry.before_a);
            let load = Programme::constant(current_a);
            let (model, tolerance) = (self.model, self.tolerance);
            times.push(
                match run_on(model, tolerance, &case, &load, false, &mut Unwatched) {
                    Ok(answer) => {
                        self.high_k = self.high_k.max(model.peak_k(&answer.state));
                        answer.trip_time_s.unwrap_or(f64::INFINITY)
                    }
                    Err(PredictError::HotBeyondRelease { .. }) => f64::INFINITY,
                    Err(e) => return Err(e),
                },
            );
        }
        Ok(times)
    }

    /// Goes through the factory setting, for the temperatures met.
    fn set(&mut self) -> Result<(), PredictError> {
        let Some(setting) = self.questions.setting else {
            return Ok(());
        };
        let mut case = case_of(self.scenario, setting.ambient_k, 0.0);
        case.longest_s = f64::INFINITY;
        let mut session = case.start(self.model, self.tolerance)?;
        let load = Programme::constant(setting.current_a);
        session.stay_closed(&load, 0.0, 1.1 * setting.time_s, &mut Unwatched)?;
        self.high_k = self.high_k.max(self.model.peak_k(&session.y));
        Ok(())
    }
}

impl Examiner {
    /// For units about a nominal one, whose own ambients lie within a range and whose loads about
    /// its own. `None`: these units cannot be computed side by side.
    ///
    /// # Errors
    /// The nominal unit cannot be computed.
    pub fn new(
        scenario: &Scenario,
        device: &Device,
        questions: &Questions,
        own_air_k: (f64, f64),
    ) -> Result<Option<Examiner>, PredictError> {
        if Unit::of(device).is_none() {
            return Ok(None);
        }
        let own_k = own_case(scenario).ambient_k();
        let airs = questions.airs.iter().map(|a| match a {
            Air::Own => own_k,
            Air::At(k) => *k,
        });
        let airs: Vec<f64> = airs.collect();
        let settled = grid(device, f64::INFINITY);
        let mut scout = Scout {
            scenario,
            questions,
            model: &device.on(settled.fineness),
            tolerance: settled.tolerance,
            airs: &airs,
            high_k: own_air_k.1,
        };
        let Some(mut start) = scout.starts(scout.model)? else {
            return Ok(None);
        };
        let times = scout.times_s()?;
        scout.set()?;
        let set_air_k = questions.setting.map(|s| s.ambient_k);
        let low_k = airs.iter().copied().chain(set_air_k);
        let low_k = low_k.fold(own_air_k.0, f64::min);
        let range_k = (
            low_k - 12.0,
            scout.high_k + 12.0 + 0.3 * (scout.high_k - low_k),
        );
        // The setting is marched on the first stage: its grid must serve that time, too.
        let first = questions
            .setting
            .map_or(settled, |s| finer(settled, grid(device, 0.7 * s.time_s)));
        if first.fineness != settled.fineness {
            match scout.starts(&device.on(first.fineness))? {
                Some(finer) => start = finer,
                None => return Ok(None),
            }
        }
        let Some(stages) = stages(device, questions, first, &times, &airs, range_k)? else {
            return Ok(None);
        };
        let mut examiner = Examiner {
            questions: questions.clone(),
            stages,
            start,
            trim: Trim::none(questions),
        };
        Ok(examiner.is_trimmed(scenario)?.then_some(examiner))
    }

    /// Trims it to the nominal unit alone; false where the two are too far apart.
    fn is_trimmed(&mut self, scenario: &Scenario) -> Result<bool, PredictError> {
        let Some(unit) = Unit::of_scenario(scenario) else {
            return Ok(false);
        };
        let nominal = [Member {
            unit,
            current_a: scenario.load.last_a(),
            ambient_k: own_case(scenario).ambient_k(),
            set_factor: 1.0,
        }];
        let alone = examine_alone(scenario, &self.questions, 1.0, NOMINAL_ACCURACY)?;
        let clearance_m = alone.clearance_m - self.examine(&nominal)[0].clearance_m;
        if self.questions.setting.is_some() && clearance_m.is_finite() {
            self.trim.clearance_m = clearance_m;
        }
        // Times go by the ratio of current to trip point, so that comes first.
        let beside = self.examine(&nominal);
        Ok(self.trim.takes_trip_points(&alone, &beside[0]) && {
            let beside = self.examine(&nominal);
            self.trim.takes_times(&alone, &beside[0])
        })
    }
}

/// A stage for every grid that the times of the carries ask for; `None` where a sheet cannot be
/// made.
fn stages(
    device: &Device,
    questions: &Questions,
    first: Fidelity,
    times: &[f64],
    airs: &[f64],
    range_k: (f64, f64),
) -> Result<Option<Vec<Stage>>, PredictError> {
    let sheet = |f: Fineness| Sheet::new(device, f, range_k.0, range_k.1);
    let Some(first_sheet) = sheet(first.fineness) else {
        return Ok(None);
    };
    let mut stages = vec![Stage::new(first_sheet, first.tolerance)];
    let mut grids = vec![first];
    for (k, carry) in questions.carries.iter().enumerate() {
        let wanted = grid(device, 0.7 * times[k]);
        let at = match grids.iter().position(|g| serves(g, &wanted)) {
            Some(at) => at,
            None => {
                let grid = evened(wanted);
                let Some(sheet) = sheet(grid.fineness) else {
                    return Ok(None);
                };
                grids.push(grid);
                stages.push(Stage::new(sheet, grid.tolerance));
                stages.len() - 1
            }
        };
        let before = if carry.before_a > 0.0 {
            let model = device.on(grids[at].fineness);
            let air_k = airs[carry.air];
            closed_steady(&model, carry.before_a, air_k, &model.uniform(air_k))?
        } else {
            None
        };
        stages[at].carries.push(k);
        stages[at].before.push(before);
    }
    Ok(Some(stages))
}

/// Grid for an event after a time. A coarse one will do, because what it leaves is much the same
/// for every unit and is trimmed away; the steps in time are far better.
fn grid(device: &Device, time_s: f64) -> Fidelity {
    Fidelity {
        fineness: Ladder::new(device, time_s, GRID_ACCURACY).rung(0).fineness,
        tolerance: TOLERANCE,
    }
}

/// The finer of two grids of one element; the other where they are graded.
fn finer(a: Fidelity, b: Fidelity) -> Fidelity {
    if b.fineness.order > a.fineness.order || b.fineness.end_element_m < a.fineness.end_element_m {
        evened(b)
    } else {
        a
    }
}

/// Whether carries that ask for one grid may be asked on another.
fn serves(grid: &Fidelity, wanted: &Fidelity) -> bool {
    grid.fineness.end_element_m == wanted.fineness.end_element_m
        && grid.fineness.order >= wanted.fineness.order
        && grid.fineness.order <= wanted.fineness.order + 2
}

/// Orders in steps of two, so that few grids serve many carries.
fn evened(mut grid: Fidelity) -> Fidelity {
    grid.fineness.order += grid.fineness.order % 2;
    grid
}
