//! The plot of a lesson: axes to complete, and the same with the answers.

use crate::present::chart::style::*;
use crate::present::chart::{
    Axis, Chart, Column, Datum, Item, Line, Panel, Sheet as Paper, extent,
};
use crate::present::explain::symbol::in_a_line;
use crate::present::words;
use crate::study::by_hand::unit::Unit;
use crate::study::lesson::{Graph, Sheet};

/// Width and height of the sheet, units.
const SIZE: (i32, i32) = (1700, 1050);

/// What stands at both axes: name, symbol and unit.
pub(super) fn titles(graph: &Graph) -> [String; 2] {
    let title = |symbol: &str, unit: Unit| {
        let name = words::lesson::axis(symbol);
        format!("{name} {}, {}", in_a_line(symbol), unit.symbol)
    };
    [
        title(graph.x_symbol, graph.x_unit),
        title(graph.y_symbol, graph.y_unit),
    ]
}

/// Axes and nothing in them, and the sentence below.
pub(super) fn empty(sheet: &Sheet) -> (String, String) {
    drawn(sheet, Vec::new(), words::lesson::to_complete())
}

/// The points by hand with their line, and the full model's curve.
pub(super) fn solved(sheet: &Sheet) -> (String, String) {
    let graph = &sheet.graph;
    let by_hand = Line::new(by_hand(graph), stroke(LAKE, 7, DASHED));
    let full = graph.full.iter().map(|(x, y)| shown(graph, *x, *y));
    let full = Line::new(full.collect(), stroke(EMBER, 7, SOLID));
    let mut items: Vec<Item> = vec![
        full.named(words::lesson::full_model()).into(),
        by_hand.dotted(13).named(words::lesson::by_hand()).into(),
    ];
    if let Some(level) = &graph.level {
        let height = graph.y_unit.shown(level.value_si);
        items.push(Item::level(
            height,
            stroke(PLUM, 4, DASH_DOT),
            words::lesson::releases(),
        ));
    }
    drawn(sheet, items, words::lesson::solved())
}

fn shown(graph: &Graph, x_si: f64, y_si: f64) -> Datum {
    (graph.x_unit.shown(x_si), graph.y_unit.shown(y_si))
}

fn by_hand(graph: &Graph) -> Vec<Datum> {
    let points = graph.points.iter();
    let points = points.map(|p| shown(graph, p.x_si, p.step.result.value_si));
    points.collect()
}

fn drawn(sheet: &Sheet, items: Vec<Item>, caption: &str) -> (String, String) {
    let graph = &sheet.graph;
    let points = by_hand(graph);
    let level = graph.level.as_ref();
    let level = level.map(|q| graph.y_unit.shown(q.value_si));
    let full = graph.full.iter().map(|(x, y)| shown(graph, *x, *y));
    let full: Vec<Datum> = full.collect();
    let all = || points.iter().chain(&full);
    // From nought, or from where the curve begins; with room above for what a pupil gets wrong.
    let least_x = all().map(|p| p.0).fold(f64::INFINITY, f64::min);
    let least_x = if least_x > 0.0 && graph.x_unit.zero == 0.0 {
        0.0
    } else {
        least_x
    };
    let last_x = points.iter().map(|p| p.0).fold(least_x, f64::max);
    let heights = all().filter(|p| p.0 <= 1.02 * last_x).map(|p| p.1);
    let (low, high) = extent(heights.chain(level).chain([0.0])).unwrap_or((0.0, 1.0));
    let (low, high) = (1.2 * low, 1.2 * high);
    let [x, y] = titles(graph);
    let x = fine(Axis::linear(
        x,
        least_x,
        last_x + 0.06 * (last_x - least_x),
        6,
    ));
    let y = fine(Axis::linear(y, low, high, 6));
    let mut panel = Panel::new(x, y, items);
    panel.caption.clear();
    let name = words::lesson::plot(sheet);
    let mut chart = Chart::new("lesson", name, "", vec![Column::of(vec![panel])]);
    chart.has_header = false;
    chart.sheet = Paper::of_units(SIZE);
    chart.description = format!("{name}. {caption}");
    (chart.drawn().svg, caption.to_owned())
}

/// Lines halfway between the numbers: there is something to plot on.
fn fine(axis: Axis) -> Axis {
    let halves = axis
        .ticks
        .windows(2)
        .map(|w| (0.5 * (w[0] + w[1]), String::new()));
    let mut ticks: Vec<(f64, String)> = axis.texts().chain(halves).collect();
    ticks.sort_by(|a, b| a.0.total_cmp(&b.0));
    axis.with_words(ticks)
}
