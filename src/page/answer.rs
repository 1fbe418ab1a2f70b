//! The answer to one position of the sliders: the prediction, by the way `relatch run` goes,
//! without its tables.

use super::{PageError, Preset, Sliders, written};
use crate::answer::{Wait, WhyNotAsked};
use crate::predict::{AskMetals, Halt, Options, Outcome, Sketch, predict};
use crate::present::plot::live::{self, Look};
use crate::present::short::{Shown, shown};
use crate::present::worded;
use crate::scenario::{Scenario, read_text};
use serde::Serialize;

/// Points of the curve that follows the sliders, and their accuracy: finer than a line on a screen.
const SKETCH: Sketch = Sketch {
    points: 20,
    accuracy: 1e-3,
    largest_multiple: 8.0,
    hot_fraction: None,
};
/// Fraction of the rating after which a start is hot.
const HOT: f64 = 0.8;

/// What the page shows for one position of the sliders.
#[derive(Debug, Clone, Serialize)]
pub struct Answer {
    /// The record of `relatch run --json`; tables and time series are empty, the characteristic is
    /// a sketch.
    #[serde(serialize_with = "in_words")]
    pub outcome: Outcome,
    /// The same in words, as a person reads it.
    pub shown: Shown,
    /// The current, A, where it is constant.
    pub constant_current_a: Option<f64>,
    /// The characteristic, with what a constant current does on it, as SVG.
    pub curve: String,
    /// What its letters stand for.
    pub curve_notes: Vec<String>,
    /// The strip as SVG.
    pub strip: String,
}

fn in_words<S: serde::Serializer>(outcome: &Outcome, to: S) -> Result<S::Ok, S::Error> {
    let worded = worded(outcome).map_err(serde::ser::Error::custom)?;
    worded.serialize(to)
}

/// The scenario that the sliders make of a preset, read from the very text that would be exported.
pub(super) fn scenario(preset: &Preset, sliders: &Sliders) -> Result<Scenario, PageError> {
    if sliders.is_unmoved() {
        return Ok(preset.scenario.clone());
    }
    let text = written(preset, sliders)?;
    read_text(&preset.id, &text).map_err(|e| PageError::Impossible(e.to_string()))
}

/// Predict for one position of the sliders.
///
/// # Errors
/// A slider outside its range; values that together give no scenario or no prediction.
pub fn answer(preset: &Preset, sliders: &Sliders) -> Result<Answer, PageError> {
    answer_until(preset, sliders, false, Look::default(), &Halt::default())
}

/// The same until `halt` is due, and on demand in brief: without the start wait, the hot curve and
/// the published limits, which take the longest to find.
pub(super) fn answer_until(
    preset: &Preset,
    sliders: &Sliders,
    brief: bool,
    look: Look,
    halt: &Halt,
) -> Result<Answer, PageError> {
    let mut scenario = scenario(preset, sliders)?;
    let waits = scenario.start_up.is_some() && brief;
    if waits {
        scenario.start_up = None;
    }
    let options = Options {
        without_tables: true,
        without_course: true,
        sketch: Some(Sketch {
            hot_fraction: Some(HOT).filter(|_| !brief),
            ..SKETCH
        }),
        metals: if brief {
            AskMetals::WithTables
        } else {
            AskMetals::WhereCheap
        },
        halt: halt.clone(),
        ..Options::default()
    };
    let mut outcome = predict(&scenario, &options, &mut |_, _| {})?;
    if waits {
        outcome.reset.ready_wait = Wait::NotAsked {
            why: WhyNotAsked::Later,
        };
    }
    let load_a = scenario.load.only_a();
    let (curve, curve_notes) = live::curve(&outcome, load_a, look);
    Ok(Answer {
        shown: shown(&outcome),
        curve,
        curve_notes,
        constant_current_a: load_a,
        strip: live::strip(&outcome, look),
        outcome,
    })
}
