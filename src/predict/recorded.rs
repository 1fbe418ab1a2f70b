//! The course of a run, as it is drawn and written: the load or a history, recorded on one grid.

use super::PredictError;
use super::case::Case;
use super::film::{cooled, film, frame_times};
use super::history::play;
use super::options::Options;
use super::outcome::{EventRecord, Film, HeatFlow, Shape};
use super::record::{Recorder, Snapshot};
use super::records::{energy_defect, shapes_of, snapshot_times};
use super::run::{RunAnswer, run_on};
use super::thin::thin;
use crate::device::{Device, Model};
use crate::scenario::Scenario;

/// Most states of a time series: enough for any drawing, small enough to open in a spreadsheet.
const MOST_STATES: usize = 6000;
/// Most entries of the account of the heat.
const MOST_FLOWS: usize = 1200;

/// Local tolerance of the run whose course is recorded: it takes its steps the general way.
pub(super) const RECORDED_TOLERANCE: f64 = 2e-8;

/// A recorded course.
pub(super) struct Recorded {
    /// What was played: the history, where there is one, or the load.
    pub played: Recorder,
    /// The load itself beside a history: the moments drawn are its own.
    load: Option<Recorder>,
    /// What happened.
    pub events: Vec<EventRecord>,
}

impl Recorded {
    /// Plays and records, or only glances where no course is asked for.
    pub fn of(
        scenario: &Scenario,
        model: &Model,
        case: &Case,
        main: &RunAnswer,
        options: &Options,
    ) -> Result<Recorded, PredictError> {
        let mut played = Recorder::new(4, scenario.ask.states_at_s.clone());
        if options.without_course {
            played.glance(model, case, &scenario.load, main)?;
            return Ok(Recorded {
                played,
                load: None,
                events: Vec::new(),
            });
        }
        let release = &model.device.release;
        let mut wanted = snapshot_times(main, release.opening_time_s);
        if options.film {
            wanted.extend(frame_times(main, &scenario.load, release));
            wanted.sort_by(|a, b| a.0.total_cmp(&b.0));
        }
        let mut load = None;
        if scenario.history.is_empty() {
            played.keep_for_drawing(wanted);
        } else {
            let watch = load.insert(Recorder::new(1, Vec::new()));
            watch.keep_for_drawing(wanted);
            let (tolerance, programme) = (RECORDED_TOLERANCE, &scenario.load);
            run_on(model, tolerance, case, programme, true, watch)?;
        }
        let events = play(
            model,
            RECORDED_TOLERANCE,
            case,
            &scenario.load,
            &scenario.history,
            &mut played,
        )?;
        played.thin(MOST_STATES);
        Ok(Recorded {
            played,
            load,
            events,
        })
    }

    fn of_the_load(&self) -> &Recorder {
        self.load.as_ref().unwrap_or(&self.played)
    }

    fn moments(&self) -> &[Snapshot] {
        &self.of_the_load().snapshots
    }

    /// The strip at the moments of the load.
    pub fn shapes(&self, model: &Model) -> Vec<Shape> {
        let end_s = match self.load {
            Some(_) => f64::INFINITY,
            None => self.events.last().map_or(f64::INFINITY, |e| e.time_s),
        };
        shapes_of(model, self.moments(), end_s)
    }

    /// The frames of a moving picture.
    pub fn film(&self, model: &Model) -> Film {
        film(model, self.moments())
    }

    /// The account of the heat of one trip.
    pub fn heat(&self, main: &RunAnswer, device: &Device) -> Vec<HeatFlow> {
        of_one_trip(&self.of_the_load().heat, main, device)
    }

    /// By how much the energy that came in differs from what left and what is stored, as a part of
    /// it; `None` where nothing came in.
    pub fn energy_balance(&self, model: &Model) -> Option<f64> {
        let in_j = self.played.energy.in_j;
        (in_j > 0.0).then(|| energy_defect(model, &self.played) / in_j)
    }
}

/// The account of the heat up to the first relatch and a little further; to the relatch itself
/// where the contacts close there.
fn of_one_trip(heat: &[HeatFlow], main: &RunAnswer, device: &Device) -> Vec<HeatFlow> {
    let opened_s = main.trip_time_s.map(|t| t + device.release.opening_time_s);
    let beyond = cooled(&device.release);
    let end_s = opened_s
        .zip(main.relatch_wait_s)
        .map_or(f64::INFINITY, |(opened, wait)| opened + beyond * wait);
    let inside = |h: &&HeatFlow| h.time_s <= end_s * (1.0 + 1e-9);
    let mut heat: Vec<HeatFlow> = heat.iter().filter(inside).cloned().collect();
    thin(&mut heat, MOST_FLOWS, |a, b| {
        let (a, b) = (a.electrical_w, b.electrical_w);
        (a - b).abs() > 0.3 * a.abs().max(b.abs())
    });
    heat
}
