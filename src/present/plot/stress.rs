//! Stress through the thickness, free and loaded, against yield.

use super::strip_drawing::layer_colour;
use crate::predict::{Outcome, StressLayer};
use crate::present::chart::style::*;
use crate::present::chart::{
    Aside, Axis, Bar, Chart, Column, Datum, Foot, Item, Line, Panel, fill,
};
use crate::present::number::{celsius, plain, significant};
use crate::present::words;

/// Draws the figure; `None` without stresses.
pub(super) fn figure(outcome: &Outcome) -> Option<Chart> {
    let stress = outcome.stress.as_ref().filter(|s| !s.layers.is_empty())?;
    let place = say!(
        "at {}, {} mm from the clamp, {}",
        words::moment(stress.moment),
        significant(stress.position_mm, 3),
        celsius(Some(stress.temperature_c), 0)
    );
    let layers = &stress.layers;
    let yields = layers.iter().filter_map(|l| l.yield_mpa);
    let stresses = || {
        let all = layers.iter();
        all.flat_map(|l| l.free_mpa.into_iter().chain(l.loaded_mpa))
    };
    let all = stresses().chain(yields.flat_map(|y| [y, -y])).chain([0.0]);
    let x = Axis::airy(
        word!("Stress along the strip, MPa (tension positive)"),
        all,
        8,
        0.06,
    );
    let thickness = layers.last().map_or(1.0, |l| l.to_mm);
    let y = Axis::linear(word!("From the low-expansion face, mm"), 0.0, thickness, 6);
    let ground = |(k, l): (usize, &StressLayer)| {
        let corners = [(x.low, l.from_mm), (x.high, l.to_mm)];
        Bar::ground(corners, fill(layer_colour(k, layers.len()), 0.10)).into()
    };
    let mut items: Vec<Item> = layers.iter().enumerate().map(ground).collect();
    items.push(Item::upright(0.0, stroke(INK, 3, SOLID), ""));
    let borders = layers.iter().skip(1);
    items.extend(borders.map(|l| Item::level(l.from_mm, stroke(INK, 3, SOLID), "")));
    let side = |l: &StressLayer, sign: f64| {
        let y = sign * l.yield_mpa.unwrap_or(f64::NAN);
        [(y, l.from_mm), (y, l.to_mm), (f64::NAN, f64::NAN)]
    };
    let both = |l: &StressLayer| [side(l, 1.0), side(l, -1.0)].concat();
    let limit: Vec<Datum> = layers.iter().flat_map(both).collect();
    let curve = |of: fn(&StressLayer) -> [f64; 2]| -> Vec<Datum> {
        let ends = layers.iter();
        let ends = ends.flat_map(|l| [(of(l)[0], l.from_mm), (of(l)[1], l.to_mm)]);
        ends.collect()
    };
    let lines = [
        (limit, word!("yields"), stroke(PLUM, 6, DASH_DOT)),
        (
            curve(|l| l.free_mpa),
            word!("free: heat alone"),
            stroke(LAKE, 8, SOLID),
        ),
        (
            curve(|l| l.loaded_mpa),
            word!("loaded"),
            stroke(EMBER, 7, DASHED),
        ),
    ];
    let line = |(points, name, stroke)| Line::new(points, stroke).named(name).into();
    items.extend(lines.map(line));
    let mut column = Column::of(vec![Panel::new(x, y, items)]);
    column.side = layers.iter().map(aside).collect();
    let subtitle = format!("{} ({place})", outcome.scenario);
    let loaded_by = words::loaded_by(stress.loaded_by);
    let largest = stresses().fold(0.0_f64, |m, v| m.max(v.abs()));
    Chart::new("stress", word!("Stress through the thickness"), subtitle, vec![column])
        .with_foot(vec![Foot::Note(say!("loaded: {loaded_by}"; loaded_by))])
        .described(say!(
            "Stress against the distance from the low-expansion face {place}: of the free strip (unbroken) and loaded by \
             {loaded_by} (broken), with the yield strength of each layer. The largest is {} MPa.",
            significant(largest, 3)
        ; place, loaded_by))
}

/// Name and thickness beside a layer.
fn aside(layer: &StressLayer) -> Aside {
    let thickness = ((layer.to_mm - layer.from_mm) * 1e4).round() / 1e4;
    let yields = match layer.yield_mpa {
        Some(y) => say!("yields at {} MPa", significant(y, 3)),
        None => word!("yield not known").to_owned(),
    };
    Aside {
        at: (0.0, 0.5 * (layer.from_mm + layer.to_mm)),
        has_leader: false,
        name: layer.alloy.clone(),
        detail: format!("{} mm, {yields}", plain(thickness)),
        colour: INK,
        sample: None,
    }
}
