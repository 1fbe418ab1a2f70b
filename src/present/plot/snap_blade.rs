//! Why a blade snaps: its energy at a few temperatures, and the rises at which it can stand.

use super::area::{Area, Point};
use super::axis::Axis;
use super::canvas::{Anchor, Canvas, sheet};
use super::label::Labels;
use super::panel::Panel;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::predict::{BranchPoint, Outcome, SnapPicture};
use crate::present::number::celsius;

const LEFT_FRAME: Area = Area {
    left: 230.0,
    top: 250.0,
    right: 1130.0,
    bottom: 1350.0,
};
const RIGHT_FRAME: Area = Area {
    left: 1420.0,
    right: 2330.0,
    ..LEFT_FRAME
};
const STROKES: [Stroke; 4] = [
    stroke(LAKE, 6, SOLID),
    stroke(MOSS, 6, DASH_DOT),
    stroke(PLUM, 6, LONG),
    stroke(EMBER, 7, DASHED),
];

/// Draws the figure; `None` for a latch.
pub(super) fn figure(outcome: &Outcome) -> Result<Option<Figure>, PlotError> {
    let Some(snap) = outcome.snap.as_ref().filter(|s| s.branches.len() > 2) else {
        return Ok(None);
    };
    let title = "Why the blade snaps".to_owned();
    let raw = sheet(|canvas| {
        let note = "all of it at one temperature, no current";
        canvas.header(&title, &format!("{} ({note})", outcome.scenario))?;
        energy(canvas, snap)?;
        branches(canvas, snap)
    })?;
    let back = match snap.reset_temperature_c {
        Some(t) => format!("and back at {}", celsius(Some(t), 0)),
        None => "and does not snap back by cooling".to_owned(),
    };
    let description = format!(
        "Left: elastic energy against the rise of the blade; a dot marks a rise at which it stands. \
         Warming lifts the valley on the side of the closed contacts until it is gone. Right: the rises \
         at which it can stand against temperature; it snaps through at {} {back}.",
        celsius(Some(snap.trip_temperature_c), 0)
    );
    vector::finish("snap_blade", title, description, &raw).map(Some)
}

fn caption(canvas: &Canvas<'_>, frame: Area, text: &str) -> Result<(), PlotError> {
    let at = (frame.left, frame.top - 34.0);
    canvas.bold(text, at, BODY, INK, Anchor::Left)
}

fn energy(canvas: &Canvas<'_>, snap: &SnapPicture) -> Result<(), PlotError> {
    caption(
        canvas,
        LEFT_FRAME,
        "Energy: a dot lies where the blade stands",
    )?;
    let curves: Vec<_> = snap.energy.iter().take(STROKES.len()).collect();
    let rises = curves.iter().flat_map(|c| c.rise_mm.iter().copied());
    // What matters lies between the lowest valley and a little above the highest pass.
    let lowest = curves
        .iter()
        .flat_map(|c| c.energy_mj.iter().copied())
        .filter(|e| e.is_finite())
        .fold(0.0, f64::min);
    let panel = Panel {
        frame: LEFT_FRAME,
        x: Axis::airy("Rise at mid span, mm", rises, 6, 0.0),
        y: Axis::linear(
            "Energy above the flat blade, mJ",
            1.12 * lowest,
            -0.75 * lowest,
            6,
        ),
    };
    panel.draw(canvas, true, true)?;
    panel.upright(canvas, 0.0, stroke(QUIET, 3, SOLID))?;
    let mut labels = Labels::inside(&[LEFT_FRAME]);
    let mut named = Vec::new();
    for (curve, stroke) in curves.iter().zip(STROKES) {
        let inside = |e: f64| if panel.y.contains(e) { e } else { f64::NAN };
        let data: Vec<(f64, f64)> = curve
            .rise_mm
            .iter()
            .copied()
            .zip(curve.energy_mj.iter().map(|e| inside(*e)))
            .collect();
        let points = panel.map(&data);
        canvas.line(&points, stroke)?;
        let text = format!(
            "{}, {}",
            crate::present::words::blade_moment(curve.moment),
            celsius(Some(curve.temperature_c), 0)
        );
        named.push((labels.curve(&points), text, stroke.colour));
        for rise in &curve.stands_at_mm {
            let nearest = data
                .iter()
                .filter(|p| p.1.is_finite())
                .min_by(|a, b| (a.0 - rise).abs().total_cmp(&(b.0 - rise).abs()));
            if let Some((x, y)) = nearest {
                let at = panel.at(*x, *y);
                let at = (at.0, at.1 - 14.0);
                canvas.disc(at, 15, stroke.colour)?;
                labels.block(around(at, 22.0));
            }
        }
    }
    for (number, text, colour) in named {
        labels.beside(canvas, number, &text, colour)?;
    }
    Ok(())
}

fn around(at: Point, by: f64) -> Area {
    Area {
        left: at.0 - by,
        top: at.1 - by,
        right: at.0 + by,
        bottom: at.1 + by,
    }
}

fn branches(canvas: &Canvas<'_>, snap: &SnapPicture) -> Result<(), PlotError> {
    caption(canvas, RIGHT_FRAME, "Hysteresis: where it can stand")?;
    let points = &snap.branches;
    let rises = points
        .iter()
        .flat_map(|p| [p.closed_mm, p.unstable_mm, p.snapped_mm])
        .flatten();
    let panel = Panel {
        frame: RIGHT_FRAME,
        x: Axis::airy(
            "Temperature, °C",
            points.iter().map(|p| p.temperature_c),
            6,
            0.02,
        ),
        y: Axis::airy("Rise at mid span, mm", rises, 6, 0.10),
    };
    panel.draw(canvas, true, true)?;
    panel.level(canvas, 0.0, stroke(QUIET, 3, SOLID))?;
    let mut labels = Labels::inside(&[RIGHT_FRAME]);
    let line = |of: fn(&BranchPoint) -> Option<f64>| -> Vec<Point> {
        let data: Vec<(f64, f64)> = points
            .iter()
            .map(|p| (p.temperature_c, of(p).unwrap_or(f64::NAN)))
            .collect();
        panel.map(&data)
    };
    let named = [
        (
            "contacts closed",
            line(|p| p.closed_mm),
            stroke(LAKE, 7, SOLID),
        ),
        ("topples", line(|p| p.unstable_mm), stroke(QUIET, 5, DOTTED)),
        (
            "snapped: contacts open",
            line(|p| p.snapped_mm),
            stroke(MOSS, 7, LONG),
        ),
    ]
    .map(|(name, line, stroke)| (labels.curve(&line), name, line, stroke));
    for (_, _, line, stroke) in &named {
        canvas.line(line, *stroke)?;
    }
    let trip = snap.trip_temperature_c;
    let jumps = [
        (Some(trip), 1.0, "snaps through", stroke(EMBER, 5, DASHED)),
        (
            snap.reset_temperature_c,
            -1.0,
            "snaps back",
            stroke(PLUM, 5, DASH_DOT),
        ),
    ];
    let mut poles = Vec::new();
    for (at, down, name, stroke) in jumps {
        let Some(at) = at else { continue };
        if let Some((from, to)) = jump(points, at, down > 0.0) {
            let (from, to) = (panel.at(at, from), panel.at(at, to));
            canvas.line(&[from, (to.0, to.1 - 24.0 * down)], stroke)?;
            let tip = to.1 - 2.0 * down;
            let base = tip - 30.0 * down;
            let head = [(to.0, tip), (to.0 - 14.0, base), (to.0 + 14.0, base)];
            canvas.polygon(&head, stroke.colour)?;
            let text = format!("{name} at {}", celsius(Some(at), 0));
            poles.push((labels.curve(&[from, to]), text, stroke.colour));
        }
    }
    for (number, text, colour) in poles {
        labels.beside(canvas, number, &text, colour)?;
    }
    for (number, name, _, stroke) in &named {
        labels.beside(canvas, *number, name, stroke.colour)?;
    }
    Ok(())
}

/// From where to where it jumps at a temperature.
fn jump(points: &[BranchPoint], at: f64, through: bool) -> Option<(f64, f64)> {
    let near = |of: fn(&BranchPoint) -> Option<f64>| {
        points
            .iter()
            .filter_map(|p| of(p).map(|v| ((p.temperature_c - at).abs(), v)))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, v)| v)
    };
    let (closed, snapped) = (near(|p| p.closed_mm)?, near(|p| p.snapped_mm)?);
    Some(if through {
        (closed, snapped)
    } else {
        (snapped, closed)
    })
}
