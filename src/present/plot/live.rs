//! The figures that follow the sliders of the page: those of a run, as wide as the screen has room,
//! so that their text stays readable there.

use super::stretch::time_unit;
use super::{Theme, characteristic, drawn_strip};
use crate::predict::{Course, Outcome, State};
use crate::present::chart::style::*;
use crate::present::chart::{
    Axis, Chart, Column, Figure, Flag, Foot, Key, Line, Panel, Sample, Sheet,
};
use crate::present::words;
use serde::Deserialize;

/// Units of the sheet in a pixel: text of the axes is 13 pixels high.
const UNITS_PER_PX: f64 = BODY / 13.0;
/// Least and most width, px.
const WIDTH_PX: (f64, f64) = (280.0, 1000.0);

/// How the page shows figures.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct Look {
    /// Room, pixels.
    pub width_px: f64,
    /// Whether the screen is dark.
    pub is_dark: bool,
}

impl Default for Look {
    fn default() -> Self {
        Self {
            width_px: 760.0,
            is_dark: false,
        }
    }
}

impl Look {
    /// A sheet of this height to width, at least and at most so high.
    fn sheet(self, share: f64, [least_px, most_px]: [f64; 2]) -> Sheet {
        let width_px = self.width_px.clamp(WIDTH_PX.0, WIDTH_PX.1);
        let height_px = (share * width_px).clamp(least_px, most_px);
        let units = |px: f64| (px * UNITS_PER_PX) as i32;
        Sheet::of_units((units(width_px).min(WIDTH), units(height_px).min(HEIGHT)))
    }

    fn finished(self, figure: Option<Figure>) -> String {
        let theme = if self.is_dark {
            Theme::Dark
        } else {
            Theme::Light
        };
        figure.map_or_else(String::new, |f| f.in_theme(theme).svg)
    }
}

/// The characteristic, with what a constant load does on it, empty where nothing trips; and what
/// its letters stand for.
pub fn curve(outcome: &Outcome, load_a: Option<f64>, look: Look) -> (String, Vec<String>) {
    let Some(mut chart) = characteristic::chart(outcome, load_a) else {
        return (String::new(), Vec::new());
    };
    chart.has_header = false;
    let said = std::mem::take(&mut chart.foot).into_iter();
    let said = said.flat_map(|foot| match foot {
        Foot::Note(text) => vec![text],
        Foot::Keys(keys) => keys.into_iter().map(of_key).collect(),
    });
    chart.sheet = look.sheet(0.62, [300.0, 460.0]);
    let said = said.collect();
    (look.finished(Some(chart.drawn())), said)
}

fn of_key(key: Key) -> String {
    match key.sample {
        Sample::Letter(letter, _) => format!("{letter} {}", key.text),
        _ => key.text,
    }
}

/// The strip, cold and at the end of carrying; empty without shapes.
pub fn strip(outcome: &Outcome, look: Look) -> String {
    look.finished(drawn_strip::live(outcome, look.sheet(0.42, [230.0, 340.0])))
}

/// The hottest point in the time of a watched course, with its events.
pub fn course(course: &Course, look: Look) -> String {
    let end_s = course.series.last().map_or(0.0, |s| s.time_s).max(1e-9);
    let (unit_s, unit) = time_unit(end_s);
    let warmths = course.series.iter().map(|s| s.strip_peak_c);
    let line = |states: &[State], stroke| {
        let at = |s: &State| (s.time_s / unit_s, s.strip_peak_c);
        Line::new(states.iter().map(at).collect(), stroke)
    };
    let stretches = course.series.chunk_by(|a, b| a.closed == b.closed);
    let lines = stretches.map(|states| match states[0].closed {
        true => line(states, stroke(LAKE, 7, SOLID)).into(),
        false => line(states, stroke(LAKE, 6, DASHED)).into(),
    });
    let panel = Panel::new(
        Axis::linear(say!("Time, {unit}"; unit), 0.0, end_s / unit_s, 8),
        Axis::airy(word!("Hottest point, °C"), warmths, 4, 0.1),
        lines.collect(),
    );
    let mut column = Column::of(vec![panel]);
    let flag = |event: &crate::predict::EventRecord| {
        let (text, is_good) = words::event_flag(event.event)?;
        let stroke = match is_good {
            true => stroke(MOSS, 4, DASH_DOT),
            false => stroke(PLUM, 4, DOTTED),
        };
        Some(Flag {
            x: event.time_s / unit_s,
            text: text.to_owned(),
            stroke,
        })
    };
    column.flags = course.events.iter().filter_map(flag).collect();
    let title = word!("Temperature of the hottest point in time");
    let mut chart = Chart::new("course", title, "", vec![column]);
    chart.has_header = false;
    chart.sheet = look.sheet(0.3, [210.0, 240.0]);
    chart.description = course
        .runs
        .iter()
        .map(words::carried)
        .collect::<Vec<_>>()
        .join("; ");
    look.finished(Some(chart.drawn()))
}
