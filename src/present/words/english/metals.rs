//! What is known of the metals, in words.

use crate::answer::{DataBand, Known, MetalData, PropertyName};
use crate::present::language::worded;
use crate::present::number::{NONE, duration, percent, significant};

/// How far the answers may lie from those stated because the metals' data do, in one sentence.
pub(crate) fn metal_data(data: &MetalData) -> String {
    if data.properties == 0 {
        return word!("no property in use has an uncertainty").to_owned();
    }
    let times = |answer| said(answer, |s| duration(s, 2));
    let answers = [
        (&data.trip_time_s, word!("trip")),
        (&data.trip_point_a, word!("trip point")),
        (&data.relatch_wait_s, word!("reset")),
        (&data.ready_wait_s, word!("start wait")),
    ];
    let parts: Vec<String> = [
        times(answers[0]),
        said(answers[1], |a| format!("{} A", significant(a, 3))),
        times(answers[2]),
        times(answers[3]),
    ]
    .into_iter()
    .flatten()
    .collect();
    let perhaps: Vec<String> = answers.into_iter().filter_map(undecided).collect();
    if parts.is_empty() {
        return match perhaps.is_empty() {
            true => word!("none of the answers is a number").to_owned(),
            false => perhaps.join("; "),
        };
    }
    let mut text = parts.join(", ");
    text += word!(" in 9 of 10 draws");
    for one in &perhaps {
        text += "; ";
        text += one;
    }
    let first = [&data.trip_time_s, &data.trip_point_a];
    if let Some(most) = first.iter().find_map(|k| k.band()?.shares.first()) {
        let (property, metal) = (property(most.source.property), &most.source.metal);
        text += &say!("; most: {property} of {metal}"; property, metal);
    }
    if let Some(share) = data.holds_share.filter(|s| *s > 0.0 && *s < 1.0) {
        text += &say!("; in {} of all it holds for ever", percent(share));
    }
    text
}

/// A property of a metal.
pub(crate) fn property(of: PropertyName) -> &'static str {
    worded(of.name())
}

/// From one number to another, with the unit once where both have the same.
fn between(low: &str, high: &str) -> String {
    let short = match (low.rsplit_once(' '), high.rsplit_once(' ')) {
        (Some((number, unit)), Some((_, same)))
            if unit == same && [low, high].iter().all(|t| t.matches(' ').count() == 1) =>
        {
            number
        }
        _ => low,
    };
    say!("{short} to {high}"; short, high)
}

/// The middle nine tenths of a time, for a cell of a table.
pub(crate) fn known_time(known: &Known) -> String {
    let text = match known {
        Known::NotAsked => None,
        Known::Within(band) => Some(range(band, |s| duration(s, 2))),
        Known::Undecided { .. } => Some(word!("perhaps NEVER").to_owned()),
    };
    text.unwrap_or(NONE.to_owned())
}

fn range(band: &DataBand, number: impl Fn(f64) -> String) -> String {
    let high = band.high.map_or(super::never().to_owned(), &number);
    between(&number(band.low), &high)
}

fn said((known, what): (&Known, &str), number: impl Fn(f64) -> String) -> Option<String> {
    match known {
        Known::Within(band) => Some(format!("{what} {}", range(band, number))),
        _ => None,
    }
}

/// An answer that one property takes away.
fn undecided((known, what): (&Known, &'static str)) -> Option<String> {
    match known {
        Known::Undecided { by } => Some(say!(
            "perhaps no {what}, by the {} of {}",
            property(by.property),
            by.metal
        ; what)),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::between;

    #[test]
    fn a_unit_is_left_out_only_where_both_numbers_have_it() {
        assert_eq!(between("46 s", "2 min 8 s"), "46 s to 2 min 8 s");
        assert_eq!(between("46 s", "58 s"), "46 to 58 s");
        assert_eq!(between("46 s", "1 min"), "46 s to 1 min");
    }
}
