//! How the trip point is spread over the units.

use super::area::Area;
use super::axis::Axis;
use super::canvas::sheet;
use super::label::Labels;
use super::panel::Panel;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::present::number::{plain, significant};
use crate::study::population::VaryOutcome;
use plotters::style::{Color, RGBColor};

/// Bars over the range that holds all units.
const BARS: usize = 48;
const BAR: RGBColor = RGBColor(150, 178, 208);

/// Draws the figure; `None` where no unit has a trip point.
pub(super) fn figure(outcome: &VaryOutcome) -> Result<Option<Figure>, PlotError> {
    let spread = &outcome.trip_point_a;
    let (Some(least), Some(greatest)) = (spread.least, spread.greatest) else {
        return Ok(None);
    };
    if !(greatest > least) {
        return Ok(None);
    }
    let bars = bars(&outcome.trip_point_bins, least, greatest);
    let title = "How the trip point is spread".to_owned();
    let raw = sheet(|canvas| {
        canvas.header(
            &title,
            &format!(
                "{}: {} units, air {} °C",
                outcome.scenario,
                outcome.units,
                plain(outcome.ambient_c)
            ),
        )?;
        let most = bars.iter().map(|b| b.2).fold(0.0, f64::max);
        let rated = outcome.rated_current_a;
        let ends = [least, greatest, rated];
        let panel = Panel {
            frame: Area {
                left: 230.0,
                top: 190.0,
                right: 2300.0,
                bottom: 1310.0,
            },
            x: Axis::airy("Trip point, A", ends.into_iter(), 8, 0.05),
            y: Axis::linear("Units a bar", 0.0, 1.12 * most, 6),
        };
        panel.draw(canvas, true, true)?;
        let mut labels = Labels::inside(&[panel.frame]);
        for (low, high, units) in &bars {
            if *units <= 0.0 {
                continue;
            }
            let area = Area {
                left: panel.across(*low) + 2.0,
                top: panel.up(*units),
                right: panel.across(*high) - 2.0,
                bottom: panel.frame.bottom,
            };
            canvas.rectangle(area, BAR.filled())?;
            labels.block(area);
        }
        let mut named = Vec::new();
        let strokes = [
            stroke(EMBER, 5, DASHED),
            stroke(LAKE, 5, SOLID),
            stroke(PLUM, 5, DASH_DOT),
        ];
        for (q, stroke) in spread.quantiles.iter().zip(strokes) {
            if let Some(value) = q.value.filter(|v| panel.x.contains(*v)) {
                let line = panel.upright(canvas, value, stroke)?;
                let text = format!(
                    "{} %: {} A",
                    plain(100.0 * q.probability),
                    significant(value, 4)
                );
                named.push((labels.helper(&line), text, stroke.colour));
            }
        }
        if panel.x.contains(rated) {
            let line = panel.upright(canvas, rated, stroke(QUIET, 4, DOTTED))?;
            named.push((
                labels.helper(&line),
                format!("rated {} A", plain(rated)),
                QUIET,
            ));
        }
        for (number, text, colour) in named {
            labels.beside(canvas, number, &text, colour)?;
        }
        Ok(())
    })?;
    let description = format!(
        "Number of units against their trip point, from {} A to {} A, with the 5, 50 and 95 % quantiles and the rated \
         current.",
        significant(least, 4),
        significant(greatest, 4)
    );
    vector::finish("trip_point", title, description, &raw).map(Some)
}

/// Narrow bins shared out to bars of equal width.
fn bars(bins: &[(f64, f64, u64)], least: f64, greatest: f64) -> Vec<(f64, f64, f64)> {
    let width = (greatest - least) / BARS as f64;
    let mut bars: Vec<(f64, f64, f64)> = (0..BARS)
        .map(|k| {
            (
                least + k as f64 * width,
                least + (k + 1) as f64 * width,
                0.0,
            )
        })
        .collect();
    for (low, high, units) in bins {
        // A bin may reach beyond the least or greatest value; nothing lies there.
        let (low, high) = (low.max(least), high.min(greatest));
        for bar in &mut bars {
            let common = high.min(bar.1) - low.max(bar.0);
            if common > 0.0 {
                bar.2 += *units as f64 * common / (high - low);
            }
        }
    }
    bars
}
