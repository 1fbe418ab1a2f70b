//! Which tolerance moves the trip point: one bar an input, the longest at the top.

use super::area::Area;
use super::axis::Axis;
use super::canvas::{Anchor, Canvas, sheet};
use super::panel::Panel;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::present::number::{plain, significant};
use crate::study::population::{TornadoRecord, VaryOutcome};
use plotters::style::Color;

/// Bars drawn.
const MOST: usize = 12;
const LEFT: f64 = 760.0;
const RIGHT: f64 = 2290.0;
const TOP: f64 = 240.0;
const BOTTOM: f64 = 1330.0;

/// Draws the figure; `None` where nothing moves the trip point.
pub(super) fn figure(outcome: &VaryOutcome) -> Result<Option<Figure>, PlotError> {
    let bars: Vec<(&TornadoRecord, [f64; 2])> = outcome
        .tornado
        .iter()
        .filter_map(|t| match t.trip_points_a {
            [Some(a), Some(b)] => Some((t, [a, b])),
            _ => None,
        })
        .take(MOST)
        .collect();
    let Some(nominal) = outcome.tornado_middle_a else {
        return Ok(None);
    };
    if bars.is_empty() {
        return Ok(None);
    }
    let title = "Which tolerance moves the trip point".to_owned();
    let raw = sheet(|canvas| {
        canvas.header(
            &title,
            &format!(
                "{}: each input from its 5 % to its 95 % point, all others in their middle",
                outcome.scenario
            ),
        )?;
        draw(canvas, outcome, &bars, nominal)
    })?;
    let most = bars.first().map_or(String::new(), |(t, _)| {
        format!(" The longest is {}.", t.path)
    });
    let description = format!(
        "One bar for each of {} inputs: the trip point when that input stands at its 5 % point (filled) and at its \
         95 % point (hollow).{most}",
        bars.len()
    );
    vector::finish("tornado", title, description, &raw).map(Some)
}

fn draw(
    canvas: &Canvas<'_>,
    outcome: &VaryOutcome,
    bars: &[(&TornadoRecord, [f64; 2])],
    nominal: f64,
) -> Result<(), PlotError> {
    let values = bars
        .iter()
        .flat_map(|(_, ends)| ends.iter().copied())
        .chain([nominal]);
    let panel = Panel {
        frame: Area {
            left: LEFT,
            top: TOP,
            right: RIGHT,
            bottom: BOTTOM,
        },
        x: Axis::airy("Trip point, A", values, 7, 0.16),
        y: Axis::linear("", 0.0, bars.len() as f64, 1),
    };
    let mut panel = panel;
    panel.y.ticks.clear();
    panel.draw(canvas, true, false)?;
    let pitch = (BOTTOM - TOP) / bars.len() as f64;
    let half = (0.30 * pitch).min(34.0);
    for (k, (bar, ends)) in bars.iter().enumerate() {
        let y = TOP + (k as f64 + 0.5) * pitch;
        let name = canvas.shortened(&bar.path, BODY, LEFT - 110.0);
        canvas.text(&name, (LEFT - 24.0, y), BODY, INK, Anchor::Right)?;
        let middle = panel.across(nominal);
        let x = ends.map(|v| panel.across(v));
        let area = |end: f64| Area {
            left: middle.min(end),
            top: y - half,
            right: middle.max(end),
            bottom: y + half,
        };
        canvas.rectangle(area(x[0]), LAKE.filled())?;
        canvas.rectangle(area(x[1]), PAPER.filled())?;
        outline(canvas, area(x[1]))?;
        // Both ends on one side happen where an input acts through its square: the texts then share a side.
        let same_side = (x[0] - middle) * (x[1] - middle) > 0.0;
        for (n, (end, text)) in x.iter().zip(&bar.ends).enumerate() {
            let outwards = if *end == middle {
                if n == 0 { -1.0 } else { 1.0 }
            } else {
                (end - middle).signum()
            };
            let (anchor, offset) = if outwards < 0.0 {
                (Anchor::Right, -16.0)
            } else {
                (Anchor::Left, 16.0)
            };
            if same_side && n == 0 {
                continue;
            }
            let colour = if n == 0 { LAKE } else { EMBER };
            canvas.text(text, (end + offset, y), SMALL, colour, anchor)?;
        }
    }
    panel.upright(canvas, nominal, stroke(INK, 3, SOLID))?;
    let text = format!("all in their middle: {} A", significant(nominal, 4));
    canvas.text(
        &text,
        (panel.across(nominal), TOP - 30.0),
        BODY,
        INK,
        Anchor::Centre,
    )?;
    key(canvas, outcome)
}

/// A hollow bar.
fn outline(canvas: &Canvas<'_>, area: Area) -> Result<(), PlotError> {
    let Area {
        left,
        top,
        right,
        bottom,
    } = area;
    let corners = [
        (left, top),
        (right, top),
        (right, bottom),
        (left, bottom),
        (left, top),
    ];
    canvas.line(&corners, stroke(EMBER, 6, SOLID))
}

fn key(canvas: &Canvas<'_>, outcome: &VaryOutcome) -> Result<(), PlotError> {
    let y = BOTTOM + 140.0;
    let square = |x: f64| Area {
        left: x,
        top: y - 16.0,
        right: x + 60.0,
        bottom: y + 16.0,
    };
    canvas.rectangle(square(120.0), LAKE.filled())?;
    canvas.text(
        "input at its 5 % point",
        (200.0, y),
        SMALL,
        INK,
        Anchor::Left,
    )?;
    outline(canvas, square(620.0))?;
    let air = plain(outcome.ambient_c);
    canvas.text(
        &format!("input at its 95 % point; air {air} °C"),
        (700.0, y),
        SMALL,
        INK,
        Anchor::Left,
    )
}
