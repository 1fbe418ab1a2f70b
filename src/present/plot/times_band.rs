//! Trip times of a share of parts against current: an area with edges, which run out of the panel at the top where
//! parts hold for ever.

use super::PlotError;
use super::area::Point;
use super::canvas::Canvas;
use super::clip;
use super::label::Labels;
use super::panel::Panel;
use super::style::Stroke;
use plotters::style::{Color, RGBColor};

/// Standard uncertainties on either side that hold 90 % of a normal distribution.
pub(super) const NINETY_PERCENT: f64 = 1.645;

/// How one band looks.
pub(super) struct TimesBand {
    pub(super) colour: RGBColor,
    pub(super) tint: f64,
    pub(super) edge: Stroke,
    pub(super) median: Option<Stroke>,
}

impl TimesBand {
    /// Draws area, edges and median; returns the number of the curve to be named.
    pub(super) fn draw(
        &self,
        canvas: &Canvas<'_>,
        panel: &Panel,
        labels: &mut Labels,
        times: &[(f64, [Option<f64>; 3])],
    ) -> Result<Option<usize>, PlotError> {
        let edge = |k: usize| -> Vec<(f64, Option<f64>)> {
            let known = |t: &f64| t.is_finite() && *t > 0.0;
            times
                .iter()
                .map(|(i, t)| (*i, t[k].filter(known)))
                .collect()
        };
        let [low, median, high] = [0, 1, 2].map(edge);
        if low.iter().all(|(_, t)| t.is_none()) {
            return Ok(None);
        }
        let outline: Vec<Point> = raised(panel, &low)
            .into_iter()
            .chain(raised(panel, &high).into_iter().rev())
            .collect();
        let area = clip::polygon(&outline, &panel.frame);
        canvas.tint(&area, &self.colour.mix(self.tint))?;
        let mut named = None;
        for edge in [&low, &high] {
            let line = clip::line(&course(panel, edge), &panel.frame);
            canvas.line(&line, self.edge)?;
            named = named.max(Some(labels.curve(&line)));
        }
        if let Some(stroke) = self.median {
            let line = clip::line(&course(panel, &median), &panel.frame);
            if line.len() > 1 {
                canvas.line(&line, stroke)?;
                named = Some(labels.curve(&line));
            }
        }
        Ok(named)
    }
}

/// Every current; where it holds for ever, the top of the panel.
fn raised(panel: &Panel, edge: &[(f64, Option<f64>)]) -> Vec<Point> {
    let up = |t: &Option<f64>| t.map_or(panel.frame.top, |t| panel.up(t));
    edge.iter()
        .map(|(i, t)| (panel.across(*i), up(t)))
        .collect()
}

/// The currents that trip, with the line running out of the top towards the last current that is held.
fn course(panel: &Panel, edge: &[(f64, Option<f64>)]) -> Vec<Point> {
    let mut points = Vec::new();
    let mut held = None;
    for (current, time) in edge {
        match time {
            Some(time) => {
                if let Some(held) = held.take() {
                    points.push((panel.across(held), panel.frame.top.min(panel.up(*time))));
                }
                points.push(panel.at(*current, *time));
            }
            None => held = Some(*current),
        }
    }
    points
}
