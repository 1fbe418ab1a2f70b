//! How the trip point is spread over the units.

use crate::present::chart::style::*;
use crate::present::chart::{Axis, Bar, Chart, Column, Item, Panel, fill};
use crate::present::number::{plain, significant};
use crate::study::population::VaryOutcome;

/// Bars over the range that holds all units.
const BARS: usize = 48;

/// Draws the figure; `None` where no unit has a trip point.
pub(super) fn figure(outcome: &VaryOutcome) -> Option<Chart> {
    let spread = &outcome.trip_point_a;
    let (Some(least), Some(greatest)) = (spread.least, spread.greatest) else {
        return None;
    };
    if !(greatest > least) {
        return None;
    }
    let bars = bars(&outcome.trip_point_bins, least, greatest);
    let most = bars.iter().map(|b| b.2).fold(0.0, f64::max);
    let rated = outcome.rated_current_a;
    let bar = |(low, high, units): &(f64, f64, f64)| {
        let mut bar = Bar::new([(*low, 0.0), (*high, *units)], fill(LAKE, 0.45));
        bar.border = Some(stroke(PAPER, 4, SOLID));
        Item::from(bar)
    };
    let mut items: Vec<Item> = bars.iter().filter(|b| b.2 > 0.0).map(bar).collect();
    let strokes = [
        stroke(EMBER, 5, DASHED),
        stroke(LAKE, 5, SOLID),
        stroke(PLUM, 5, DASH_DOT),
    ];
    for (q, stroke) in spread.quantiles.iter().zip(strokes) {
        if let Some(value) = q.value {
            let percent = plain(100.0 * q.probability);
            let text = format!("{percent} %: {} A", significant(value, 4));
            items.push(Item::upright(value, stroke, text));
        }
    }
    let text = say!("rated {} A", plain(rated));
    items.push(Item::upright(rated, stroke(QUIET, 4, DOTTED), text));
    let panel = Panel::new(
        Axis::airy(
            word!("Trip point, A"),
            [least, greatest, rated].into_iter(),
            8,
            0.05,
        ),
        Axis::linear(word!("Units a bar"), 0.0, 1.12 * most, 6),
        items,
    );
    let air = plain(outcome.ambient_c);
    let subtitle = say!(
        "{}: {} units, air {air} °C",
        outcome.scenario, outcome.units
    ; air);
    let columns = vec![Column::of(vec![panel])];
    Chart::new("trip_point", word!("How the trip point is spread"), subtitle, columns).described(say!(
        "Number of units against their trip point, from {} A to {} A, with the 5, 50 and 95 % quantiles and the rated \
         current.",
        significant(least, 4),
        significant(greatest, 4)
    ))
}

/// Narrow bins shared out to bars of equal width.
fn bars(bins: &[(f64, f64, u64)], least: f64, greatest: f64) -> Vec<(f64, f64, f64)> {
    let width = (greatest - least) / BARS as f64;
    let mut bars: Vec<(f64, f64, f64)> = (0..BARS)
        .map(|k| {
            (
                least + k as f64 * width,
                least + (k + 1) as f64 * width,
                0.0,
            )
        })
        .collect();
    for (low, high, units) in bins {
        // A bin may reach beyond the least or greatest value; nothing lies there.
        let (low, high) = (low.max(least), high.min(greatest));
        for bar in &mut bars {
            let common = high.min(bar.1) - low.max(bar.0);
            if common > 0.0 {
                bar.2 += *units as f64 * common / (high - low);
            }
        }
    }
    bars
}
