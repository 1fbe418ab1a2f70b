//! Where over two free numbers a part meets what is wanted of it.

use super::sweep::sides;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::chart::style::*;
use crate::present::chart::{
    Axis, Bar, Chart, Column, Datum, Foot, Item, Key, Line, Mark, Panel, Sample, Shape, fill,
};
use crate::present::design::name;
use crate::present::words;
use crate::quantity::Dimension;
use crate::study::design::{DesignOutcome, MapCell, Wanted};

/// Fills of what is missed, in the order of the wants.
const MISSED: [Fill; 6] = [
    fill(EMBER, 0.45),
    fill(LAKE, 0.35),
    fill(PLUM, 0.35),
    fill(CLAY, 0.45),
    fill(EMBER, 0.2),
    fill(LAKE, 0.15),
];

/// Draws the map; `None` where none was asked for.
pub(super) fn figure(outcome: &DesignOutcome) -> Option<Chart> {
    let map = outcome.map.as_ref()?;
    let across = map.values[0].len();
    let mut items: Vec<Item> = Vec::new();
    for (k, cell) in map.cells.iter().enumerate() {
        let (x, y) = ((k % across) as f64, (k / across) as f64);
        let corners = [(x - 0.5, y - 0.5), (x + 0.5, y + 0.5)];
        match cell {
            MapCell::Met => {
                let mut bar = Bar::ground(corners, fill(MOSS, 0.6));
                bar.border = Some(stroke(INK, 3, SOLID));
                items.push(bar.into());
            }
            MapCell::Misses { want } => {
                items.push(Bar::ground(corners, MISSED[want % MISSED.len()]).into());
            }
            MapCell::NoPart => items.push(Mark::new((x, y), Shape::Cross, QUIET).into()),
        }
    }
    items.push(Mark::new((map.at[0], map.at[1]), Shape::Ring, INK).into());
    let mut keys = vec![Key::new(
        Sample::Patch(Some(fill(MOSS, 0.6)), None),
        word!("every want is met (framed)"),
    )];
    let ring = Sample::Shape(Shape::Ring, INK);
    keys.push(Key::new(ring, word!("the part that was found")));
    let wants = outcome.wants.iter().enumerate();
    let missed = wants.filter(|(w, _)| map.cells.contains(&MapCell::Misses { want: *w }));
    keys.extend(missed.map(|(w, want)| {
        let sample = Sample::Patch(Some(MISSED[w % MISSED.len()]), None);
        Key::new(sample, say!("missed most: {}", name(&want.want)))
    }));
    if map.cells.contains(&MapCell::NoPart) {
        let cross = Sample::Shape(Shape::Cross, QUIET);
        keys.push(Key::new(cross, word!("no such part, or no prediction")));
    }
    let [x, y] = [0, 1].map(|k| sides(&map.paths[k], &map.values[k]));
    let columns = vec![Column::of(vec![Panel::new(x, y, items)])];
    let title = word!("Where the part meets what is wanted");
    Chart::new("feasible", title, outcome.title.as_str(), columns)
        .with_foot(vec![Foot::Keys(keys)])
        .described(word!(
            "Cells over two free numbers, all others as found: whether every want is met, \
                    and which is missed most."
        ))
}

/// Parts that differ by less than this, to either side, differ by where a search has ended: no axis
/// is narrower.
const NO_COST: f64 = 0.02;

/// Draws what one want costs the other; `None` where none was asked for, or where it is no curve.
pub(super) fn trade(outcome: &DesignOutcome) -> Option<Chart> {
    let trade = outcome.trade.as_ref().filter(|t| t.points.len() > 1)?;
    let wants = trade.wants.map(|k| &outcome.wants[k].want);
    let data = trade.points.iter().map(|p| {
        let [x, y] = [0, 1].map(|k| shown(wants[k].wanted, p.values[k]));
        ((x, y), p.others_met)
    });
    let data: Vec<(Datum, bool)> = data.collect();
    let line = data.iter().map(|(at, _)| *at).collect();
    let mut items: Vec<Item> = vec![Line::new(line, stroke(LAKE, 6, SOLID)).dotted(9).into()];
    let unmet = data.iter().filter(|(_, others_met)| !others_met);
    items.extend(unmet.map(|(at, _)| Mark::new(*at, Shape::Cross, EMBER).into()));
    let axis = |k: usize, values: Vec<f64>| {
        let (what, unit) = (name(wants[k]), words::unit_of(wants[k].wanted));
        let title = match unit {
            "" => what,
            _ => format!("{what}, {unit}"),
        };
        let [low, high] = [f64::min, f64::max].map(|end| values.iter().copied().reduce(end));
        let middle = 0.5 * (low.unwrap_or(0.0) + high.unwrap_or(0.0));
        let least = [1.0 - NO_COST, 1.0 + NO_COST].map(|part| part * middle);
        Axis::airy(title, values.into_iter().chain(least), 7, 0.12)
    };
    let x = axis(0, data.iter().map(|d| d.0.0).collect());
    let y = axis(1, data.iter().map(|d| d.0.1).collect());
    let columns = vec![Column::of(vec![Panel::new(x, y, items)])];
    let note =
        word!("Each point is a part of its own; a cross: another want is missed there.").to_owned();
    Chart::new(
        "trade",
        word!("What one want costs the other"),
        outcome.title.as_str(),
        columns,
    )
    .with_foot(vec![Foot::Note(note)])
    .described(word!(
        "The best of one answer against another, a point a part."
    ))
}

/// A value as an axis has it.
fn shown(wanted: Wanted, value: f64) -> f64 {
    match wanted.dimension() {
        _ if wanted == Wanted::Cost => value,
        Dimension::Temperature => value - ZERO_CELSIUS_K,
        Dimension::Fraction => 100.0 * value,
        Dimension::Voltage => 1e3 * value,
        _ => value,
    }
}
