//! A protector watched in time, with the reset pressed at moments of the reader's choice.

use super::answer::scenario;
use super::{PageError, Preset, Sliders};
use crate::predict::{CourseRun, Event, Halt, course};
use crate::present::plot::live::{self, Look};
use crate::present::{duration, words};
use serde::Serialize;

/// Most presses of the reset in one course.
const MOST_RESETS: usize = 20;
/// Latest press, s.
const LATEST_S: f64 = 1e8;
/// Digits of a recorded number: finer than any screen, and short to send.
const DIGITS: i32 = 6;

/// A course as the page plays it.
#[derive(Debug, Clone, Serialize)]
pub struct Watched {
    /// Events in order.
    pub events: Vec<Moment>,
    /// How long the contacts carried each time.
    pub runs: Vec<CourseRun>,
    /// The hottest point in time, as SVG.
    pub figure: String,
    /// Times, s.
    pub time_s: Vec<f64>,
    /// Whether the contacts are closed.
    pub closed: Vec<bool>,
    /// What a person reads at each time.
    pub reading: Vec<String>,
    /// Drawn shapes.
    pub frames: Vec<Frame>,
    /// Limits exceeded on the way.
    pub warnings: Vec<String>,
}

/// An event.
#[derive(Debug, Clone, Serialize)]
pub struct Moment {
    /// s
    pub time_s: f64,
    /// The same as a person says it.
    pub at: String,
    /// As in the record of `relatch run`.
    pub event: Event,
    /// In words.
    pub text: String,
}

/// A drawn shape.
#[derive(Debug, Clone, Serialize)]
pub struct Frame {
    /// s
    pub time_s: f64,
    /// Along the drawing, mm.
    pub x_mm: Vec<f64>,
    /// Deflection, mm.
    pub y_mm: Vec<f64>,
}

/// Follow the sliders' scenario in time.
///
/// # Errors
/// A slider or a time outside its range; values that give no prediction.
pub fn watched(preset: &Preset, sliders: &Sliders, resets_s: &[f64]) -> Result<Watched, PageError> {
    watched_until(preset, sliders, resets_s, Look::default(), &Halt::default())
}

/// The same until `halt` is due.
pub(super) fn watched_until(
    preset: &Preset,
    sliders: &Sliders,
    resets_s: &[f64],
    look: Look,
    halt: &Halt,
) -> Result<Watched, PageError> {
    if resets_s.len() > MOST_RESETS {
        return Err(PageError::Asked(format!(
            "resets_s has {} times; {MOST_RESETS} are followed at most",
            resets_s.len()
        )));
    }
    if let Some(bad) = resets_s.iter().find(|t| !(**t >= 0.0 && **t <= LATEST_S)) {
        return Err(PageError::Asked(format!(
            "resets_s holds {bad}; a time lies between 0 s and {LATEST_S} s"
        )));
    }
    if resets_s.windows(2).any(|w| !(w[1] > w[0])) {
        return Err(PageError::Asked(
            "the times of resets_s must increase".into(),
        ));
    }
    let scenario = scenario(preset, sliders)?;
    let course = course(&scenario, resets_s, halt)?;
    let mechanism = scenario.release.mechanism.kind();
    Ok(Watched {
        figure: live::course(&course, look),
        runs: course.runs.clone(),
        time_s: course.series.iter().map(|s| short(s.time_s)).collect(),
        closed: course.series.iter().map(|s| s.closed).collect(),
        reading: course
            .series
            .iter()
            .map(|s| words::reading(s, mechanism))
            .collect(),
        frames: course
            .frames
            .iter()
            .map(|f| Frame {
                time_s: short(f.time_s),
                x_mm: every_fourth(&f.x_mm),
                y_mm: every_fourth(&f.y_mm),
            })
            .collect(),
        warnings: course.warnings.iter().map(words::warning).collect(),
        events: course
            .events
            .into_iter()
            .map(|e| Moment {
                time_s: e.time_s,
                at: duration(e.time_s, 4),
                event: e.event,
                text: words::event_text(e.event).to_owned(),
            })
            .collect(),
    })
}

fn every_fourth(list: &[f64]) -> Vec<f64> {
    list.iter().step_by(4).map(|v| short(*v)).collect()
}

/// To a few digits.
fn short(value: f64) -> f64 {
    if value == 0.0 || !value.is_finite() {
        return value;
    }
    let scale = 10f64.powi(DIGITS - 1 - value.abs().log10().floor() as i32);
    let rounded = (value * scale).round() / scale;
    if rounded.is_finite() { rounded } else { value }
}
