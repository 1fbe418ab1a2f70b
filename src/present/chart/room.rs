//! Whether a chart can be read on a sheet: large panels, and no words that are cut or lie over
//! others.

use super::draw::words_area;
use super::layout::Layout;
use super::plane::Plane;
use super::sheet::Room;
use super::style::BODY;
use super::text::width;
use super::{Chart, Height, Item, Line, Mark, Name, Panel};

/// Least width and height of a panel.
const NARROWEST: f64 = 420.0;
const LOWEST: f64 = 250.0;
/// Between a name and the edge of its panel.
const ASIDE: f64 = 20.0;
/// How far the title of an axis may stick out on both sides together, across and upwards.
const OVER: [f64; 2] = [100.0, 50.0];

pub(super) fn room(chart: &Chart, layout: &Layout) -> Room {
    let widths = layout.columns.iter().filter_map(|c| c.planes.first());
    let widths = widths.map(|plane| plane.frame.width());
    let wide = match chart.is_split {
        true => widths.sum(),
        false => widths.fold(f64::INFINITY, f64::min),
    };
    let panels = chart.columns.iter().flat_map(|column| &column.panels);
    let planes = layout.columns.iter().flat_map(|column| &column.planes);
    let panels: Vec<(&Panel, &Plane)> = panels.zip(planes).collect();
    let over = if chart.is_split { 0.0 } else { OVER[0] };
    let is_narrow = |(panel, plane): &(&Panel, &Plane)| {
        let room = plane.frame.width();
        width(&plane.x.title, BODY) > room + over
            // Bold letters are wider.
            || width(&panel.caption, 1.1 * BODY) > room
            || has_words_over_words(panel, plane)
            || (!chart.is_split && longest_name(panel) > room)
    };
    if wide < NARROWEST || panels.iter().any(is_narrow) {
        return Room::TooNarrow;
    }
    let is_low = |(panel, plane): &(&Panel, &Plane)| {
        let room = plane.frame.height();
        matches!(panel.height, Height::Share(_))
            && (room < LOWEST.max(upright(panel)).max(all_names(panel))
                || width(&plane.y.title, BODY) > room + OVER[1])
    };
    match panels.iter().any(is_low) {
        true => Room::TooLow,
        false => Room::Enough,
    }
}

fn has_words_over_words(panel: &Panel, plane: &Plane) -> bool {
    let areas = panel.items.iter().filter_map(|i| words_area(plane, i));
    let areas: Vec<_> = areas.collect();
    let later = |k: usize| areas[k + 1..].iter();
    (0..areas.len()).any(|k| later(k).any(|other| areas[k].overlaps(other)))
}

/// Names beside curves and marks that must be there.
fn names(panel: &Panel) -> impl Iterator<Item = &Name> {
    let names = panel.items.iter().filter_map(|item| match item {
        Item::Line(Line { name, .. }) | Item::Mark(Mark { name, .. }) => name.as_ref(),
        Item::Level { name, .. } => name.as_ref(),
        _ => None,
    });
    names.filter(|name| name.priority < Name::MAY_GO)
}

/// Room that the longest of them needs.
fn longest_name(panel: &Panel) -> f64 {
    let widths = names(panel).map(|name| width(&name.text, BODY) + 2.0 * ASIDE);
    widths.fold(0.0, f64::max)
}

/// Height that those need which are more than a letter, one above the other.
fn all_names(panel: &Panel) -> f64 {
    let count = names(panel).filter(|name| name.text.len() > 2).count();
    1.8 * BODY * count as f64
}

/// Height that the longest words along an upright line need.
fn upright(panel: &Panel) -> f64 {
    let lengths = panel.items.iter().map(|item| match item {
        Item::Upright {
            name: Some(name),
            is_written: true,
            ..
        } => width(&name.text, BODY) + 40.0,
        _ => 0.0,
    });
    lengths.fold(0.0, f64::max)
}
