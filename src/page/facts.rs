//! What the page must know of a preset before anything is asked: where the sliders stand and how
//! far they go.

use super::Preset;
use super::sliders::{AMBIENT_C, PRELOAD_PERCENT, THICKNESS_PERCENT};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::significant;
use crate::scenario::{ContactResistance, Convection, Reset, Scenario};
use serde::Serialize;

/// One slider.
#[derive(Debug, Clone, Serialize)]
pub struct Slider {
    /// Least value.
    pub least: f64,
    /// Most.
    pub most: f64,
    /// Step of the arrow keys.
    pub step: f64,
    /// Where the scenario has it; `None`: it has no single value.
    pub own: Option<f64>,
    /// The scenario's own in words.
    pub own_text: String,
    /// Why moving it does nothing, where that is so.
    pub idle: Option<String>,
}

/// A preset as the page needs it.
#[derive(Debug, Clone, Serialize)]
pub struct Facts {
    /// Name to ask with.
    pub id: String,
    /// Title.
    pub title: String,
    /// What it shows.
    pub shows: String,
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Whether it closes by itself.
    pub resets_itself: bool,
    /// Current, A.
    pub current: Slider,
    /// Air, degC.
    pub ambient: Slider,
    /// Preload left, %.
    pub preload: Slider,
    /// Thickness, %.
    pub thickness: Slider,
    /// Where its dial stands, A; `None`: it has none.
    pub dial: Option<Slider>,
    /// Pole whose phase is lost, 0 for none; `None`: it has not three.
    pub lost: Option<Slider>,
    /// Posture word, or `None` where the scenario has another law.
    pub posture: Option<&'static str>,
    /// The scenario's own cooling in words.
    pub posture_text: String,
}

/// Facts of a preset.
pub fn facts(preset: &Preset) -> Facts {
    let s = &preset.scenario;
    let (posture, posture_text) = posture(s);
    Facts {
        id: preset.id.clone(),
        title: s.title.clone(),
        shows: s.shows.split_whitespace().collect::<Vec<_>>().join(" "),
        rated_current_a: s.protector.rated_current_a,
        resets_itself: s.release.reset == Reset::Automatic,
        current: current(s),
        ambient: ambient(s),
        preload: preload(s),
        thickness: Slider {
            least: THICKNESS_PERCENT.0,
            most: THICKNESS_PERCENT.1,
            step: 1.0,
            own: Some(100.0),
            own_text: "100 %".into(),
            idle: None,
        },
        dial: dial(s),
        lost: lost(s),
        posture,
        posture_text,
    }
}

fn dial(s: &Scenario) -> Option<Slider> {
    let dial = s.dial?;
    let own = s.protector.rated_current_a;
    Some(Slider {
        least: dial.lowest_a,
        most: dial.highest_a,
        step: round_down(own / 100.0),
        own: Some(own),
        own_text: format!("{} A", significant(own, 4)),
        idle: None,
    })
}

fn lost(s: &Scenario) -> Option<Slider> {
    let count = s.poles.as_ref().map(|p| p.each.len()).filter(|n| *n >= 3)?;
    Some(Slider {
        least: 0.0,
        most: count as f64,
        step: 1.0,
        own: Some(0.0),
        own_text: word!("none").into(),
        idle: None,
    })
}

fn current(s: &Scenario) -> Slider {
    let rated = s.protector.rated_current_a;
    let own = s.load.only_a();
    // A hundredth of the rating, as a round number.
    let step = round_down(rated / 100.0);
    let grid = |a: f64| (a / step).round() * step;
    Slider {
        least: tidy(grid(0.5 * rated)),
        most: tidy(grid((6.0 * rated).max(1.25 * own.unwrap_or(0.0)))),
        step,
        own,
        own_text: own.map_or_else(
            || word!("a load that changes in time").into(),
            |a| format!("{} A", significant(a, 4)),
        ),
        idle: None,
    }
}

fn ambient(s: &Scenario) -> Slider {
    let own = match s.surroundings.ambient.as_slice() {
        [(_, kelvin)] => Some(tidy(kelvin - ZERO_CELSIUS_K)),
        _ => None,
    };
    Slider {
        least: AMBIENT_C.0,
        most: AMBIENT_C.1,
        step: 1.0,
        own,
        own_text: own.map_or_else(
            || word!("air that changes in time").into(),
            |c| format!("{} °C", significant(c, 3)),
        ),
        idle: None,
    }
}

fn preload(s: &Scenario) -> Slider {
    let spring = s.release.mechanism.preload_n() != 0.0;
    let matters = spring || matches!(s.contact.resistance, ContactResistance::Holm { .. });
    let left = tidy(100.0 * (1.0 - s.release.preload_loss));
    Slider {
        least: PRELOAD_PERCENT.0,
        most: PRELOAD_PERCENT.1,
        step: 1.0,
        own: Some(left),
        own_text: format!("{} %", significant(left, 3)),
        idle: (!matters).then(|| word!("This part has no spring.").to_owned()),
    }
}

fn posture(s: &Scenario) -> (Option<&'static str>, String) {
    let word = match s.cooling.convection {
        Convection::EdgeOn => "edge-on",
        Convection::Upright => "upright",
        Convection::Flat => "flat",
        Convection::Constant { .. } => return (None, word!("a constant film coefficient").into()),
        Convection::Forced { .. } => return (None, word!("forced air").into()),
        Convection::Gap { .. } => return (None, word!("conduction across a gap").into()),
    };
    (Some(word), word.to_owned())
}

/// The largest of 1, 2, 5 times a power of ten that is not above a value.
fn round_down(value: f64) -> f64 {
    let decade = 10f64.powf(value.log10().floor());
    let mantissa = [5.0, 2.0, 1.0]
        .into_iter()
        .find(|m| m * decade <= value * (1.0 + 1e-9))
        .unwrap_or(1.0);
    tidy(mantissa * decade)
}

fn tidy(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}
