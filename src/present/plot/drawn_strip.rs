//! The strip drawn to scale, cold and bent, with its layers.

use super::area::Area;
use super::axis::extent;
use super::canvas::{Anchor, Canvas, sheet};
use super::label::Labels;
use super::strip_drawing::{Place, draw, enlarged, latch, layer_colour, scale_words, supports};
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::predict::{Outcome, Shape};
use crate::present::number::{celsius, finite, plain, significant};
use crate::present::words;
use plotters::style::Color;

const ROOM: Area = Area {
    left: 60.0,
    top: 180.0,
    right: 2340.0,
    bottom: 960.0,
};
const LEFT: f64 = 230.0;
const LENGTH: f64 = 1840.0;
/// The enlarged section.
const SECTION: Area = Area {
    left: 230.0,
    top: 1070.0,
    right: 740.0,
    bottom: 1420.0,
};

/// Draws the figure; `None` without shapes or layers.
pub(super) fn figure(outcome: &Outcome) -> Result<Option<Figure>, PlotError> {
    let part = &outcome.part;
    let drawable = |s: &&Shape| s.x_mm.len() > 4 && s.x_mm.len() == s.y_mm.len();
    let cold = outcome.shapes.iter().find(drawable);
    let at_release = |s: &&Shape| drawable(s) && s.moment == crate::predict::Moment::Release;
    let bent = outcome
        .shapes
        .iter()
        .find(at_release)
        .or(outcome.shapes.iter().rfind(drawable));
    let (Some(cold), Some(bent)) = (cold, bent) else {
        return Ok(None);
    };
    if part.layer_thicknesses_mm.is_empty() || !(part.length_mm > 0.0) {
        return Ok(None);
    }
    let heights = || cold.y_mm.iter().chain(&bent.y_mm).copied();
    let (low, high) = extent(heights()).unwrap_or((0.0, 1.0));
    let units_per_mm = LENGTH / part.length_mm;
    let span = high - low;
    let times = enlarged(span, units_per_mm, 60.0, 520.0);
    let middle = 0.5 * (ROOM.top + ROOM.bottom);
    let place = Place {
        origin: (LEFT, middle + 0.5 * (high + low) * units_per_mm * times),
        units_per_mm,
        times,
    };
    let title = "The strip, cold and bent".to_owned();
    let level = finite(Some(part.release_deflection_mm)).filter(|_| part.is_latch());
    let raw = sheet(|canvas| {
        let sketched = if level.is_some() {
            "; latch and spring sketched"
        } else {
            ""
        };
        let note = format!("{}{sketched}", scale_words(times));
        canvas.header(&title, &format!("{} ({note})", outcome.scenario))?;
        supports(canvas, &place, outcome)?;
        draw(canvas, &place, outcome, cold, true)?;
        draw(canvas, &place, outcome, bent, false)?;
        let mut labels = Labels::inside(&[ROOM]);
        let line = |s: &Shape| {
            let points = s.x_mm.iter().zip(&s.y_mm);
            points.map(|(x, y)| place.at(*x, *y)).collect::<Vec<_>>()
        };
        let half = 0.5 * part.thickness_mm * units_per_mm * times;
        for points in [line(cold), line(bent)] {
            for shift in [-half, 0.0, half] {
                let edge: Vec<_> = points.iter().map(|p| (p.0, p.1 + shift)).collect();
                labels.curve(&edge);
            }
        }
        let peak = |s: &Shape| extent(s.temperature_c.iter().copied()).map(|(_, high)| high);
        if let Some(y) = level {
            let from = place.at(0.55 * part.push_point_mm, y);
            let to = place.at(part.push_point_mm, y);
            let to = (to.0 + 120.0, to.1);
            canvas.line(&[from, to], stroke(INK, 3, DASHED))?;
            let helper = labels.helper(&[from, to]);
            let text = format!("releases at {} mm", significant(y, 3));
            let is_released = bent.moment == crate::predict::Moment::Release;
            labels.block(latch(canvas, &place, part, is_released)?);
            labels.beside(canvas, helper, &text, INK)?;
        }
        let warm = |s: &Shape| celsius(peak(s), 0);
        let names = [
            (
                cold,
                format!("{}: {}", words::moment(cold.moment), warm(cold)),
                QUIET,
            ),
            (
                bent,
                format!(
                    "{}: hottest point {}",
                    words::moment(bent.moment),
                    warm(bent)
                ),
                EMBER,
            ),
        ];
        for (shape, text, colour) in names {
            let points = line(shape);
            let near = if part.is_latch() {
                3 * points.len() / 4
            } else {
                points.len() / 3
            };
            if let Some(at) = points.get(near) {
                let above = shape.y_mm[near] >= 0.5 * (cold.y_mm[near] + bent.y_mm[near]);
                let at = (at.0, at.1 + if above { -half } else { half });
                labels.at(canvas, at, &text, colour)?;
            }
        }
        scale_bar(canvas, units_per_mm)?;
        section(canvas, outcome)?;
        facts(canvas, outcome, moved(cold, bent))
    })?;
    let description = format!(
        "Side view of the strip, {}, cold (pale) and at \"{}\", with its layers: {}. Below, the section \
         enlarged. Between the two it moves {} mm.",
        scale_words(times),
        words::moment(bent.moment),
        words::layers(part).join(", "),
        significant(moved(cold, bent), 3)
    );
    vector::finish("drawn_strip", title, description, &raw).map(Some)
}

/// How far the point that moves most has moved, mm.
fn moved(cold: &Shape, bent: &Shape) -> f64 {
    let pairs = cold.y_mm.iter().zip(&bent.y_mm);
    pairs.map(|(a, b)| (b - a).abs()).fold(0.0, f64::max)
}

fn scale_bar(canvas: &Canvas<'_>, units_per_mm: f64) -> Result<(), PlotError> {
    let lengths = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0];
    let length = lengths
        .into_iter()
        .find(|l| l * units_per_mm >= 180.0)
        .unwrap_or(100.0);
    let (right, y) = (ROOM.right - 30.0, ROOM.bottom + 6.0);
    let left = right - length * units_per_mm;
    canvas.rule((left, y), (right, y), INK, 4)?;
    for x in [left, right] {
        canvas.rule((x, y - 12.0), (x, y + 12.0), INK, 4)?;
    }
    let text = format!("{} mm along the strip", plain(length));
    canvas.text(&text, (right, y + 38.0), SMALL, INK, Anchor::Right)
}

/// Width and thickness to one scale, as large as fits.
fn section(canvas: &Canvas<'_>, outcome: &Outcome) -> Result<(), PlotError> {
    let part = &outcome.part;
    let layers = &part.layer_thicknesses_mm;
    let thickness: f64 = layers.iter().sum();
    let at = (SECTION.left, SECTION.top - 30.0);
    canvas.bold("Section", at, BODY, INK, Anchor::Left)?;
    let scale = ((SECTION.right - SECTION.left) / part.width_mm)
        .min((SECTION.bottom - SECTION.top) / thickness);
    let right = SECTION.left + scale * part.width_mm;
    let mut top = SECTION.top;
    let mut names: Vec<f64> = Vec::new();
    for (k, layer) in layers.iter().enumerate() {
        let bottom = top + scale * layer;
        let area = Area {
            left: SECTION.left,
            top,
            right,
            bottom,
        };
        canvas.rectangle(area, layer_colour(k, layers.len()).mix(0.62).filled())?;
        canvas.outline(area, INK, 2)?;
        names.push(0.5 * (top + bottom) - 24.0);
        top = bottom;
    }
    crate::present::chart::spread(&mut names, 48.0, (SECTION.top - 8.0, SECTION.bottom + 40.0));
    let mut from = SECTION.top;
    for ((k, layer), name) in layers.iter().enumerate().zip(names) {
        let alloy = part.layer_alloys.get(k).map_or("", String::as_str);
        let side = if layers.len() < 2 {
            ""
        } else if k == 0 {
            ", low-expansion side"
        } else if k + 1 == layers.len() {
            ", high-expansion side"
        } else {
            ""
        };
        let text = format!("{} mm {alloy}{side}", significant(*layer, 3));
        let middle = from + 0.5 * scale * layer;
        canvas.rule((right + 6.0, middle), (right + 34.0, name + 24.0), QUIET, 2)?;
        let room = 1560.0 - (right + 46.0);
        let text = canvas.shortened(&text, SMALL, room);
        canvas.text(&text, (right + 46.0, name + 24.0), SMALL, INK, Anchor::Left)?;
        from += scale * layer;
    }
    Ok(())
}

fn facts(canvas: &Canvas<'_>, outcome: &Outcome, moved_mm: f64) -> Result<(), PlotError> {
    let part = &outcome.part;
    let lines = [
        format!("length {} mm", significant(part.length_mm, 3)),
        format!("width {} mm", significant(part.width_mm, 3)),
        format!("thickness {} mm", significant(part.thickness_mm, 3)),
        format!("moves {} mm between the two", significant(moved_mm, 3)),
    ];
    for (k, text) in lines.iter().enumerate() {
        let at = (1620.0, SECTION.top + 14.0 + 50.0 * k as f64);
        canvas.text(text, at, BODY, INK, Anchor::Left)?;
    }
    Ok(())
}
