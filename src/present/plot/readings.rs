//! Measured points with their errors, and a band, over a characteristic.

use super::PlotError;
use super::area::{Area, Point};
use super::canvas::Canvas;
use super::label::Labels;
use super::panel::Panel;
use super::style::{DOTTED, INK, MOSS, PAPER, QUIET, stroke};
use plotters::style::{Color, RGBColor};

/// What was seen at one current.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measured {
    /// It tripped.
    Tripped {
        /// After this time, s (> 0).
        time_s: f64,
        /// Half width of the error bar, s (0 for none).
        error_s: f64,
    },
    /// It was still closed.
    Held {
        /// After this time, s (> 0).
        for_s: f64,
    },
}

/// One measured point.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// A (> 0).
    pub current_a: f64,
    /// Half width of the error bar, A (0 for none).
    pub current_error_a: f64,
    /// What was seen.
    pub measured: Measured,
    /// Name beside the point; may be empty.
    pub name: String,
}

/// Two curves between which times are expected, each (current A, time s) by rising current.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Band {
    /// Name beside the band, as "5 % to 95 %".
    pub name: String,
    /// Shorter times.
    pub low: Vec<(f64, f64)>,
    /// Longer times.
    pub high: Vec<(f64, f64)>,
}

/// What is drawn over a characteristic.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Overlay {
    /// Measured points.
    pub readings: Vec<Reading>,
    /// A band.
    pub band: Option<Band>,
}

const HALF: f64 = 13.0;
const CAP: f64 = 10.0;

fn is_drawable(value: f64) -> bool {
    value.is_finite() && value > 0.0
}

impl Reading {
    fn time_s(&self) -> f64 {
        match self.measured {
            Measured::Tripped { time_s, .. } => time_s,
            Measured::Held { for_s } => for_s,
        }
    }

    fn is_drawable(&self) -> bool {
        is_drawable(self.current_a) && is_drawable(self.time_s())
    }

    /// Ends of the bars: currents and times, kept above zero.
    fn ends(&self) -> ([f64; 2], [f64; 2]) {
        let bar = |value: f64, half: f64| {
            let half = if half.is_finite() { half.abs() } else { 0.0 };
            [(value - half).max(0.2 * value), value + half]
        };
        let error_s = match self.measured {
            Measured::Tripped { error_s, .. } => error_s,
            Measured::Held { .. } => 0.0,
        };
        (
            bar(self.current_a, self.current_error_a),
            bar(self.time_s(), error_s),
        )
    }
}

impl Overlay {
    fn drawable(&self) -> impl Iterator<Item = &Reading> {
        self.readings.iter().filter(|r| r.is_drawable())
    }

    fn edges(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let points = self.band.iter().flat_map(|b| b.low.iter().chain(&b.high));
        points
            .copied()
            .filter(|p| is_drawable(p.0) && is_drawable(p.1))
    }

    /// Currents that the axis must hold.
    pub(super) fn currents(&self) -> impl Iterator<Item = f64> + '_ {
        self.drawable()
            .flat_map(|r| r.ends().0)
            .chain(self.edges().map(|p| p.0))
    }

    /// Times that the axis must hold.
    pub(super) fn times(&self) -> impl Iterator<Item = f64> + '_ {
        self.drawable()
            .flat_map(|r| r.ends().1)
            .chain(self.edges().map(|p| p.1))
    }

    /// For those who cannot see the figure.
    pub(super) fn words(&self) -> String {
        let held = |r: &&Reading| matches!(r.measured, Measured::Held { .. });
        let (held, all) = (
            self.drawable().filter(held).count(),
            self.drawable().count(),
        );
        let mut text = String::new();
        if all > 0 {
            text += &format!(" {all} measured points are marked, {held} of them still closed.");
        }
        if let Some(band) = &self.band {
            text += &format!(" A band is drawn: {}.", band.name);
        }
        text
    }

    /// Draws the band; returns what is to be named: number of the curve, name, colour.
    pub(super) fn draw_band(
        &self,
        canvas: &Canvas<'_>,
        panel: &Panel,
        labels: &mut Labels,
    ) -> Result<Option<(usize, String, RGBColor)>, PlotError> {
        let Some(band) = &self.band else {
            return Ok(None);
        };
        let mapped = |edge: &[(f64, f64)]| -> Vec<Point> {
            let drawable = edge.iter().filter(|p| is_drawable(p.0) && is_drawable(p.1));
            drawable.map(|p| panel.at(p.0, p.1)).collect()
        };
        let (low, high) = (mapped(&band.low), mapped(&band.high));
        let outline: Vec<Point> = low
            .iter()
            .copied()
            .chain(high.iter().rev().copied())
            .collect();
        canvas.tint(&outline, &MOSS.mix(0.16))?;
        for edge in [&low, &high] {
            canvas.line(edge, stroke(MOSS, 3, DOTTED))?;
        }
        labels.helper(&low);
        Ok(Some((labels.helper(&high), band.name.clone(), MOSS)))
    }

    /// A square for a trip, a triangle with an arrow upwards for "still closed".
    pub(super) fn draw_readings(
        &self,
        canvas: &Canvas<'_>,
        panel: &Panel,
        labels: &mut Labels,
    ) -> Result<(), PlotError> {
        let mut names = Vec::new();
        for reading in self.drawable() {
            let at = panel.at(reading.current_a, reading.time_s());
            let (currents, times) = reading.ends();
            if currents[0] < currents[1] {
                let [left, right] = currents.map(|c| panel.across(c));
                canvas.rule((left, at.1), (right, at.1), INK, 3)?;
                for x in [left, right] {
                    canvas.rule((x, at.1 - CAP), (x, at.1 + CAP), INK, 3)?;
                }
            }
            if times[0] < times[1] {
                let [bottom, top] = times.map(|t| panel.up(t));
                canvas.rule((at.0, bottom), (at.0, top), INK, 3)?;
                for y in [bottom, top] {
                    canvas.rule((at.0 - CAP, y), (at.0 + CAP, y), INK, 3)?;
                }
            }
            let reach = match reading.measured {
                Measured::Tripped { .. } => {
                    let area = square(at, HALF);
                    canvas.rectangle(area, PAPER.filled())?;
                    canvas.outline(area, INK, 5)?;
                    HALF
                }
                Measured::Held { .. } => {
                    canvas.rule(at, (at.0, at.1 - 62.0), INK, 4)?;
                    let tip = (at.0, at.1 - 78.0);
                    let base = at.1 - 54.0;
                    canvas.polygon(&[tip, (at.0 - 11.0, base), (at.0 + 11.0, base)], INK)?;
                    let (low, high) = (at.1 + HALF, at.1 - HALF);
                    canvas.polygon(
                        &[
                            (at.0, high),
                            (at.0 - HALF * 1.2, low),
                            (at.0 + HALF * 1.2, low),
                        ],
                        QUIET,
                    )?;
                    labels.block(Area {
                        left: at.0 - 16.0,
                        top: at.1 - 84.0,
                        right: at.0 + 16.0,
                        bottom: at.1,
                    });
                    HALF
                }
            };
            labels.block(square(at, reach + 4.0));
            if !reading.name.trim().is_empty() {
                names.push((at, reading.name.clone()));
            }
        }
        for (at, name) in names {
            let at = (at.0 + HALF + 2.0, at.1);
            labels.at(canvas, at, &name, INK)?;
        }
        Ok(())
    }
}

fn square(at: Point, half: f64) -> Area {
    Area {
        left: at.0 - half,
        top: at.1 - half,
        right: at.0 + half,
        bottom: at.1 + half,
    }
}
