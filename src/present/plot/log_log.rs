//! Trip time against current on logarithmic axes: the axes, again in multiples of the rating and as
//! a person says long times, the band of a share of parts, and published limits.

use crate::present::chart::style::*;
use crate::present::chart::{Axis, Datum, Fill, Item, Line, Mark, Panel, Shape, extent};
use crate::present::number::{finite, plain};

/// Standard uncertainties on either side that hold 90 % of a normal distribution.
pub(super) const NINETY_PERCENT: f64 = 1.645;

/// Numbers along an axis of multiples.
pub(super) const MULTIPLES: [f64; 13] = [
    1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 15.0, 20.0, 30.0, 50.0,
];

pub(super) fn is_positive(value: f64) -> bool {
    value.is_finite() && value > 0.0
}

/// A panel whose axes hold these currents and times.
pub(super) fn panel(
    currents: impl Iterator<Item = f64>,
    times: impl Iterator<Item = f64>,
    items: Vec<Item>,
) -> Panel {
    let (i_low, i_high) = extent(currents.filter(|i| is_positive(*i))).unwrap_or((1.0, 10.0));
    let (t_low, t_high) = extent(times.filter(|t| is_positive(*t))).unwrap_or((0.1, 100.0));
    let mut panel = Panel::new(
        Axis::log(word!("Current, A"), i_low * 0.85, i_high * 1.12),
        Axis::log(word!("Time to trip, s"), t_low * 0.6, t_high * 1.9),
        items,
    );
    let long = [
        (60.0, "1 min"),
        (120.0, "2 min"),
        (300.0, "5 min"),
        (600.0, "10 min"),
        (1200.0, "20 min"),
        (3600.0, "1 h"),
        (7200.0, "2 h"),
        (14_400.0, "4 h"),
    ];
    panel.right = long.map(|(time, text)| (time, text.to_owned())).into();
    panel
}

/// The current again at the top, in multiples of the rating.
pub(super) fn with_multiples(mut panel: Panel, rated_a: f64) -> Panel {
    let text = |m: f64| (m * rated_a, format!("{} x", plain(m)));
    panel.top = (MULTIPLES.map(text).into(), word!("rated"));
    panel
}

/// The rating, with its words along it.
pub(super) fn rating(rated_a: f64) -> Item {
    let text = say!("rated {} A", plain(rated_a));
    Item::written(rated_a, stroke(QUIET, 4, DOTTED), text)
}

/// How the band of a share of parts looks.
pub(super) struct TimesBand {
    pub(super) fill: Fill,
    pub(super) edge: Stroke,
    pub(super) median: Option<Stroke>,
}

impl TimesBand {
    /// Area, edges and median of times against current; they run out at the top where parts hold
    /// for ever. Nothing where none trips.
    pub(super) fn items(&self, name: &str, times: &[(f64, [Option<f64>; 3])]) -> Vec<Item> {
        let edge = |k: usize| -> Vec<Datum> {
            let time = |t: &[Option<f64>; 3]| t[k].filter(|t| is_positive(*t));
            times
                .iter()
                .map(|(i, t)| (*i, time(t).unwrap_or(f64::INFINITY)))
                .collect()
        };
        let [low, median, high] = [0, 1, 2].map(edge);
        if low.iter().all(|p| p.1 == f64::INFINITY) {
            return Vec::new();
        }
        let lines = [
            Some((&low, self.edge)),
            Some((&high, self.edge)),
            self.median.map(|stroke| (&median, stroke)),
        ];
        let lines = lines.into_iter().flatten();
        let mut lines: Vec<Line> = lines
            .map(|(edge, stroke)| Line::new(course(edge), stroke))
            .collect();
        if let Some(last) = lines.pop() {
            lines.push(last.named(name));
        }
        let mut items = vec![Item::band(low, high, self.fill)];
        items.extend(lines.into_iter().map(Item::from));
        items
    }
}

/// The currents that trip, with the line running out of the top towards the last current that is
/// held.
fn course(edge: &[Datum]) -> Vec<Datum> {
    let is_held = |p: &&Datum| p.1 == f64::INFINITY;
    let held = edge.iter().take_while(is_held).last();
    let trips = edge.iter().filter(|p| !is_held(p));
    held.into_iter().chain(trips).copied().collect()
}

/// A published limit at a current.
pub(super) struct Limit {
    pub(super) current: f64,
    pub(super) at_least_s: Option<f64>,
    pub(super) at_most_s: Option<f64>,
    /// Whether it is for the air of the curve.
    pub(super) is_comparable: bool,
}

/// Marks of limits, each with its letter; `holds_at_s` is where a current that must be held stands.
pub(super) fn limits(limits: &[Limit], holds_at_s: f64) -> Vec<Item> {
    let mark = |(k, limit): (usize, &Limit)| {
        let time = |t: Option<f64>| finite(t).filter(|t| *t > 0.0);
        let (at_s, shape) = match (time(limit.at_least_s), time(limit.at_most_s)) {
            (Some(low), Some(_)) => (low, Shape::Window),
            (Some(low), None) => (low, Shape::AtLeast),
            (None, Some(high)) => (high, Shape::AtMost),
            (None, None) => (holds_at_s, Shape::Holds),
        };
        let colour = if limit.is_comparable { PLUM } else { QUIET };
        let mut mark = Mark::new((limit.current, at_s), shape, colour).named(letter(k));
        if shape == Shape::Window {
            mark.along = time(limit.at_most_s).map(|high| [at_s, high]);
        }
        mark.into()
    };
    limits.iter().enumerate().map(mark).collect()
}

/// The letter of a limit in the figure and in its key.
pub(super) fn letter(k: usize) -> String {
    let alphabet = b"ABCDEFGHIJKLMNOPQRSTUVWXYZ";
    match alphabet.get(k) {
        Some(c) => char::from(*c).to_string(),
        None => say!("L{}", k + 1),
    }
}
