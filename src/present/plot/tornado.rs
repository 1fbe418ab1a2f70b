//! Which tolerance moves the trip point: one bar an input, the longest at the top.

use crate::present::chart::style::*;
use crate::present::chart::{Axis, Bar, Chart, Column, Foot, Item, Key, Panel, Sample, Side, fill};
use crate::present::number::{plain, significant};
use crate::present::words;
use crate::study::population::{TornadoRecord, VaryOutcome};

/// Bars drawn.
const MOST: usize = 12;

/// Draws the figure; `None` where nothing moves the trip point.
pub(super) fn figure(outcome: &VaryOutcome) -> Option<Chart> {
    let bars: Vec<(&TornadoRecord, [f64; 2])> = outcome
        .tornado
        .iter()
        .filter_map(|t| match t.trip_points_a {
            [Some(a), Some(b)] => Some((t, [a, b])),
            _ => None,
        })
        .take(MOST)
        .collect();
    let (Some(nominal), Some((longest, _))) = (outcome.tornado_middle_a, bars.first()) else {
        return None;
    };
    let count = bars.len() as f64;
    let height = |k: usize| count - 0.5 - k as f64;
    let ends = bars.iter().flat_map(|(_, ends)| *ends).chain([nominal]);
    let names = bars.iter().enumerate().rev();
    let names = names
        .map(|(k, (bar, _))| (height(k), bar.path.clone()))
        .collect();
    let mut items: Vec<Item> = Vec::new();
    for (k, (record, ends)) in bars.iter().enumerate() {
        bar(&mut items, height(k), nominal, record, *ends);
    }
    items.push(Item::upright(nominal, stroke(INK, 3, SOLID), ""));
    let mut panel = Panel::new(
        Axis::airy(word!("Trip point, A"), ends, 7, 0.2),
        Axis::linear("", 0.0, count, 1).with_words(names),
        items,
    );
    let text = say!("all in their middle: {} A", significant(nominal, 4));
    panel.top = (vec![(nominal, text)], "");
    let air = say!(
        "input at its 95 % point; air {} °C",
        plain(outcome.ambient_c)
    );
    let keys = [(0, word!("input at its 5 % point")), (1, air.as_str())].map(|(n, words)| {
        let (colour, share) = LOOK[n];
        let filled = Some(fill(colour, share)).filter(|_| share > 0.0);
        let sample = Sample::Patch(filled, Some(stroke(colour, 5, SOLID)));
        Key::new(sample, words)
    });
    let subtitle = say!(
        "{}: each input from its 5 % to its 95 % point, all others in their middle",
        outcome.scenario
    );
    let title = word!("Which tolerance moves the trip point");
    Chart::new("tornado", title, subtitle, vec![Column::of(vec![panel])])
        .with_foot(vec![Foot::Keys(keys.into())])
        .described(say!(
            "One bar for each of {} inputs: the trip point when that input stands at its 5 % point (filled) and at its \
             95 % point (hollow). The longest is {}.",
            bars.len(),
            longest.path
        ))
}

/// Colour and share of the fill of either end: filled and hollow.
const LOOK: [(Colour, f64); 2] = [(LAKE, 1.0), (EMBER, 0.0)];

/// Both ends of an input, from the middle, with their words.
fn bar(items: &mut Vec<Item>, y: f64, nominal: f64, record: &TornadoRecord, ends: [f64; 2]) {
    // Both ends on one side happen where an input acts through its square: the texts then share a
    // side.
    let same_side = (ends[0] - nominal) * (ends[1] - nominal) > 0.0;
    for (n, ((end, value), (colour, share))) in ends.iter().zip(record.ends).zip(LOOK).enumerate() {
        let mut bar = Bar::new([(nominal, y - 0.3), (*end, y + 0.3)], fill(colour, share));
        bar.border = Some(stroke(colour, 6, SOLID));
        items.push(bar.into());
        let is_left = if *end == nominal {
            n == 0
        } else {
            *end < nominal
        };
        let side = if is_left { Side::Left } else { Side::Right };
        if !(same_side && n == 0) {
            items.push(Item::small(
                (*end, y),
                words::end(value, record.dimension),
                colour,
                side,
            ));
        }
    }
}
