//! Trip point of some units against one of their inputs: the preload where it differs.

use super::{Figure, PlotError};
use crate::answer::Caution;
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Item, Panel};
use crate::present::number::plain;
use crate::study::population::VaryOutcome;

/// Draws the figure; `None` with too few units.
pub(super) fn figure(outcome: &VaryOutcome) -> Result<Option<Figure>, PlotError> {
    let (dots, of) = (&outcome.scatter, &outcome.scatter_of);
    if dots.len() < 3 {
        return Ok(None);
    }
    let rated = outcome.rated_current_a;
    let title = format!("{of}, {}", super::symbols(&outcome.scatter_unit));
    let panel = Panel::new(
        Axis::around(title, dots.iter().map(|p| p.1), 8),
        Axis::around("Trip point, A", dots.iter().map(|p| p.2).chain([rated]), 8),
        vec![
            Item::Cloud(dots.iter().map(|p| (p.1, p.2)).collect(), LAKE),
            Item::level(
                rated,
                stroke(EMBER, 4, DASHED),
                format!("rated {} A", plain(rated)),
            ),
        ],
    );
    let subtitle = format!(
        "{}: {} of {} units, air {} °C",
        outcome.scenario,
        dots.len(),
        outcome.units,
        plain(outcome.ambient_c)
    );
    let title = format!("Trip point against {of}");
    Chart::new("scatter", title, subtitle, vec![Column::of(vec![panel])])
        .cautioned(&[Caution::ModelledScatter])
        .described(format!(
            "One dot a unit: its trip point against its {of}, {} units, with the rated current.",
            dots.len()
        ))
}
