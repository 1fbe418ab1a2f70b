//! Where the heat goes: what leaves the metal parts, stacked, and what is stored, under the electrical
//! power.

use super::area::{Area, Point};
use super::axis::{Axis, extent};
use super::canvas::{Anchor, Canvas, sheet};
use super::flags::{Flag, Flags};
use super::label::Labels;
use super::panel::Panel;
use super::stretch::{Stretch, around_opening, time_unit};
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::predict::{HeatFlow, Outcome};
use crate::present::number::{duration, finite, significant};
use plotters::style::{Color, RGBColor};

const TOP: f64 = 180.0;
const BOTTOM: f64 = 1340.0;

/// A share of the power, drawn on top of those before it.
struct Band {
    name: &'static str,
    colour: RGBColor,
    value: fn(&HeatFlow) -> f64,
}

const BANDS: [Band; 5] = [
    Band {
        name: "into the wires at the terminals",
        colour: CLAY,
        value: |h| h.terminals_w,
    },
    Band {
        name: "convection from the strip",
        colour: LAKE,
        value: |h| h.convection_w,
    },
    Band {
        name: "radiation from the strip",
        colour: EMBER,
        value: |h| h.radiation_w,
    },
    Band {
        name: "moving contact to the air",
        colour: MOSS,
        value: |h| h.contact_w,
    },
    Band {
        name: "stored: warms the metal",
        colour: PLUM,
        value: |h| h.stored_w,
    },
];

/// A stretch of time with its part of the account.
struct Column<'a> {
    panel: Panel,
    flows: Vec<&'a HeatFlow>,
    zero_s: f64,
    unit_s: f64,
    flags: Flags,
}

/// Draws the figure; `None` without an account of the heat.
pub(super) fn figure(outcome: &Outcome) -> Result<Option<Figure>, PlotError> {
    let (first, last) = extent(outcome.heat.iter().map(|h| h.time_s)).unwrap_or((0.0, 0.0));
    let highest = extent(outcome.heat.iter().map(top_of)).map_or(0.0, |(_, high)| high);
    if outcome.heat.len() < 2 || last <= first || !(highest > 0.0) {
        return Ok(None);
    }
    let mut note = String::new();
    let lowest = |h: &HeatFlow| BANDS[..4].iter().map(|b| (b.value)(h)).fold(0.0, f64::min);
    if extent(outcome.heat.iter().map(lowest)).is_some_and(|(low, _)| low < -0.01 * highest) {
        note += " (heat that flows into the part is not drawn)";
    }
    let title = "Where the heat goes".to_owned();
    let raw = sheet(|canvas| {
        canvas.header(&title, &format!("{}{note}", outcome.scenario))?;
        let opened = finite(outcome.trip.clearing_time_s()).filter(|t| *t < last);
        let columns = columns(
            canvas,
            outcome,
            &around_opening(opened, first, last),
            highest,
        );
        for (k, column) in columns.iter().enumerate() {
            column.panel.draw(canvas, true, k == 0)?;
            column.bands(canvas)?;
        }
        for column in &columns {
            let frame = column.panel.frame;
            column.flags.draw(canvas, frame.top, frame.bottom)?;
        }
        name(canvas, outcome, &columns)
    })?;
    let description = format!(
        "Power against time{note}: what leaves the metal parts by each way is stacked, with what is \
         stored on top, up to the electrical power (thick line). Where the stack stands above that \
         line the metal gives back what it stored."
    );
    vector::finish("heat_flow", title, description, &raw).map(Some)
}

/// Release, open contacts and relatch of the load itself, whatever else a history plays.
fn marks(outcome: &Outcome, stretch: &Stretch, across: impl Fn(f64) -> f64) -> Vec<Flag> {
    let (trip, opened) = (
        finite(outcome.trip.time_s()),
        finite(outcome.trip.clearing_time_s()),
    );
    let relatch = opened
        .zip(finite(outcome.reset.relatch_wait.time_s()))
        .map(|(a, b)| a + b);
    let all = [
        (trip, "release", stroke(EMBER, 3, DASHED)),
        (relatch, "relatch", stroke(MOSS, 3, DASH_DOT)),
    ];
    all.into_iter()
        .filter_map(|(time, name, stroke)| {
            let time = time.filter(|t| *t >= stretch.from_s && *t <= stretch.to_s)?;
            Some(Flag {
                x: across(time),
                text: format!("{name} {}", duration(time - stretch.zero_s, 3)),
                stroke,
            })
        })
        .collect()
}

/// Top of the stack at one moment, or the electrical power where that is higher.
fn top_of(h: &HeatFlow) -> f64 {
    let stack: f64 = BANDS.iter().map(|b| (b.value)(h).max(0.0)).sum();
    stack.max(h.electrical_w)
}

fn columns<'a>(
    canvas: &Canvas<'_>,
    outcome: &'a Outcome,
    stretches: &[Stretch],
    highest: f64,
) -> Vec<Column<'a>> {
    let mut columns: Vec<Column<'a>> = stretches
        .iter()
        .map(|stretch| {
            let (unit_s, unit) = time_unit(stretch.to_s - stretch.from_s);
            let panel = Panel {
                frame: Area {
                    left: stretch.left,
                    top: TOP,
                    right: stretch.right,
                    bottom: BOTTOM,
                },
                x: Axis::linear(
                    format!("{}, {unit}", stretch.title),
                    (stretch.from_s - stretch.zero_s) / unit_s,
                    (stretch.to_s - stretch.zero_s) / unit_s,
                    (6.0 * (stretch.right - stretch.left) / 1000.0) as usize,
                ),
                y: Axis::linear("Power, W", 0.0, 1.16 * highest, 7),
            };
            let across = |t: f64| panel.across((t - stretch.zero_s) / unit_s);
            let flags = marks(outcome, stretch, across);
            let inside = |h: &&HeatFlow| h.time_s >= stretch.from_s && h.time_s <= stretch.to_s;
            let all: Vec<&HeatFlow> = outcome.heat.iter().filter(inside).collect();
            // At the instant of opening the account still stands with the current on.
            let opened = stretch.zero_s > 0.0;
            let skipped = usize::from(opened && all.first().is_some_and(|h| h.electrical_w > 0.0));
            Column {
                flows: all[skipped.min(all.len())..].to_vec(),
                zero_s: stretch.zero_s,
                unit_s,
                flags: Flags::place(canvas, flags, stretch.left - 40.0, stretch.right + 40.0),
                panel,
            }
        })
        .collect();
    let top = TOP + columns.iter().map(|c| c.flags.height()).fold(0.0, f64::max);
    for column in &mut columns {
        column.panel.frame.top = top;
    }
    columns
}

impl Column<'_> {
    fn across(&self, time_s: f64) -> f64 {
        self.panel.across((time_s - self.zero_s) / self.unit_s)
    }

    /// Upper edge of the first `count` bands.
    fn edge(&self, count: usize) -> Vec<Point> {
        let height =
            |h: &HeatFlow| -> f64 { BANDS[..count].iter().map(|b| (b.value)(h).max(0.0)).sum() };
        self.flows
            .iter()
            .map(|h| (self.across(h.time_s), self.panel.up(height(h))))
            .collect()
    }

    fn bands(&self, canvas: &Canvas<'_>) -> Result<(), PlotError> {
        for (k, band) in BANDS.iter().enumerate() {
            let lower = self.edge(k);
            let upper = self.edge(k + 1);
            let outline: Vec<Point> = lower
                .into_iter()
                .chain(upper.iter().rev().copied())
                .collect();
            canvas.tint(&outline, &band.colour.mix(0.38))?;
            canvas.line(&upper, stroke(band.colour, 3, SOLID))?;
        }
        let power: Vec<Point> = self
            .flows
            .iter()
            .map(|h| (self.across(h.time_s), self.panel.up(h.electrical_w)))
            .collect();
        canvas.line(&power, stroke(INK, 7, SOLID))
    }
}

/// Names: inside a band where it is high enough, else beside it.
fn name(canvas: &Canvas<'_>, outcome: &Outcome, columns: &[Column<'_>]) -> Result<(), PlotError> {
    let rooms: Vec<Area> = columns.iter().map(|c| c.panel.frame).collect();
    let mut labels = Labels::inside(&rooms);
    let mut poles = Vec::new();
    for column in columns {
        let frame = column.panel.frame;
        poles.extend(column.flags.poles(frame.top, frame.bottom));
    }
    for pole in &poles {
        labels.helper(pole);
    }
    let highest = extent(outcome.heat.iter().map(|h| h.electrical_w)).map_or(0.0, |(_, high)| high);
    let power = columns
        .iter()
        .map(|c| {
            // Named where it runs high, not where it drops.
            let runs = |h: &&HeatFlow| h.electrical_w > 0.6 * highest;
            let line = c.flows.iter().map(|h| {
                if runs(h) {
                    (c.across(h.time_s), c.panel.up(h.electrical_w))
                } else {
                    (f64::NAN, f64::NAN)
                }
            });
            line.collect::<Vec<Point>>()
        })
        .collect::<Vec<_>>()
        .join(&(f64::NAN, f64::NAN));
    let number = labels.curve(&power);
    let mut outside = Vec::new();
    for (k, band) in BANDS.iter().enumerate() {
        let text = if k == 3 && outcome.series.iter().any(|s| s.winding_c.is_some()) {
            "moving contact and winding to the air"
        } else {
            band.name
        };
        let edges: Vec<(Vec<Point>, Vec<Point>)> =
            columns.iter().map(|c| (c.edge(k), c.edge(k + 1))).collect();
        for (_, upper) in &edges {
            labels.curve(upper);
        }
        let width = canvas.width(text, BODY);
        let best = edges
            .iter()
            .filter_map(|(lower, upper)| widest(lower, upper, width, &poles))
            .max_by(|a, b| a.1.total_cmp(&b.1));
        match best {
            Some((area, room)) if room > 1.25 * BODY => {
                let middle = (
                    0.5 * (area.left + area.right),
                    0.5 * (area.top + area.bottom),
                );
                canvas.text(text, middle, BODY, INK, Anchor::Centre)?;
                labels.block(area);
            }
            _ => outside.push((text, band.colour)),
        }
    }
    let text = format!("electrical power, at most {} W", significant(highest, 3));
    labels.beside(canvas, number, &text, INK)?;
    let mut x = 230.0;
    for (text, colour) in outside {
        let swatch = Area {
            left: x,
            top: 1466.0,
            right: x + 44.0,
            bottom: 1490.0,
        };
        canvas.rectangle(swatch, colour.mix(0.38).filled())?;
        canvas.outline(swatch, colour, 3)?;
        canvas.text(text, (x + 58.0, 1478.0), SMALL, INK, Anchor::Left)?;
        x += 58.0 + canvas.width(text, SMALL) + 60.0;
    }
    Ok(())
}

/// The box of this width between two edges that is highest, and its height.
fn widest(
    lower: &[Point],
    upper: &[Point],
    width: f64,
    poles: &[Vec<Point>],
) -> Option<(Area, f64)> {
    let (first, last) = (lower.first()?.0, lower.last()?.0);
    let room = width + 24.0;
    let mut best: Option<(Area, f64)> = None;
    for n in 0..=40 {
        let left = first + (last - first - room) * f64::from(n) / 40.0;
        let right = left + room;
        if left < first || poles.iter().flatten().any(|p| p.0 > left && p.0 < right) {
            continue;
        }
        let inside = |p: &&Point| p.0 >= left - 20.0 && p.0 <= right + 20.0;
        let top = upper
            .iter()
            .filter(inside)
            .map(|p| p.1)
            .fold(f64::NEG_INFINITY, f64::max);
        let bottom = lower
            .iter()
            .filter(inside)
            .map(|p| p.1)
            .fold(f64::INFINITY, f64::min);
        let height = bottom - top;
        // Among places as good as each other the middle one.
        let off = (f64::from(n) - 20.0).abs() * 6.0;
        let height = height - off;
        if height.is_finite() && best.as_ref().is_none_or(|(_, h)| height > *h) {
            let area = Area {
                left,
                top,
                right,
                bottom,
            };
            best = Some((area, height));
        }
    }
    best
}
