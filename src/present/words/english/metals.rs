//! What is known of the metals, in words.

use crate::answer::{DataBand, Known, MetalData};
use crate::present::number::{duration, percent, significant};

/// How far the answers may lie from those stated because the metals' data do, in one sentence.
pub(crate) fn metal_data(data: &MetalData) -> String {
    if data.properties == 0 {
        return word!("no property in use has an uncertainty").to_owned();
    }
    let times = |k: &Known, what| said(k, what, |s| duration(s, 2));
    let parts: Vec<String> = [
        times(&data.trip_time_s, word!("trip")),
        said(&data.trip_point_a, word!("trip point"), |a| {
            format!("{} A", significant(a, 3))
        }),
        times(&data.relatch_wait_s, word!("reset")),
        times(&data.ready_wait_s, word!("start wait")),
    ]
    .into_iter()
    .flatten()
    .collect();
    if parts.is_empty() {
        return word!("none of the answers is a number").to_owned();
    }
    let mut text = parts.join(", ");
    text += word!(" in 9 of 10 draws");
    let first = [&data.trip_time_s, &data.trip_point_a];
    if let Some(most) = first.iter().find_map(|k| k.band()?.shares.first()) {
        let (property, metal) = (most.source.property.name(), &most.source.metal);
        text += &say!("; most: {property} of {metal}"; property, metal);
    }
    if let Some(share) = data.holds_share.filter(|s| *s > 0.0 && *s < 1.0) {
        text += &say!("; in {} of all it holds for ever", percent(share));
    }
    text
}

/// From one number to another, with the unit once where both have the same.
fn between(low: &str, high: &str) -> String {
    let short = match (low.rsplit_once(' '), high.rsplit_once(' ')) {
        (Some((number, unit)), Some((_, same))) if unit == same && !number.contains(' ') => number,
        _ => low,
    };
    say!("{short} to {high}"; short, high)
}

fn said(known: &Known, what: &str, number: impl Fn(f64) -> String) -> Option<String> {
    match known {
        Known::NotAsked => None,
        Known::Within(DataBand { low, high, .. }) => {
            let high = high.map_or(word!("never").to_owned(), &number);
            let range = between(&number(*low), &high);
            Some(format!("{what} {range}"))
        }
        Known::Undecided { by } => Some(say!(
            "{what} perhaps none, by the {} of {}",
            by.property.name(),
            by.metal
        ; what)),
    }
}
