//! Where everything lies on the sheet.

use super::area::Area;
use super::flags::Flags;
use super::foot::Rows;
use super::plane::Plane;
use super::style::{BODY, SMALL};
use super::text::width;
use super::{Chart, Column, Flag, Height, Panel};

const EDGE: f64 = 50.0;
/// Room of numbers and title below a panel, and of what is left below everything.
const AXIS: f64 = 112.0;
const BELOW: f64 = 28.0;
const CAPTION: f64 = 58.0;
const TOP_WORDS: f64 = 56.0;
/// Between panels, and beside one without axes.
const BETWEEN: f64 = 44.0;
const BESIDE_BARE: f64 = 16.0;
const BETWEEN_COLUMNS: f64 = 60.0;
/// Longest words at an axis, and widest names beside a panel.
pub(super) const MOST_WORDS: f64 = 640.0;
const MOST_SIDE: f64 = 600.0;
/// From a panel to the names beside it, and the room of their samples.
pub(super) const SIDE: f64 = 36.0;
pub(super) const SIDE_SAMPLE: f64 = 104.0;

/// A column on the sheet.
pub(super) struct Placed {
    pub(super) planes: Vec<Plane>,
    pub(super) flags: Flags,
}

pub(super) struct Layout {
    pub(super) columns: Vec<Placed>,
    pub(super) foot_top: f64,
}

impl Layout {
    /// Below a header so high; columns beside each other, or one below the other.
    pub(super) fn of(
        chart: &Chart,
        (wide, high): (i32, i32),
        (header, is_stacked): (f64, bool),
        rows: &Rows<'_>,
    ) -> Self {
        let foot_top = f64::from(high) - BELOW - rows.height();
        let whole = f64::from(wide);
        let spans = match is_stacked {
            true => below(chart, whole),
            false => beside(chart, whole),
        };
        let flags: Vec<Flags> = chart
            .columns
            .iter()
            .zip(&spans)
            .map(|(column, span)| flags(column, *span))
            .collect();
        let above = |column: &Column| {
            let first = column.panels.first();
            let caption = first.is_some_and(|p| !p.caption.is_empty());
            let words = first.is_some_and(|p| !p.top.0.is_empty());
            f64::from(u8::from(caption)) * CAPTION + f64::from(u8::from(words)) * TOP_WORDS
        };
        let most = |values: &mut dyn Iterator<Item = f64>| values.fold(0.0, f64::max);
        let above = most(&mut chart.columns.iter().map(above));
        let above = above + most(&mut flags.iter().map(Flags::height));
        let count = if is_stacked { chart.columns.len() } else { 1 };
        let each = (foot_top - header) / count as f64;
        let columns = chart.columns.iter().zip(spans).zip(flags).enumerate();
        let columns = columns
            .map(|(k, ((column, (left, right)), flags))| {
                let start = header + if is_stacked { k as f64 * each } else { 0.0 };
                let room = Area::new(left, start + above, right, start + each - AXIS);
                let planes = stacked(column, room);
                Placed { planes, flags }
            })
            .collect();
        Self { columns, foot_top }
    }
}

/// Left and right ends of columns beside each other.
fn beside(chart: &Chart, whole: f64) -> Vec<(f64, f64)> {
    let count = chart.columns.len();
    let left = |k: usize| match chart.is_split && k > 0 {
        true => 0.0,
        false => left_room(&chart.columns[k]),
    };
    let right = |k: usize| right_room(&chart.columns[k]);
    let margins: f64 = (0..count).map(|k| left(k) + right(k)).sum();
    let between = BETWEEN_COLUMNS * count.saturating_sub(1) as f64;
    let free = whole - 2.0 * EDGE - margins - between;
    let shares: f64 = chart.columns.iter().map(|c| c.width).sum();
    let mut start = EDGE;
    let mut spans = Vec::new();
    for (k, column) in chart.columns.iter().enumerate() {
        let from = start + left(k);
        let to = from + free * column.width / shares;
        spans.push((from, to));
        start = to + right(k) + BETWEEN_COLUMNS;
    }
    spans
}

/// Left and right ends of columns one below the other: the same for all.
fn below(chart: &Chart, whole: f64) -> Vec<(f64, f64)> {
    let most = |room: fn(&Column) -> f64| chart.columns.iter().map(room).fold(0.0, f64::max);
    let span = (EDGE + most(left_room), whole - EDGE - most(right_room));
    vec![span; chart.columns.len()]
}

/// Flags with places, their moments turned into places on the sheet.
fn flags(column: &Column, (left, right): (f64, f64)) -> Flags {
    let across = |x: f64| {
        let at = column.panels.first().map_or(0.0, |p| p.x.at(x));
        left + at * (right - left)
    };
    let flags: Vec<Flag> = column
        .flags
        .iter()
        .map(|f| Flag {
            x: across(f.x),
            ..f.clone()
        })
        .collect();
    Flags::place(flags, left - 60.0, right + 45.0)
}

/// Panels one above the other.
fn stacked(column: &Column, room: Area) -> Vec<Plane> {
    let is_bare = |p: &Panel| matches!(p.height, Height::Bare(_));
    let gap = |pair: &[Panel]| match is_bare(&pair[0]) || is_bare(&pair[1]) {
        true => BESIDE_BARE,
        false if pair[1].caption.is_empty() => BETWEEN,
        false => BETWEEN + CAPTION,
    };
    let gaps: Vec<f64> = column.panels.windows(2).map(gap).collect();
    let (mut bare, mut shares) = (0.0, 0.0);
    for panel in &column.panels {
        match panel.height {
            Height::Bare(height) => bare += height,
            Height::Share(share) => shares += share,
        }
    }
    let free = room.height() - gaps.iter().sum::<f64>() - bare;
    let mut top = room.top;
    let mut planes = Vec::new();
    for (k, panel) in column.panels.iter().enumerate() {
        let height = match panel.height {
            Height::Bare(height) => height,
            Height::Share(share) => free * share / shares,
        };
        let bottom = top + height;
        planes.push(Plane::new(
            Area {
                top,
                bottom,
                ..room
            },
            &panel.x,
            &panel.y,
        ));
        top = bottom + gaps.get(k).copied().unwrap_or(0.0);
    }
    planes
}

/// Numbers and title of the widest vertical axis.
fn left_room(column: &Column) -> f64 {
    let shown = column
        .panels
        .iter()
        .filter(|p| matches!(p.height, Height::Share(_)));
    let rooms = shown.map(|panel| {
        let lanes = [panel.y.lane, panel.y.foot].into_iter().flatten();
        let texts = panel.y.texts().map(|(_, text)| text);
        let texts = texts.chain(lanes.map(str::to_owned));
        let widest = texts.map(|t| width(&t, BODY)).fold(0.0, f64::max);
        let title = if panel.y.title.is_empty() { 14.0 } else { 72.0 };
        widest.min(MOST_WORDS) + title
    });
    rooms.fold(20.0, f64::max)
}

/// Half a number of the horizontal axis, words at the right, or names beside the panel.
fn right_room(column: &Column) -> f64 {
    let words = column.panels.iter().flat_map(|panel| {
        let names = panel.right.iter().map(|(_, text)| text.as_str());
        names.chain([panel.top.1]).filter(|t| !t.is_empty())
    });
    let words = words.map(|t| width(t, BODY) + 30.0);
    let side = column.side.iter().map(|aside| {
        let name = width(&aside.name, BODY);
        let wide = name.max(width(&aside.detail, SMALL)).min(MOST_SIDE);
        let sample = aside.sample.map_or(0.0, |_| SIDE_SAMPLE);
        SIDE + sample + wide
    });
    words.chain(side).fold(20.0, f64::max)
}
