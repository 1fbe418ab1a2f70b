//! Trip point of some units against one of their inputs: the preload where it differs.

use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Item, Panel};
use crate::present::number::plain;
use crate::quantity::Dimension;
use crate::study::population::VaryOutcome;

/// Draws the figure; `None` with too few units.
pub(super) fn figure(outcome: &VaryOutcome) -> Option<Chart> {
    let (dots, of) = (&outcome.scatter, &outcome.scatter_of);
    if dots.len() < 3 {
        return None;
    }
    let (scale, offset, unit) = handy(outcome.scatter_dimension);
    let input = |x: f64| x * scale - offset;
    let rated = outcome.rated_current_a;
    let title = format!("{of}, {}", unit);
    let panel = Panel::new(
        Axis::around(title, dots.iter().map(|p| input(p.1)), 8),
        Axis::around(
            word!("Trip point, A"),
            dots.iter().map(|p| p.2).chain([rated]),
            8,
        ),
        vec![
            Item::Cloud(dots.iter().map(|p| (input(p.1), p.2)).collect(), LAKE),
            Item::level(
                rated,
                stroke(EMBER, 4, DASHED),
                say!("rated {} A", plain(rated)),
            ),
        ],
    );
    let subtitle = say!(
        "{}: {} of {} units, air {} °C",
        outcome.scenario,
        dots.len(),
        outcome.units,
        plain(outcome.ambient_c)
    );
    let title = say!("Trip point against {of}"; of);
    Chart::new("scatter", title, subtitle, vec![Column::of(vec![panel])]).described(say!(
            "One dot a unit: its trip point against its {of}, {} units, with the rated current.",
            dots.len()
        ; of))
}

/// Scale, offset and unit in which a person reads an input.
fn handy(dimension: Dimension) -> (f64, f64, &'static str) {
    match dimension {
        Dimension::Length => (1e3, 0.0, "mm"),
        Dimension::Force => (1.0, 0.0, "N"),
        Dimension::Temperature => (1.0, ZERO_CELSIUS_K, "°C"),
        Dimension::Resistance => (1e3, 0.0, "mΩ"),
        Dimension::Conductance => (1e3, 0.0, "mW/K"),
        Dimension::HeatCapacity => (1.0, 0.0, "J/K"),
        Dimension::Current => (1.0, 0.0, "A"),
        _ => (1.0, 0.0, "SI"),
    }
}
