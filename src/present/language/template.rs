//! Sentences whose holes are filled when the program runs.

use super::marked;
use std::fmt::{Display, Write};

/// `sentence` with its holes filled: `{}` in order, `{1}` by place, `{minutes}` by name; `{:.1}` says how
/// many decimals, `{:+.1}` with a sign. What has no such hole is left out, and a hole that has nothing to hold is empty: texts are
/// held to those of the code by a test.
pub(super) fn filled(sentence: &str, holes: &[(&str, &dyn Display)]) -> String {
    let mut out = String::with_capacity(sentence.len() + 16);
    let (mut rest, mut next) = (sentence, 0);
    while let Some(at) = rest.find(['{', '}']) {
        out.push_str(&rest[..at]);
        if let Some(brace) = ["{{", "}}"]
            .into_iter()
            .find(|b| rest[at..].starts_with(*b))
        {
            out.push_str(&brace[1..]);
            rest = &rest[at + 2..];
            continue;
        }
        let Some(end) = rest[at..].find('}') else {
            break;
        };
        let inside = &rest[at + 1..at + end];
        rest = &rest[at + end + 1..];
        let (name, form) = inside.split_once(':').unwrap_or((inside, ""));
        let hole = match name.parse::<usize>() {
            Ok(place) => holes.get(place),
            Err(_) if name.is_empty() => {
                next += 1;
                holes.get(next - 1)
            }
            Err(_) => holes.iter().find(|(n, _)| *n == name),
        };
        if let Some((_, hole)) = hole {
            out.push_str(&shown(*hole, form));
        }
    }
    out.push_str(rest);
    out
}

fn shown(hole: &dyn Display, form: &str) -> String {
    let mut text = String::new();
    let decimals = |form: &str| form.strip_prefix('.').and_then(|d| d.parse::<usize>().ok());
    let written = match (decimals(form), form.strip_prefix('+').and_then(decimals)) {
        (Some(decimals), _) => write!(text, "{hole:.decimals$}"),
        (None, Some(decimals)) => write!(text, "{hole:+.decimals$}"),
        (None, None) => write!(text, "{hole}"),
    };
    // Writing to a text fails only where a `Display` does.
    let is_number = written.is_ok() && text.parse::<f64>().is_ok_and(f64::is_finite);
    if is_number { marked(text) } else { text }
}

#[cfg(test)]
mod tests {
    use super::super::{Language, speaking};

    #[test]
    fn holes_are_filled_in_any_order() {
        let (time, n) = ("3 min", 2.345);
        let filled = |text| super::filled(text, &[("", &7), ("time", &time), ("n", &n)]);
        assert_eq!(filled("{} of {time}: {n:.1}"), "7 of 3 min: 2.3");
        assert_eq!(filled("{n:.2} {{}} {time} {0}"), "2.35 {} 3 min 7");
        let german = speaking(Language::German.into(), || filled("{n:.1} {time}"));
        assert_eq!(german, "2,3 3 min");
    }
}
