//! What is known of the metals, in words.

use crate::answer::{DataBand, DataShare, Known, MetalData};
use crate::present::number::{duration, percent, significant};

/// How far the answers may lie from those stated because the metals' data do, in one sentence.
pub(crate) fn metal_data(data: &MetalData) -> String {
    if data.properties == 0 {
        return word!("no property in use has an uncertainty").to_owned();
    }
    let times = |k: &Known, what| said(k, what, |s| duration(s, 2));
    let mut parts: Vec<String> = [
        times(&data.trip_time_s, word!("trip time")),
        said(&data.trip_point_a, word!("trip point"), |a| {
            format!("{} A", significant(a, 3))
        }),
        times(&data.relatch_wait_s, word!("reset wait")),
        times(&data.ready_wait_s, word!("start wait")),
    ]
    .into_iter()
    .flatten()
    .collect();
    if parts.is_empty() {
        return word!("none of the answers is a number").to_owned();
    }
    let mut text = parts.remove(0);
    for part in parts {
        text += &format!(", {part}");
    }
    text += word!(" in 9 of 10 draws of what is known of the metals");
    let first = [&data.trip_time_s, &data.trip_point_a];
    if let Some(most) = first.iter().find_map(|k| k.band()?.shares.first()) {
        text += &say!("; most of it from the {}", source(most));
    }
    if let Some(share) = data.holds_share.filter(|s| *s > 0.0 && *s < 1.0) {
        text += &say!("; in {} of all it holds this load for ever", percent(share));
    }
    text
}

fn source(of: &DataShare) -> String {
    let from = &of.source;
    let memory = if from.from_memory {
        word!(", from memory")
    } else {
        ""
    };
    say!(
        "{} of {} ({}{memory})",
        from.property.name(),
        from.metal,
        percent(of.share)
    ; memory)
}

fn said(known: &Known, what: &str, number: impl Fn(f64) -> String) -> Option<String> {
    match known {
        Known::NotAsked => None,
        Known::Within(DataBand { low, high, .. }) => {
            let high = high.map_or(word!("never").to_owned(), &number);
            Some(say!("{what} {} to {high}", number(*low); what, high))
        }
        Known::Undecided { by } => Some(say!(
            "{what} a number or none, by the {} of {}",
            by.property.name(),
            by.metal
        ; what)),
    }
}
