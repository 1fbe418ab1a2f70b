//! Temperatures and deflection against time, with the moments that matter.

use super::area::{Area, Point};
use super::axis::{Axis, extent};
use super::canvas::{Canvas, sheet};
use super::flags::Flags;
use super::label::Labels;
use super::moments::moments;
use super::panel::Panel;
use super::stretch::{Stretch, excerpt, stretches, time_unit};
use super::style::*;
use super::{Figure, PlotError, contact_bar, vector};
use crate::predict::{Outcome, Part, State};
use crate::present::number::{duration, finite, significant};
use plotters::style::RGBColor;

const TOP: f64 = 180.0;
const BOTTOM: f64 = 1370.0;
/// Share of the height for the temperatures.
const UPPER_SHARE: f64 = 0.55;
const BAR: f64 = 44.0;
const GAP: f64 = 16.0;

struct Curve {
    name: &'static str,
    stroke: Stroke,
    value: fn(&State) -> f64,
}

/// A stretch ready to draw.
struct Column<'a> {
    states: Vec<&'a State>,
    upper: Panel,
    lower: Panel,
    flags: Flags,
    zero_s: f64,
    unit_s: f64,
}

/// Draws the figure; `None` without a time series.
pub(super) fn figure(outcome: &Outcome) -> Result<Option<Figure>, PlotError> {
    let (first, last) = extent(outcome.series.iter().map(|s| s.time_s)).unwrap_or((0.0, 0.0));
    if outcome.series.len() < 2 || last <= first {
        return Ok(None);
    }
    let excerpt = excerpt(outcome);
    let (first, last) = excerpt
        .as_ref()
        .map_or((first, last), |e| (e.from_s, e.to_s));
    let note = excerpt
        .map(|e| format!(" ({})", e.text))
        .unwrap_or_default();
    let title = "Temperature and deflection against time".to_owned();
    let raw = sheet(|canvas| {
        canvas.header(&title, &format!("{}{note}", outcome.scenario))?;
        let columns = columns(canvas, outcome, &stretches(outcome, first, last));
        for (k, column) in columns.iter().enumerate() {
            column.upper.draw(canvas, false, k == 0)?;
            column.lower.draw(canvas, true, k == 0)?;
            column
                .flags
                .draw(canvas, column.upper.frame.top, column.lower.frame.bottom)?;
            let bar = (
                column.upper.frame.bottom + GAP,
                column.lower.frame.top - GAP,
            );
            contact_bar::draw(canvas, &column.states, bar, |t| column.across(t))?;
        }
        temperatures(canvas, outcome, &columns)?;
        deflection(canvas, outcome, &columns)
    })?;
    vector::finish("time_course", title, description(outcome, &note), &raw).map(Some)
}

fn description(outcome: &Outcome, note: &str) -> String {
    let trip = match finite(outcome.trip.time_s()) {
        Some(t) => format!("It releases {} after the load starts.", duration(t, 3)),
        None => "It does not release.".to_owned(),
    };
    format!(
        "Upper panel: temperatures of the protector against time. Lower panel: deflection at the \
         push point against time with the deflections of release and relatch{note}. {trip}"
    )
}

fn curves(outcome: &Outcome) -> Vec<Curve> {
    let curve = |name, stroke, value| Curve {
        name,
        stroke,
        value,
    };
    let mut list = vec![
        curve("hottest point", stroke(EMBER, 6, SOLID), |s: &State| {
            s.strip_peak_c
        }),
        curve("strip mean", stroke(LAKE, 5, DASHED), |s| s.strip_mean_c),
        curve("moving contact", stroke(MOSS, 4, DASH_DOT), |s| {
            s.moving_contact_c
        }),
        curve("clamped terminal", stroke(CLAY, 4, LONG), |s| {
            s.clamped_terminal_c
        }),
        curve("air", stroke(QUIET, 4, DOTTED), |s| s.ambient_c),
    ];
    if outcome.series.iter().any(|s| s.winding_c.is_some()) {
        let value = |s: &State| s.winding_c.unwrap_or(f64::NAN);
        list.push(curve("winding", stroke(PLUM, 5, SOLID), value));
    }
    if outcome.series.iter().any(|s| s.housing_c.is_some()) {
        let value = |s: &State| s.housing_c.unwrap_or(f64::NAN);
        list.push(curve("housing air", stroke(INK, 4, DOTTED), value));
    }
    list
}

fn columns<'a>(
    canvas: &Canvas<'_>,
    outcome: &'a Outcome,
    stretches: &[Stretch],
) -> Vec<Column<'a>> {
    let curves = curves(outcome);
    let temperatures = outcome
        .series
        .iter()
        .flat_map(|s| curves.iter().map(move |c| (c.value)(s)));
    let upper_axis = Axis::airy("Temperature, °C", temperatures, 8, 0.12);
    let part = &outcome.part;
    let levels = [release_line(part), part.relatch_travel_mm, Some(0.0)];
    let deflections = outcome.series.iter().map(|s| s.tip_deflection_mm);
    let lower_axis = Axis::around(
        if part.is_latch() {
            "Deflection, mm"
        } else {
            "Rise of the blade, mm"
        },
        deflections.chain(levels.into_iter().flatten()),
        7,
    );

    let mut columns: Vec<Column<'a>> = stretches
        .iter()
        .map(|stretch| {
            let span = stretch.to_s - stretch.from_s;
            let (unit_s, unit) = time_unit(span);
            let x = Axis::linear(
                format!("{}, {unit}", stretch.title),
                (stretch.from_s - stretch.zero_s) / unit_s,
                (stretch.to_s - stretch.zero_s) / unit_s,
                (6.0 * (stretch.right - stretch.left) / 1000.0) as usize,
            );
            let frame = Area {
                left: stretch.left,
                top: TOP,
                right: stretch.right,
                bottom: BOTTOM,
            };
            let panel = |y: &Axis| Panel {
                frame,
                x: x.clone(),
                y: y.clone(),
            };
            let inside = |s: &&State| s.time_s >= stretch.from_s && s.time_s <= stretch.to_s;
            let upper = panel(&upper_axis);
            let across = |t: f64| upper.across((t - stretch.zero_s) / unit_s);
            let flags = moments(
                outcome,
                (stretch.from_s, stretch.to_s),
                stretch.zero_s,
                across,
            );
            Column {
                states: outcome.series.iter().filter(inside).collect(),
                flags: Flags::place(canvas, flags, stretch.left - 40.0, stretch.right + 40.0),
                lower: panel(&lower_axis),
                upper,
                zero_s: stretch.zero_s,
                unit_s,
            }
        })
        .collect();

    let top = TOP + columns.iter().map(|c| c.flags.height()).fold(0.0, f64::max);
    let height = BOTTOM - top - BAR - 2.0 * GAP;
    for column in &mut columns {
        column.upper.frame.top = top;
        column.upper.frame.bottom = top + UPPER_SHARE * height;
        column.lower.frame.top = column.upper.frame.bottom + BAR + 2.0 * GAP;
    }
    columns
}

impl Column<'_> {
    fn across(&self, time_s: f64) -> f64 {
        self.upper.across((time_s - self.zero_s) / self.unit_s)
    }

    fn line(&self, panel: &Panel, value: impl Fn(&State) -> f64) -> Vec<Point> {
        self.states
            .iter()
            .map(|s| (self.across(s.time_s), panel.up(value(s))))
            .collect()
    }
}

/// The pieces of one curve over all columns, with a break between them.
fn joined(pieces: Vec<Vec<Point>>) -> Vec<Point> {
    pieces.join(&(f64::NAN, f64::NAN))
}

fn temperatures(
    canvas: &Canvas<'_>,
    outcome: &Outcome,
    columns: &[Column<'_>],
) -> Result<(), PlotError> {
    let rooms: Vec<Area> = columns.iter().map(|c| c.upper.frame).collect();
    let mut labels = Labels::inside(&rooms);
    let curves = curves(outcome);
    let mut numbers = Vec::new();
    for curve in &curves {
        let points = joined(
            columns
                .iter()
                .map(|c| c.line(&c.upper, curve.value))
                .collect(),
        );
        canvas.line(&points, curve.stroke)?;
        numbers.push(labels.curve(&points));
    }
    for column in columns {
        for pole in column
            .flags
            .poles(column.upper.frame.top, column.upper.frame.bottom)
        {
            labels.helper(&pole);
        }
    }
    for (curve, number) in curves.iter().zip(numbers) {
        labels.beside(canvas, number, curve.name, curve.stroke.colour)?;
    }
    Ok(())
}

fn deflection(
    canvas: &Canvas<'_>,
    outcome: &Outcome,
    columns: &[Column<'_>],
) -> Result<(), PlotError> {
    let rooms: Vec<Area> = columns.iter().map(|c| c.lower.frame).collect();
    let mut labels = Labels::inside(&rooms);
    let points = joined(
        columns
            .iter()
            .map(|c| c.line(&c.lower, |s| s.tip_deflection_mm))
            .collect(),
    );
    labels.curve(&points);
    for column in columns {
        for pole in column
            .flags
            .poles(column.lower.frame.top, column.lower.frame.bottom)
        {
            labels.helper(&pole);
        }
    }
    let part = &outcome.part;
    let levels: [(&str, Option<f64>, RGBColor, Dash); 2] = [
        ("release", release_line(part), EMBER, DASHED),
        ("relatch", part.relatch_travel_mm, MOSS, DASH_DOT),
    ];
    let mut named = Vec::new();
    for (name, value, colour, dash) in levels {
        let Some(value) = finite(value) else { continue };
        let across = |c: &Column<'_>| {
            let up = c.lower.up(value);
            vec![(c.lower.frame.left, up), (c.lower.frame.right, up)]
        };
        let line = joined(columns.iter().map(across).collect());
        canvas.line(&line, stroke(colour, 4, dash))?;
        let text = format!("{name} at {} mm", significant(value, 3));
        named.push((labels.helper(&line), text, colour));
    }
    canvas.line(&points, stroke(LAKE, 6, SOLID))?;
    for (number, text, colour) in named {
        labels.beside(canvas, number, &text, colour)?;
    }
    Ok(())
}

/// Deflection at which a latch releases; a snap blade has no such line.
fn release_line(part: &Part) -> Option<f64> {
    (part.is_latch()).then_some(part.release_deflection_mm)
}
