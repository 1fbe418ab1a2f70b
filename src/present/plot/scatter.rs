//! Trip point of some units against one of their inputs: the preload where it differs.

use super::area::Area;
use super::axis::Axis;
use super::canvas::sheet;
use super::label::Labels;
use super::panel::Panel;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::present::number::plain;
use crate::study::population::VaryOutcome;

/// Draws the figure; `None` with too few units.
pub(super) fn figure(outcome: &VaryOutcome) -> Result<Option<Figure>, PlotError> {
    if outcome.scatter.len() < 3 {
        return Ok(None);
    }
    let title = format!("Trip point against {}", outcome.scatter_of);
    let raw = sheet(|canvas| {
        canvas.header(
            &title,
            &format!(
                "{}: {} of {} units, air {} °C",
                outcome.scenario,
                outcome.scatter.len(),
                outcome.units,
                plain(outcome.ambient_c)
            ),
        )?;
        let xs = outcome.scatter.iter().map(|p| p.1);
        let ys = outcome
            .scatter
            .iter()
            .map(|p| p.2)
            .chain([outcome.rated_current_a]);
        let panel = Panel {
            frame: Area {
                left: 230.0,
                top: 190.0,
                right: 2300.0,
                bottom: 1310.0,
            },
            x: Axis::around(
                format!("{}, {}", outcome.scatter_of, outcome.scatter_unit),
                xs,
                8,
            ),
            y: Axis::around("Trip point, A", ys, 8),
        };
        panel.draw(canvas, true, true)?;
        for (_, x, y) in &outcome.scatter {
            canvas.disc(panel.at(*x, *y), 5, LAKE)?;
        }
        let mut labels = Labels::inside(&[panel.frame]);
        let rated = outcome.rated_current_a;
        let line = panel.level(canvas, rated, stroke(EMBER, 4, DASHED))?;
        let number = labels.helper(&line);
        labels.beside(canvas, number, &format!("rated {} A", plain(rated)), EMBER)
    })?;
    let description = format!(
        "One dot a unit: its trip point against its {}, {} units, with the rated current.",
        outcome.scatter_of,
        outcome.scatter.len()
    );
    vector::finish("scatter", title, description, &raw).map(Some)
}
