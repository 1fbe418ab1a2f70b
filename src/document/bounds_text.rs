//! What is said about a number that is out of bounds or without its unit.

use super::Bounds;
use crate::diagnostic::Problem;
use crate::quantity::{Dimension, Quantity, format_number, format_si};
use std::ops::Range;

/// The problem of a number out of bounds; `written` is its text, if it was one.
pub(super) fn out_of_bounds(
    span: Range<usize>,
    v: f64,
    written: Option<&str>,
    dimension: Dimension,
    bounds: Bounds,
) -> Problem {
    let (least, most) = bounds.ends();
    let show = |x: f64| {
        if dimension == Dimension::Fraction {
            format_number(x)
        } else {
            format_si(x, dimension)
        }
    };
    let what = name_within(dimension, bounds);
    // A negative number is a slip of sign, not of size.
    let negative = v < 0.0 && least >= 0.0 && dimension != Dimension::Temperature;
    let message = if v == 0.0 && !bounds.zero_allowed() {
        format!("{what} above zero belongs here")
    } else if negative {
        format!("{what} cannot be negative here")
    } else if v < least {
        format!("{what} of at least {} belongs here", show(least))
    } else if bounds.most_allowed() {
        format!("{what} of at most {} belongs here", show(most))
    } else {
        format!("{what} below {} belongs here", show(most))
    };
    let mut problem = Problem::new(span, message).label(format!("this is {}", show(v)));
    let far_off = v >= most || (v < least && !negative) || v == 0.0;
    if far_off && !bounds.hint().is_empty() {
        problem = problem.help(bounds.hint());
    }
    // Another unit is likely meant only where the number is off by more than its digits could be.
    let wrong_by_decades = v > 10.0 * most.abs() || (v > 0.0 && v < least);
    match written.and_then(|text| other_unit(text, dimension, bounds)) {
        Some(meant) if wrong_by_decades => problem.help(format!("did you mean `\"{meant}\"`?")),
        _ => problem,
    }
}

/// What a number within these bounds is called: what may exceed one is no fraction.
pub(crate) fn name_within(dimension: Dimension, bounds: Bounds) -> &'static str {
    match dimension {
        Dimension::Fraction if bounds.ends().1 > 1.0 => "a number",
        _ => dimension.name(),
    }
}

/// How such a number may look in a file: the usual one of its kind, unless the hint of its bounds
/// names a range in which it does not lie; then the first that is named.
pub(crate) fn example_within(dimension: Dimension, bounds: Bounds) -> String {
    let bare = dimension == Dimension::Fraction;
    let value = |text: &str| {
        let is_number = text.starts_with(|c: char| c.is_ascii_digit());
        let read = Quantity::read(text, dimension).ok().filter(|_| is_number);
        read.map(|q| q.value_si).filter(|v| bounds.allows(*v))
    };
    let words: Vec<&str> = bounds.hint().split([' ', ',', ';']).collect();
    let texts = words.windows(2).map(|pair| match bare {
        true => pair[0].to_owned(),
        false => pair.join(" "),
    });
    let named: Vec<(f64, String)> = texts.filter_map(|t| Some((value(&t)?, t))).collect();
    let usual = match (bare, bounds.ends().1 > 1.0) {
        (true, true) => "2",
        (true, false) => "0.8",
        _ => dimension.example(),
    };
    let text = match named.as_slice() {
        [first, .., last] if !value(usual).is_some_and(|v| first.0 <= v && v <= last.0) => {
            let above_zero = named.iter().find(|(v, _)| *v > 0.0);
            above_zero.map_or(usual, |(_, text)| text)
        }
        _ => usual,
    };
    match bare {
        true => text.to_owned(),
        false => format!("\"{text}\""),
    }
}

/// How a bare number is written with a unit.
pub(super) fn with_unit(bare: &str, dimension: Dimension, bounds: Bounds) -> String {
    // The unit of the example is the one such numbers usually have.
    let usual = dimension
        .example()
        .split_once(' ')
        .map_or("", |(_, unit)| unit);
    let usual = format!("{bare} {usual}");
    let fits =
        |text: &str| Quantity::read(text, dimension).is_ok_and(|q| bounds.allows(q.value_si));
    let meant = if fits(&usual) {
        Some(usual)
    } else {
        other_unit(bare, dimension, bounds)
    };
    match meant {
        Some(text) => format!("write it as text with a unit, for example `\"{text}\"`"),
        None => format!(
            "write it as text with a unit, as in `\"{}\"`",
            dimension.example()
        ),
    }
}

/// The same digits with another unit, where that is within bounds: `2 m` becomes `2 mm`. Of several
/// units the one is taken that puts the number nearest to the middle of the bounds.
fn other_unit(text: &str, dimension: Dimension, bounds: Bounds) -> Option<String> {
    let digits: String = text
        .trim()
        .chars()
        .take_while(|c| c.is_ascii_digit() || matches!(c, '.' | '-' | '+'))
        .collect();
    let (least, most) = bounds.ends();
    let middle = if least > 0.0 && most.is_finite() {
        (least * most).sqrt()
    } else {
        0.1 * most
    };
    let far = |v: f64| (v / middle).abs().ln().abs();
    dimension
        .units()
        .iter()
        .map(|unit| format!("{digits} {unit}"))
        .filter_map(|text| Some((Quantity::read(&text, dimension).ok()?.value_si, text)))
        .filter(|(v, _)| bounds.allows(*v) && *v > 0.0)
        .min_by(|a, b| far(a.0).total_cmp(&far(b.0)))
        .map(|(_, text)| text)
}
