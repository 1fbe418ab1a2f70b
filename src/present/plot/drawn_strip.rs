//! The strip drawn to scale, cold and bent, with its layers.

use super::Figure;
use super::area::{Area, Point};
use super::axis::extent;
use super::canvas::{self, Anchor, Canvas};
use super::label::Labels;
use super::release::{look, release_height_mm, supports};
use super::strip_drawing::{Place, draw, enlarged, layer_colour, scale_words};
use super::style::*;
use super::text::shortened;
use super::vector::{finished, strip_height};
use crate::answer::Caution;
use crate::predict::{Outcome, Shape};
use crate::present::chart::header::Header;
use crate::present::chart::sheet::{Grows, Room, Sheet};
use crate::present::number::{celsius, finite, length_mm, plain, significant};
use crate::present::words;
use std::sync::Arc;

/// Where on a sheet the strip lies.
struct Stage {
    sheet: Sheet,
    room: Area,
    /// The clamp, and the length of the strip.
    left: f64,
    length: f64,
    is_titled: bool,
    /// With section and numbers; else a key of the layers alone.
    is_whole: bool,
}

impl Stage {
    /// On a sheet, or on one grown from it that has room.
    fn grown(sheet: Sheet, outcome: &Outcome, cautions: &[Caution]) -> Self {
        // They take their room from a sheet that can grow, and make any other a little higher.
        let on = |(wide, high): (i32, i32)| {
            let below = match sheet.grows {
                Grows::Nothing => 0,
                _ => strip_height(wide, cautions),
            };
            let units = (wide, high - below);
            Self::on(Sheet { units, ..sheet }, outcome, true)
        };
        let room = |units| match on(units) {
            on if on.length < LEAST.0 => Room::TooNarrow,
            on if on.room.height() < LEAST.1 => Room::TooLow,
            _ => Room::Enough,
        };
        on(sheet.with_room(room).units)
    }

    /// The usual sheet whole; on any other the strip alone.
    fn on(sheet: Sheet, outcome: &Outcome, is_titled: bool) -> Self {
        if sheet == Sheet::USUAL {
            return Self {
                sheet,
                room: ROOM,
                left: 230.0,
                length: 1840.0,
                is_titled,
                is_whole: true,
            };
        }
        let (width, height) = (f64::from(sheet.units.0), f64::from(sheet.units.1));
        let layers = outcome.part.layer_thicknesses_mm.len() as f64;
        let top = match is_titled {
            // The scale is known once the strip has its place; no other takes more lines.
            true => header(outcome, sheet, 100.0).height(),
            false => 20.0,
        };
        Self {
            sheet,
            room: Area::new(20.0, top, width - 20.0, height - 30.0 - ROW * layers),
            left: 120.0,
            length: width - 120.0 - 290.0,
            is_titled,
            is_whole: false,
        }
    }
}

/// Least length and height of a strip that is drawn.
const LEAST: (f64, f64) = (420.0, 250.0);

fn header(outcome: &Outcome, sheet: Sheet, times: f64) -> Header {
    let sketched = words::mechanism(outcome.part.mechanism).sketched;
    let below = format!("{} ({}{sketched})", outcome.scenario, scale_words(times));
    Header::of(title(outcome), &below, f64::from(sheet.units.0) - 160.0)
}

/// Room of the strip on the usual sheet.
const ROOM: Area = Area::new(60.0, 180.0, 2340.0, 960.0);
/// Height of a row of the key.
const ROW: f64 = 44.0;
/// The enlarged section.
const SECTION: Area = Area::new(230.0, 1070.0, 740.0, 1420.0);
/// Thickness of a section below which a piece is drawn, and that of the piece.
const THIN: f64 = 16.0;
const PIECE: f64 = 120.0;

fn title(outcome: &Outcome) -> &'static str {
    match outcome.part.disc {
        None => word!("The strip, cold and bent"),
        Some(_) => word!("The disc, cold and snapped"),
    }
}

/// Draws the figure; `None` without shapes or layers.
pub(super) fn figure(outcome: &Outcome, cautions: &[Caution]) -> Option<Figure> {
    let on = |outcome: &Outcome, cautions: &[Caution], sheet| {
        drawn(outcome, &Stage::grown(sheet, outcome, cautions), cautions)
    };
    let figure = on(outcome, cautions, Sheet::USUAL)?;
    let (outcome, cautions) = (outcome.clone(), cautions.to_owned());
    let again = move |sheet| on(&outcome, &cautions, sheet);
    Some(figure.again(Arc::new(again)))
}

/// The same on a sheet of any size, the strip alone; its group carries where it lies, so that a
/// page can bend it.
pub(super) fn live(outcome: &Outcome, sheet: Sheet) -> Option<Figure> {
    drawn(outcome, &Stage::on(sheet, outcome, false), &[])
}

fn drawn(outcome: &Outcome, on: &Stage, cautions: &[Caution]) -> Option<Figure> {
    let part = &outcome.part;
    let (cold, bent) = cold_and_bent(outcome)?;
    if part.layer_thicknesses_mm.is_empty() || !(part.length_mm > 0.0) {
        return None;
    }
    let levels = levels(outcome, on.is_whole);
    let heights = cold.y_mm.iter().chain(&bent.y_mm).copied();
    let (low, high) = extent(heights.chain(levels.iter().map(|l| l.0))).unwrap_or((0.0, 1.0));
    let units_per_mm = on.length / part.length_mm;
    let times = enlarged(high - low, units_per_mm, 60.0, on.room.height() / 1.5);
    let middle = 0.5 * (on.room.top + on.room.bottom);
    let place = Place {
        origin: (on.left, middle + 0.5 * (high + low) * units_per_mm * times),
        units_per_mm,
        times,
    };
    let mut labels = Labels::inside(&[on.room]);
    for shape in [cold, bent] {
        let half = 0.5 * part.thickness_mm;
        for shift in [-half, 0.0, half] {
            labels.curve(&place.line(shape, shift));
        }
    }
    let is_released = bent.moment == crate::predict::Moment::Release;
    let sketch = canvas::drawn(|canvas| {
        if let Some(draws) = look(part).sketch {
            labels.block(draws(canvas, &place, part, is_released));
        }
    });
    let thicknesses = part.layer_thicknesses_mm.iter().map(f64::to_string);
    let strip = format!(
        "class=\"strip\" data-x=\"{:.1}\" data-y=\"{:.1}\" data-per-mm=\"{units_per_mm:.3}\" \
         data-times=\"{times}\" data-layers=\"{}\"",
        place.origin.0,
        place.origin.1,
        thicknesses.collect::<Vec<_>>().join(" ")
    );
    let moved_mm = moved(cold, bent);
    let body = canvas::drawn(|canvas| {
        if on.is_titled {
            header(outcome, on.sheet, times).draw(canvas);
        }
        supports(canvas, &place, outcome);
        draw(canvas, &place, outcome, cold, true);
        canvas.group(&strip, |canvas| draw(canvas, &place, outcome, bent, false));
        for (mm, text, stroke) in &levels {
            let from = place.at(0.55 * part.push_point_mm, *mm);
            let to = place.at(part.push_point_mm, *mm);
            let to = (to.0 + 120.0, to.1);
            canvas.line(&[from, to], *stroke);
            let helper = labels.helper(&[from, to]);
            labels.beside(canvas, helper, text, stroke.colour);
        }
        match on.is_whole {
            true => {
                scale_bar(canvas, units_per_mm);
                section(canvas, outcome);
                facts(canvas, outcome, moved_mm);
            }
            false => key(canvas, outcome, on),
        }
        canvas.group("class=\"names\"", |canvas| {
            canvas.put(&sketch);
            name_shapes(canvas, &place, outcome, &mut labels, cold, bent);
        });
    });
    let below = match on.is_whole {
        true => word!(" Below, the section enlarged."),
        false => "",
    };
    let description = say!(
        "Side view, {}, at \"{}\" (pale) and at \"{}\", with its layers: {}.{below} Between the two it \
         moves {} mm.",
        scale_words(times),
        words::moment(cold.moment),
        words::moment(bent.moment),
        words::layers(part).join(", "),
        length_mm(moved_mm)
    ; below);
    Some(finished(
        "drawn_strip",
        (title(outcome), description),
        &body,
        (on.sheet.units, on.sheet.shown_px),
        cautions,
    ))
}

/// Where the latch lets go and, on a sheet without numbers beside it, where it catches: height,
/// words, line.
fn levels(outcome: &Outcome, is_whole: bool) -> Vec<(f64, String, Stroke)> {
    let part = &outcome.part;
    let Some(height) = release_height_mm(part) else {
        return Vec::new();
    };
    let level = |name: &str, mm: Option<f64>, stroke| {
        finite(mm).map(|mm| {
            (
                mm,
                say!("{name} at {} mm", significant(mm, 3); name),
                stroke,
            )
        })
    };
    let relatch = part.relatch_travel_mm.filter(|_| !is_whole);
    let levels = [
        level(word!("releases"), Some(height), stroke(INK, 3, DASHED)),
        level(word!("relatches"), relatch, stroke(MOSS, 3, DASH_DOT)),
    ];
    levels.into_iter().flatten().collect()
}

fn name_shapes(
    canvas: &mut Canvas,
    place: &Place,
    outcome: &Outcome,
    labels: &mut Labels,
    cold: &Shape,
    bent: &Shape,
) {
    let warm = |s: &Shape| {
        let peak = extent(s.temperature_c.iter().copied()).map(|(_, high)| high);
        celsius(peak, 0)
    };
    let at_start = format!("{}: {}", words::moment(cold.moment), warm(cold));
    let at_end = say!(
        "{}: hottest point {}",
        words::moment(bent.moment),
        warm(bent)
    );
    for (shape, text, colour) in [(cold, at_start, QUIET), (bent, at_end, EMBER)] {
        let count = shape.x_mm.len();
        let near = if look(&outcome.part).has_free_tip {
            3 * count / 4
        } else {
            count / 3
        };
        let above = shape.y_mm[near] >= 0.5 * (cold.y_mm[near] + bent.y_mm[near]);
        let half = 0.5 * outcome.part.thickness_mm;
        let at = place.at(
            shape.x_mm[near],
            shape.y_mm[near] + if above { half } else { -half },
        );
        labels.beside_mark(canvas, (at, 0.0), (&text, true), colour);
    }
}

/// The layers below the strip.
fn key(canvas: &mut Canvas, outcome: &Outcome, on: &Stage) {
    let count = outcome.part.layer_thicknesses_mm.len();
    for k in 0..count {
        let middle = on.room.bottom + ROW * (k as f64 + 0.7);
        let area = Area::new(50.0, middle - 11.0, 95.0, middle + 11.0);
        canvas.rectangle(area, fill(layer_colour(k, count), 0.62));
        canvas.outline(area, INK, 2);
        let room = f64::from(on.sheet.units.0) - 140.0;
        let text = shortened(&layer_words(outcome, k), SMALL, room);
        canvas.text(&text, (115.0, middle), SMALL, INK, Anchor::Left);
    }
}

/// "0.38 mm Fe-36Ni, low-expansion side"
fn layer_words(outcome: &Outcome, k: usize) -> String {
    let part = &outcome.part;
    let alloy = part.layer_alloys.get(k).map_or("", String::as_str);
    let last = part.layer_thicknesses_mm.len() - 1;
    let side = match k {
        0 if last > 0 => word!(", low-expansion side"),
        k if k == last && last > 0 => word!(", high-expansion side"),
        _ => "",
    };
    format!(
        "{} mm {alloy}{side}",
        significant(part.layer_thicknesses_mm[k], 3)
    )
}

/// How far the point that moves most has moved, mm.
/// The shapes that are drawn: as it starts, and at release or the last.
fn cold_and_bent(outcome: &Outcome) -> Option<(&Shape, &Shape)> {
    let drawable = |s: &&Shape| s.x_mm.len() > 4 && s.x_mm.len() == s.y_mm.len();
    let mut shapes = outcome.shapes.iter().filter(drawable);
    let cold = shapes.next()?;
    let rest = || outcome.shapes.iter().filter(drawable);
    let bent = rest().find(|s| s.moment == crate::predict::Moment::Release);
    Some((cold, bent.or(rest().next_back())?))
}

/// How far it moves between the two shapes that are drawn, mm.
pub(in crate::present) fn moved_mm(outcome: &Outcome) -> Option<f64> {
    cold_and_bent(outcome).map(|(cold, bent)| moved(cold, bent))
}

fn moved(cold: &Shape, bent: &Shape) -> f64 {
    let pairs = cold.y_mm.iter().zip(&bent.y_mm);
    pairs.map(|(a, b)| (b - a).abs()).fold(0.0, f64::max)
}

fn scale_bar(canvas: &mut Canvas, units_per_mm: f64) {
    let lengths = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0];
    let length = lengths
        .into_iter()
        .find(|l| l * units_per_mm >= 180.0)
        .unwrap_or(100.0);
    let (right, y) = (ROOM.right - 30.0, ROOM.bottom + 6.0);
    let left = right - length * units_per_mm;
    canvas.rule((left, y), (right, y), INK, 4);
    for x in [left, right] {
        canvas.rule((x, y - 12.0), (x, y + 12.0), INK, 4);
    }
    let text = format!("{} mm", plain(length));
    canvas.text(&text, (right, y + 38.0), SMALL, INK, Anchor::Right)
}

/// Width and thickness to one scale, as large as fits; a piece, where the layers of the whole would
/// be thin lines.
fn section(canvas: &mut Canvas, outcome: &Outcome) {
    let part = &outcome.part;
    let layers = &part.layer_thicknesses_mm;
    let thickness: f64 = layers.iter().sum();
    let at = (SECTION.left, SECTION.top - 30.0);
    let scale = (SECTION.width() / part.width_mm).min(SECTION.height() / thickness);
    let is_whole = scale * thickness >= THIN;
    let (name, scale, right) = match is_whole {
        true => (
            word!("Section"),
            scale,
            SECTION.left + scale * part.width_mm,
        ),
        false => (
            word!("Section, a piece"),
            PIECE / thickness,
            SECTION.middle().0,
        ),
    };
    canvas.bold(name, at, BODY, INK, Anchor::Left);
    let mut top = SECTION.top;
    let mut names: Vec<f64> = Vec::new();
    for (k, layer) in layers.iter().enumerate() {
        let bottom = top + scale * layer;
        let area = Area::new(SECTION.left, top, right, bottom);
        canvas.rectangle(area, fill(layer_colour(k, layers.len()), 0.62));
        canvas.outline(area, INK, 2);
        names.push(0.5 * (top + bottom) - 24.0);
        top = bottom;
    }
    crate::present::chart::spread(&mut names, 48.0, (SECTION.top - 8.0, SECTION.bottom + 40.0));
    if !is_whole {
        broken(canvas, right, (SECTION.top, top));
    }
    let mut from = SECTION.top;
    for ((k, layer), name) in layers.iter().enumerate().zip(names) {
        let text = layer_words(outcome, k);
        let middle = from + 0.5 * scale * layer;
        canvas.rule((right + 6.0, middle), (right + 34.0, name + 24.0), QUIET, 2);
        let room = 1560.0 - (right + 46.0);
        let text = shortened(&text, SMALL, room);
        canvas.text(&text, (right + 46.0, name + 24.0), SMALL, INK, Anchor::Left);
        from += scale * layer;
    }
}

/// Where a piece is broken off: a jagged edge.
fn broken(canvas: &mut Canvas, right: f64, (top, bottom): (f64, f64)) {
    let jags = 8;
    let step = (bottom - top + 8.0) / f64::from(jags);
    let at = |k: i32| {
        let x = right - if k % 2 == 0 { 0.0 } else { 22.0 };
        (x, top - 4.0 + step * f64::from(k))
    };
    let edge: Vec<Point> = (0..=jags).map(at).collect();
    let beyond = [(right + 4.0, bottom + 4.0), (right + 4.0, top - 4.0)];
    canvas.polygon(&[&edge[..], &beyond].concat(), PAPER);
    canvas.line(&edge, stroke(INK, 2, SOLID));
}

fn facts(canvas: &mut Canvas, outcome: &Outcome, moved_mm: f64) {
    let part = &outcome.part;
    let (length, width) = match &part.disc {
        None => (
            say!("length {} mm", significant(part.length_mm, 3)),
            say!("width {} mm", significant(part.width_mm, 3)),
        ),
        Some(disc) => (
            say!("diameter {} mm", significant(disc.diameter_mm, 3)),
            say!("rise as made {} mm", significant(disc.rise_mm, 3)),
        ),
    };
    let lines = [
        length,
        width,
        say!("thickness {} mm", significant(part.thickness_mm, 3)),
        say!("moves {} mm between the two", significant(moved_mm, 3)),
    ];
    for (k, text) in lines.iter().enumerate() {
        let at = (1620.0, SECTION.top + 14.0 + 50.0 * k as f64);
        canvas.text(text, at, BODY, INK, Anchor::Left);
    }
}
