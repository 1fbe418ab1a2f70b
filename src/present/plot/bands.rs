//! Bands of the characteristic of a population, log-log, with the published limits.

use super::area::{Area, Point};
use super::axis::{Axis, extent};
use super::canvas::{Canvas, sheet};
use super::label::Labels;
use super::limit_marks::{self, Key};
use super::panel::Panel;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::answer::TripTime;
use crate::predict::LimitCheck;
use crate::present::number::{plain, significant};
use crate::study::population::{BandRecord, VaryOutcome};
use plotters::style::RGBColor;

const LEFT: f64 = 240.0;
const RIGHT: f64 = 2230.0;
const TOP: f64 = 190.0;
const BOTTOM: f64 = 1366.0;
/// A light lake: the ground of the band.
const BAND: RGBColor = RGBColor(210, 223, 238);

/// Draws the figure; `None` where no unit of any band trips.
pub(super) fn figure(outcome: &VaryOutcome) -> Result<Option<Figure>, PlotError> {
    let drawn: Vec<&BandRecord> = outcome
        .bands
        .iter()
        .filter(|b| at(b, 0).is_some())
        .collect();
    if drawn.len() < 2 {
        return Ok(None);
    }
    let title = "Bands of the characteristic".to_owned();
    let raw = sheet(|canvas| {
        let setting = if outcome.setting.is_some() {
            "set at the factory"
        } else {
            "not set"
        };
        canvas.header(
            &title,
            &format!(
                "{}: {} units {setting}, from cold in air of {} °C",
                outcome.scenario,
                outcome.units,
                plain(outcome.ambient_c)
            ),
        )?;
        draw(canvas, outcome, &drawn)
    })?;
    let description = format!(
        "Time to trip against current on logarithmic axes for {} units: the median as an unbroken line, the 5 % and \
         the 95 % quantile as broken ones with the band between them shaded; {} published limits are marked.",
        outcome.units,
        outcome.limits.len()
    );
    vector::finish("bands", title, description, &raw).map(Some)
}

/// A quantile, where it is finite and above zero.
fn at(band: &BandRecord, k: usize) -> Option<f64> {
    band.quantiles
        .get(k)
        .and_then(|q| q.value)
        .filter(|v| *v > 0.0)
}

fn draw(
    canvas: &Canvas<'_>,
    outcome: &VaryOutcome,
    bands: &[&BandRecord],
) -> Result<(), PlotError> {
    let rated = outcome.rated_current_a;
    let limits = limits(outcome);
    let key = key(canvas, outcome);
    let bottom = BOTTOM - limit_marks::key_height(&key);
    let panel = panel(outcome, bands, &limits, bottom);
    let top = panel.frame.top;
    let across = |b: &BandRecord| panel.across(b.current_a);
    // Where the slow units never trip the band is open upwards.
    let upper = |b: &BandRecord| at(b, 2).map_or(top, |t| panel.up(t));
    let mut outline: Vec<Point> = bands
        .iter()
        .filter_map(|b| Some((across(b), panel.up(at(b, 0)?))))
        .collect();
    outline.extend(bands.iter().rev().map(|b| (across(b), upper(b))));
    canvas.polygon(&outline, BAND)?;
    panel.draw(canvas, true, true)?;
    let mut labels = Labels::inside(&[panel.frame]);
    if panel.x.contains(rated) {
        let line = panel.upright(canvas, rated, stroke(QUIET, 4, DOTTED))?;
        let number = labels.helper(&line);
        labels.beside(canvas, number, &format!("rated {} A", plain(rated)), QUIET)?;
    }
    let lines = [
        (0, "5 % trip sooner", stroke(EMBER, 6, DASHED)),
        (1, "median", stroke(LAKE, 7, SOLID)),
        (2, "5 % trip later", stroke(PLUM, 6, DASH_DOT)),
    ];
    let mut named = Vec::new();
    for (k, name, stroke) in lines {
        let data: Vec<(f64, f64)> = bands
            .iter()
            .map(|b| (b.current_a, at(b, k).unwrap_or(f64::NAN)))
            .collect();
        let line = panel.map(&data);
        if line.iter().filter(|p| p.1.is_finite()).count() > 1 {
            canvas.line(&line, stroke)?;
            named.push((labels.curve(&line), name, stroke.colour));
        }
    }
    limit_marks::draw(canvas, &panel, &mut labels, rated, &limits)?;
    for (number, name, colour) in named {
        labels.beside(canvas, number, name, colour)?;
    }
    limit_marks::draw_key(canvas, &key, LEFT - 120.0, bottom + 140.0)
}

fn panel(
    outcome: &VaryOutcome,
    bands: &[&BandRecord],
    limits: &[LimitCheck],
    bottom: f64,
) -> Panel {
    let rated = outcome.rated_current_a;
    let currents = bands
        .iter()
        .map(|b| b.current_a)
        .chain([rated])
        .chain(limits.iter().map(|l| l.multiple * rated));
    let times = bands
        .iter()
        .flat_map(|b| (0..3).filter_map(|k| at(b, k)))
        .chain(
            limits
                .iter()
                .flat_map(|l| [l.at_least_s, l.at_most_s])
                .flatten(),
        );
    let (i_low, i_high) = extent(currents).unwrap_or((1.0, 10.0));
    let (t_low, t_high) = extent(times).unwrap_or((0.1, 100.0));
    Panel {
        frame: Area {
            left: LEFT,
            top: TOP,
            right: RIGHT,
            bottom,
        },
        x: Axis::log("Current, A", i_low * 0.82, i_high * 1.15),
        y: Axis::log("Time to trip, s", t_low * 0.6, t_high * 1.8),
    }
}

/// The limits as marks.
fn limits(outcome: &VaryOutcome) -> Vec<LimitCheck> {
    let all = outcome.limits.iter();
    all.map(|l| LimitCheck {
        source: String::new(),
        multiple: l.multiple,
        after_multiple: l.after_multiple,
        must_hold: l.at_least_s.is_none() && l.at_most_s.is_none(),
        ambient_c: l.ambient_c,
        at_least_s: l.at_least_s,
        at_most_s: l.at_most_s,
        time: TripTime::HoldsForEver,
        met: true,
    })
    .collect()
}

fn key(canvas: &Canvas<'_>, outcome: &VaryOutcome) -> Key {
    let percent = |share: f64| {
        if share == 0.0 {
            "0 %".to_owned()
        } else {
            format!("{} %", significant(100.0 * share, 2))
        }
    };
    let mut key: Key = Vec::new();
    for (k, l) in outcome.limits.iter().enumerate() {
        let sides = &l.sides;
        let late = match l.at_most_s {
            Some(_) => format!("; late {}", percent(sides.late.share)),
            None => String::new(),
        };
        let early = if l.at_least_s.is_some() || l.at_most_s.is_none() {
            format!("; early {}", percent(sides.early.share))
        } else {
            String::new()
        };
        let text = format!("{} at {} °C{late}{early}", l.text, plain(l.ambient_c));
        let met = sides.late.units == 0 && sides.early.units == 0;
        key.push((
            limit_marks::letter(k),
            canvas.shortened(&text, SMALL, 2060.0),
            met,
        ));
    }
    if let (Some(source), false) = (&outcome.limits_source, key.is_empty()) {
        let text = canvas.shortened(&format!("Source: {source}"), SMALL, 2060.0);
        key.push((String::new(), text, true));
    }
    key
}
