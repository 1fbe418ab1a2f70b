//! A protector followed in time for a moving picture: carry, trip, cool, with the reset pressed
//! whenever somebody presses it.

use super::case::Case;
use super::history::{Presses, play_resets};
use super::main_run::{case_of, main_run};
use super::outcome::{Event, EventRecord, Moment, Shape, State, Warning};
use super::record::{Recorder, Snapshot, shape_of};
use super::recorded::RECORDED_TOLERANCE;
use super::session::Watch;
use super::thin::thin;
use super::warnings::{check_ranges, over_the_run};
use super::{Halt, PredictError};
use crate::device::{Phase, Plant};
use crate::scenario::Scenario;
use crate::solve::DenseStep;
use serde::{Deserialize, Serialize};

/// States of the series.
const MOST_STATES: usize = 500;
/// Drawn shapes.
const MOST_FRAMES: usize = 120;
/// Cooling followed, in relatch waits.
const LINGER_WAITS: f64 = 2.0;
/// Cooling followed where it never relatches, in trip times.
const LINGER_TRIPS: f64 = 5.0;

/// What happened in time.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Course {
    /// Events in order.
    pub events: Vec<EventRecord>,
    /// Each time the contacts were closed.
    pub runs: Vec<CourseRun>,
    /// States in time.
    pub series: Vec<State>,
    /// Shapes in time, for a drawing.
    pub frames: Vec<Shape>,
    /// What only the course shows: limits exceeded on the way.
    pub warnings: Vec<Warning>,
}

/// One time with the contacts closed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct CourseRun {
    /// Contacts closed, s.
    pub from_s: f64,
    /// Release, s; `None`: held to the end of the record.
    pub released_s: Option<f64>,
}

/// Follow a scenario's load with the reset pressed at the times `resets_at_s`, until `halt` is due.
///
/// # Errors
/// As [`super::predict`].
pub fn course(
    scenario: &Scenario,
    resets_at_s: &[f64],
    halt: &Halt,
) -> Result<Course, PredictError> {
    let case = Case {
        halt: halt.clone(),
        ..case_of(scenario)
    };
    let (device, main) = main_run(scenario, &case)?;
    let model = device.on(main.fidelity.fineness);
    let wait = main.value.relatch_wait_s;
    let presses = Presses {
        at_s: resets_at_s,
        linger_s: wait.map_or(LINGER_TRIPS * main.value.end_s, |w| LINGER_WAITS * w),
        relatches: wait.is_some(),
    };
    let mut film = Film {
        recorder: Recorder::new(4, Vec::new()),
        frames: Vec::new(),
    };
    let events = play_resets(
        &model,
        RECORDED_TOLERANCE,
        &case,
        &scenario.load,
        &presses,
        &mut film,
    )?;
    let Film {
        mut recorder,
        mut frames,
    } = film;
    thin(&mut frames, MOST_FRAMES, |a, b| a.closed != b.closed);
    let mut warnings = Vec::new();
    check_ranges(
        &device,
        scenario.strip.allow_extrapolation,
        recorder.range_k,
        &mut warnings,
    )?;
    over_the_run(
        &device,
        recorder.winding_k,
        recorder.contact_v,
        &mut warnings,
    );
    recorder.thin(MOST_STATES);
    Ok(Course {
        runs: runs_of(&events),
        events,
        series: recorder.series,
        frames: frames.iter().map(|f| shape_of(&model, f)).collect(),
        warnings,
    })
}

fn runs_of(events: &[EventRecord]) -> Vec<CourseRun> {
    let mut runs: Vec<CourseRun> = Vec::new();
    for e in events {
        match e.event {
            Event::LoadOn => runs.push(CourseRun {
                from_s: e.time_s,
                released_s: None,
            }),
            Event::Release => {
                if let Some(run) = runs.last_mut() {
                    run.released_s = Some(e.time_s);
                }
            }
            _ => {}
        }
    }
    runs
}

/// Records a series, and states for drawing at both ends and in the middle of every step.
struct Film {
    recorder: Recorder,
    frames: Vec<Snapshot>,
}

impl Watch for Film {
    fn step(&mut self, plant: &Plant<'_>, dense: &DenseStep) {
        self.recorder.step(plant, dense);
        let closed = plant.drive.phase == Phase::Closed;
        let is_new = self.frames.last().is_none_or(|f| f.closed != closed);
        let mut y = dense.start().to_vec();
        let mut keep = |t: f64, y: &[f64]| {
            self.frames.push(Snapshot::of(plant, t, Moment::Frame, y));
        };
        if dense.h <= 0.0 {
            return;
        }
        if is_new {
            keep(dense.t, &y);
        }
        dense.at(dense.t + 0.5 * dense.h, &mut y);
        keep(dense.t + 0.5 * dense.h, &y);
        keep(dense.t_end(), dense.end());
    }
}
