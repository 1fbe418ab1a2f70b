//! A blade or a disc that snaps, and beside it where it can stand.

use super::super::area::Area;
use super::super::axis::{Axis, extent};
use super::super::canvas::{Anchor, Canvas};
use super::super::moving::animation::Times;
use super::super::plane::Plane;
use super::super::snap::snapping;
use super::super::strip_drawing::{Place, draw, enlarged, scale_words};
use super::super::style::*;
use super::case::case;
use super::{Part, Reel};
use crate::predict::{BranchPoint, Film, Frame, Outcome, Shape, SnapPicture};
use crate::present::chart::Shape as Mark;
use crate::present::number::{duration, significant};
use crate::present::words::mechanism as say;
use std::sync::Arc;

/// Height of the sheet, the case, and the panel of the fold.
const HEIGHT: i32 = 960;
const INSIDE: Area = Area::new(110.0, 290.0, 1390.0, 860.0);
const PANEL: Area = Area::new(1620.0, 290.0, 2340.0, 800.0);
/// Its length.
const LENGTH: f64 = 1080.0;
/// Time one picture is shown, and how long one that matters stands, hundredths of a second.
const SHOWN_CS: u32 = 8;
const STANDS_CS: u32 = 120;
/// Pictures of a snap.
const SLOW: usize = 16;

/// One frame.
struct Moment {
    shape: Shape,
    /// Mean temperature, degC, and rise, mm.
    at: (f64, f64),
    is_open: bool,
    clock: String,
    words: String,
    for_cs: u32,
}

/// The film of what snaps over and back.
pub(in crate::present::plot) fn reel<'a>(outcome: &'a Outcome, film: &'a Film) -> Option<Reel<'a>> {
    let snap = snapping(outcome)?;
    let moments = moments(outcome, film)?;
    let heights = moments.iter().flat_map(|m| m.shape.y_mm.iter().copied());
    let (low, high) = extent(heights.chain([0.0])).unwrap_or((0.0, 1.0));
    let units_per_mm = LENGTH / outcome.part.length_mm.max(1e-6);
    let times = enlarged(high - low, units_per_mm, 120.0, 300.0);
    let middle = INSIDE.middle().1;
    let place = Place {
        origin: (
            INSIDE.middle().0 - 0.5 * LENGTH,
            middle + 0.5 * (high + low) * units_per_mm * times,
        ),
        units_per_mm,
        times,
    };
    let panel = Arc::new(fold_panel(snap, &moments));
    let clock = Times {
        for_cs: moments.iter().map(|m| m.for_cs).collect(),
        still: film.heating.len(),
        is_alone: true,
    };
    let first = moments.first()?;
    let (closed_mm, length_mm) = (first.at.1, outcome.part.length_mm);
    let moments = Arc::new(moments);
    let place = Arc::new(place);
    let mut parts: Vec<Part<'a>> = Vec::new();
    let (own, on) = (moments.clone(), place.clone());
    parts.push(Box::new(move |canvas, n| {
        draw(canvas, &on, outcome, &own[n].shape, false)
    }));
    let (own, on) = (moments.clone(), place.clone());
    parts.push(Box::new(move |canvas, n| {
        let half_mm = 0.5 * outcome.part.thickness_mm * closed_mm.signum();
        let now = &own[n];
        let rise_mm = if now.is_open { closed_mm } else { now.at.1 };
        contacts(
            canvas,
            &on,
            (0.5 * length_mm, rise_mm + half_mm),
            now.at.1 + half_mm,
        );
    }));
    let (own, on) = (moments.clone(), panel.clone());
    parts.push(Box::new(move |canvas, n| {
        let (celsius, rise_mm) = own[n].at;
        let at = on.at(celsius.clamp(on.x.low, on.x.high), rise_mm);
        canvas.disc(at, 17, EMBER);
    }));
    let own = moments.clone();
    parts.push(Box::new(move |canvas, n| {
        let colour = if own[n].is_open { EMBER } else { INK };
        canvas.text(
            &own[n].words,
            (INSIDE.left, 240.0),
            BODY,
            colour,
            Anchor::Left,
        );
    }));
    let own = moments;
    parts.push(Box::new(move |canvas, n| {
        canvas.bold(&own[n].clock, (INSIDE.left, 196.0), BODY, INK, Anchor::Left);
    }));
    let below = move |canvas: &mut Canvas| {
        case(canvas, INSIDE, (middle, middle));
        for x in [0.0, length_mm] {
            Mark::Hinge.draw(canvas, place.at(x, 0.0), QUIET);
        }
        fold(canvas, &panel, snap);
        for (k, line) in say::snap_sketched().iter().enumerate() {
            let at = (INSIDE.left, f64::from(HEIGHT) - 62.0 + 36.0 * k as f64);
            canvas.text(line, at, SMALL, QUIET, Anchor::Left);
        }
    };
    Some(Reel {
        height: HEIGHT,
        subtitle: say!(
            "Contacts, supports and case sketched; {}",
            scale_words(times)
        ),
        below: Box::new(below),
        parts,
        times: clock,
        description: say::snap_description(&outcome.scenario),
    })
}

fn moments(outcome: &Outcome, film: &Film) -> Option<Vec<Moment>> {
    let trip_s = outcome.trip.time_s().filter(|t| *t > 0.0)?;
    let opened_s = outcome.trip.clearing_time_s()?;
    let mm = |v: f64| format!("{} mm", significant(v, 3));
    let mut list: Vec<Moment> = Vec::new();
    for frame in &film.heating {
        let clock = say::under_load(&duration(frame.state.time_s, 3));
        let words = say::snap_bends(&mm(frame.state.tip_deflection_mm));
        list.push(shown(frame, false, [clock, words]));
    }
    let (from, to) = (film.heating.last()?, film.cooling.first()?);
    list.extend(snap(
        (&from.shape, &to.shape),
        (
            from.state.strip_mean_c,
            from.state.tip_deflection_mm,
            to.state.tip_deflection_mm,
        ),
        [false, true],
        [
            say::under_load(&duration(trip_s, 3)),
            say::snap_snaps(&duration(trip_s, 3)),
        ],
    ));
    for frame in &film.cooling {
        let since_s = (frame.state.time_s - opened_s).max(0.0);
        let clock = say::since_opening(&duration(since_s, 3));
        let words = say::snap_cools(&mm(frame.state.tip_deflection_mm));
        list.push(shown(frame, true, [clock, words]));
    }
    if let (Some(wait), true) = (
        outcome.reset.relatch_wait.time_s(),
        outcome.part.resets_itself(),
    ) {
        let (end, start) = (film.cooling.last()?, film.heating.first()?);
        let celsius = end.state.strip_mean_c;
        // The cold shape, as high as it stands at this temperature.
        let closed_mm = closed_at(outcome, celsius)?;
        let share = closed_mm / start.state.tip_deflection_mm;
        let mut shape = start.shape.clone();
        shape.y_mm.iter_mut().for_each(|y| *y *= share);
        let rises = (celsius, end.state.tip_deflection_mm, closed_mm);
        let back = say::snap_back(&duration(wait, 3));
        let clock = say::since_opening(&duration(wait, 3));
        list.extend(snap(
            (&end.shape, &shape),
            rises,
            [true, true],
            [clock, back],
        ));
        if let Some(closed) = list.last_mut() {
            closed.is_open = false;
        }
    }
    if let Some(last) = list.last_mut() {
        last.for_cs = STANDS_CS;
    }
    Some(list)
}

/// A frame of the film as it is.
fn shown(frame: &Frame, is_open: bool, [clock, words]: [String; 2]) -> Moment {
    Moment {
        shape: frame.shape.clone(),
        at: (frame.state.strip_mean_c, frame.state.tip_deflection_mm),
        is_open,
        clock,
        words,
        for_cs: SHOWN_CS,
    }
}

/// The rise at which it stands with closed contacts, where its temperature is nearest to this, mm.
fn closed_at(outcome: &Outcome, celsius: f64) -> Option<f64> {
    let points = outcome.snap.iter().flat_map(|snap| &snap.branches);
    let closed = points.filter_map(|p| Some((p.temperature_c, p.closed_mm?)));
    let away = |p: &(f64, f64)| (p.0 - celsius).abs();
    closed
        .min_by(|a, b| away(a).total_cmp(&away(b)))
        .map(|p| p.1)
}

/// From one shape to another; between them it is a sketch, because it takes milliseconds.
fn snap(
    (from, to): (&Shape, &Shape),
    (celsius, start_mm, end_mm): (f64, f64, f64),
    is_open: [bool; 2],
    [clock, words]: [String; 2],
) -> Vec<Moment> {
    let moment = |k: usize| {
        let share = k as f64 / SLOW as f64;
        let eased = share * share * (3.0 - 2.0 * share);
        let between = |a: f64, b: f64| a + eased * (b - a);
        let y_mm = from.y_mm.iter().zip(&to.y_mm).map(|(a, b)| between(*a, *b));
        Moment {
            shape: Shape {
                y_mm: y_mm.collect(),
                ..from.clone()
            },
            at: (celsius, between(start_mm, end_mm)),
            is_open: is_open[usize::from(k > 0)],
            clock: clock.clone(),
            words: words.clone(),
            for_cs: if k == 0 { STANDS_CS } else { SHOWN_CS },
        }
    };
    (0..=SLOW).map(moment).collect()
}

/// The moving contact in the middle, the fixed one on a leaf that follows while they touch.
fn contacts(canvas: &mut Canvas, place: &Place, (x_mm, fixed_mm): (f64, f64), moving_mm: f64) {
    let (fixed, moving) = (place.at(x_mm, fixed_mm), place.at(x_mm, moving_mm));
    let side = if fixed_mm > 0.0 { -1.0 } else { 1.0 };
    canvas.disc((moving.0, moving.1 + side * 12.0), 18, MOSS);
    let pad = (fixed.0, fixed.1 + side * 48.0);
    canvas.disc(pad, 18, MOSS);
    let end = (INSIDE.right, pad.1 + side * 20.0);
    canvas.line(&[(pad.0, pad.1 + side * 20.0), end], stroke(INK, 8, SOLID));
}

fn fold_panel(snap: &SnapPicture, moments: &[Moment]) -> Plane {
    let points = &snap.branches;
    let rises = points
        .iter()
        .flat_map(|p| [p.closed_mm, p.unstable_mm, p.snapped_mm]);
    let rises = rises.flatten().chain(moments.iter().map(|m| m.at.1));
    let temperatures = points.iter().map(|p| p.temperature_c);
    let (low, high) = extent(rises).unwrap_or((-1.0, 1.0));
    let x = Axis::airy(word!("Temperature, °C"), temperatures, 4, 0.02);
    let y = Axis::airy(say::snap_rise(), [low, high].into_iter(), 5, 0.10);
    Plane::new(PANEL, &x, &y)
}

/// A height at which it can stand, and its line.
type Branch = (fn(&BranchPoint) -> Option<f64>, Stroke);

/// Where it can stand against its temperature.
fn fold(canvas: &mut Canvas, panel: &Plane, snap: &SnapPicture) {
    panel.draw(canvas, true, true);
    let line = |of: fn(&BranchPoint) -> Option<f64>| -> Vec<(f64, f64)> {
        let at = |p: &BranchPoint| (p.temperature_c, of(p).unwrap_or(f64::NAN));
        panel.map(&snap.branches.iter().map(at).collect::<Vec<_>>())
    };
    let branches: [Branch; 3] = [
        (|p| p.closed_mm, stroke(LAKE, 7, SOLID)),
        (|p| p.unstable_mm, stroke(QUIET, 5, DOTTED)),
        (|p| p.snapped_mm, stroke(MOSS, 7, LONG)),
    ];
    let tops = (0..3).map(|k| PANEL.top - 88.0 + 32.0 * f64::from(k));
    for (((of, stroke), name), y) in branches.into_iter().zip(say::snap_branches()).zip(tops) {
        canvas.line(&line(of), stroke);
        canvas.line(&[(PANEL.left, y), (PANEL.left + 70.0, y)], stroke);
        canvas.text(
            name,
            (PANEL.left + 84.0, y),
            SMALL,
            stroke.colour,
            Anchor::Left,
        );
    }
}
