//! A bar along the time axis: filled while the contacts are closed, hollow while they are open.

use super::PlotError;
use super::area::Area;
use super::canvas::{Anchor, Canvas};
use super::style::{INK, MOSS, PAPER, SMALL};
use crate::predict::State;
use plotters::style::Color;

/// Draws the bar between the heights `(top, bottom)`.
pub(super) fn draw(
    canvas: &Canvas<'_>,
    states: &[&State],
    (top, bottom): (f64, f64),
    across: impl Fn(f64) -> f64,
) -> Result<(), PlotError> {
    for (from, to, closed) in runs(states) {
        let area = Area {
            left: across(from),
            top,
            right: across(to),
            bottom,
        };
        if closed {
            canvas.rectangle(area, MOSS.filled())?;
        }
        canvas.rectangle(area, MOSS.stroke_width(3))?;
        let text = if closed {
            "contacts closed"
        } else {
            "contacts open"
        };
        let short = if closed { "closed" } else { "open" };
        let room = area.right - area.left - 16.0;
        let colour = if closed { PAPER } else { INK };
        let middle = (0.5 * (area.left + area.right), 0.5 * (top + bottom));
        if let Some(text) = [text, short]
            .into_iter()
            .find(|t| canvas.width(t, SMALL) < room)
        {
            canvas.text(text, middle, SMALL, colour, Anchor::Centre)?;
        }
    }
    Ok(())
}

/// Stretches of time over which the contacts stay as they are.
fn runs(states: &[&State]) -> Vec<(f64, f64, bool)> {
    let mut runs: Vec<(f64, f64, bool)> = Vec::new();
    for state in states {
        match runs.last_mut() {
            Some((_, to, closed)) if *closed == state.closed => *to = state.time_s,
            Some((_, to, _)) => {
                *to = state.time_s;
                runs.push((state.time_s, state.time_s, state.closed));
            }
            None => runs.push((state.time_s, state.time_s, state.closed)),
        }
    }
    runs.retain(|(from, to, _)| to > from);
    runs
}
