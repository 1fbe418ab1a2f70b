//! What a dial does along its scale: clearance, trip time, temperatures and wait against the mark.

use crate::predict::{Dial, DialMark, Outcome};
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Item, Line, Panel};
use crate::present::number::{celsius, plain, significant};

/// Draws the figure; `None` without a dial.
pub(super) fn figure(outcome: &Outcome) -> Option<Chart> {
    let dial = outcome.dial.as_ref()?;
    let travel = panel(
        dial,
        word!("Clearance, mm"),
        &[("", LAKE_LINE, |m| m.travel_mm)],
        &[],
    );
    let trip = panel(
        dial,
        &say!("Trip time at {} times the mark, s", plain(dial.timed_at)),
        &[("", PLUM_LINE, |m| m.trip_time.time_s().unwrap_or(f64::NAN))],
        &window(dial),
    );
    let limit = dial
        .winding_limit_c
        .map(|c| (c, say!("winding stands {}", celsius(Some(c), 0))));
    let heat = panel(
        dial,
        word!("Hottest, °C"),
        &[
            (word!("winding"), PLUM_LINE, |m| {
                m.winding_c.unwrap_or(f64::NAN)
            }),
            (word!("strip"), EMBER_LINE, |m| m.strip_c),
        ],
        &limit.into_iter().collect::<Vec<_>>(),
    );
    let wait = panel(
        dial,
        word!("Wait for the reset after it, s"),
        &[("", MOSS_LINE, |m| {
            m.relatch_wait.time_s().unwrap_or(f64::NAN)
        })],
        &[],
    );
    let subtitle = say!(
        "{}: every mark trips at {} times itself (as new, air {} °C, cold)",
        outcome.scenario,
        plain(dial.trips_at),
        plain(outcome.part.reference_ambient_c)
    );
    let columns = vec![Column::of(vec![travel, trip]), Column::of(vec![heat, wait])];
    Chart::new("dial", word!("Along the dial"), subtitle, columns)
        .described(
            word!("Against the mark of the dial: the clearance of the latch; the time to trip at a multiple of the mark \
             with the limits of its class; the hottest points of strip and winding; the wait for the reset."),
        )
}

const LAKE_LINE: Stroke = stroke(LAKE, 6, SOLID);
const PLUM_LINE: Stroke = stroke(PLUM, 6, DASH_DOT);
const EMBER_LINE: Stroke = stroke(EMBER, 6, DASHED);
const MOSS_LINE: Stroke = stroke(MOSS, 6, SOLID);

type Curve = (&'static str, Stroke, fn(&DialMark) -> f64);

/// Curves against the mark, with levels to compare with.
fn panel(dial: &Dial, title: &str, curves: &[Curve], levels: &[(f64, String)]) -> Panel {
    let known = |c: &&Curve| dial.marks.iter().any(|m| (c.2)(m).is_finite());
    let curves = || curves.iter().filter(known);
    let values = dial
        .marks
        .iter()
        .flat_map(|m| curves().map(move |c| (c.2)(m)));
    let values = values
        .filter(|v| v.is_finite())
        .chain(levels.iter().map(|l| l.0));
    let y = Axis::airy(title, values, 5, 0.16);
    let mut items: Vec<Item> = levels
        .iter()
        .map(|(at, name)| Item::level(*at, stroke(INK, 4, DOTTED), name))
        .collect();
    items.extend(curves().map(|(name, stroke, value)| {
        let points = dial.marks.iter().map(|m| (m.mark_a, value(m)));
        let line = Line::new(points.collect(), *stroke).dotted(11).named(*name);
        line.numbered(|y| significant(y, 3)).into()
    }));
    let xs = dial.marks.iter().map(|m| m.mark_a);
    Panel::new(
        Axis::airy(word!("Mark of the dial, A"), xs, 6, 0.11),
        y,
        items,
    )
}

/// The published window at the multiple at which marks are timed.
fn window(dial: &Dial) -> Vec<(f64, String)> {
    let limits = dial.ends().next().map_or(&[][..], |m| &m.limits);
    let row = limits.iter().find(|l| l.demand.multiple == dial.timed_at);
    let times = row.map(|l| {
        [
            (word!("earliest"), l.demand.at_least_s),
            (word!("latest"), l.demand.at_most_s),
        ]
    });
    let times = times.into_iter().flatten();
    let level = |(name, time): (&str, Option<f64>)| {
        let time = time?;
        Some((time, say!("{name} of its class: {} s", plain(time); name)))
    };
    times.filter_map(level).collect()
}
