//! Words on lines. No word and no number is broken, and a number keeps its unit.

use super::harmless;
use unicode_width::UnicodeWidthStr;

/// What belongs to the number before it.
const UNITS: &[&str] = &[
    "%", "x", "A", "mA", "kA", "V", "mV", "W", "mW", "K", "°C", "s", "ms", "min", "h", "d", "days",
    "years", "mm", "µm", "m", "Ω", "mΩ", "µΩ", "N", "J", "J/K", "MPa", "GPa", "Hz", "points",
];

/// Columns that `text` takes.
pub(in crate::present) fn width(text: &str) -> usize {
    UnicodeWidthStr::width(text)
}

/// `text` in lines of at most `room` columns. Only what is longer than a whole line is cut.
pub(in crate::present) fn wrapped(text: &str, room: usize) -> Vec<String> {
    let text = harmless(text);
    if width(&text) <= room && !text.contains(['\n', '\t']) {
        return vec![text.into_owned()];
    }
    let mut lines = Vec::new();
    let mut line = String::new();
    for piece in pieces(&text).iter().flat_map(|piece| cut(piece, room)) {
        if !line.is_empty() && width(&line) + 1 + width(piece) > room {
            lines.push(std::mem::take(&mut line));
        }
        if !line.is_empty() {
            line.push(' ');
        }
        line += piece;
    }
    lines.push(line);
    lines
}

/// The words of `text`; what must stay on a line is one of them.
pub(in crate::present) fn pieces(text: &str) -> Vec<String> {
    let mut pieces: Vec<String> = Vec::new();
    let mut before = "";
    for word in text.split_whitespace() {
        match pieces.last_mut() {
            Some(piece) if stay_together(before, word) => *piece = format!("{piece} {word}"),
            _ => pieces.push(word.to_owned()),
        }
        before = word;
    }
    pieces
}

fn stay_together(before: &str, word: &str) -> bool {
    let bare = |word: &str| word.trim_matches(|c| ",.;:()".contains(c)).to_owned();
    let is_number = |word: &str| {
        let word = word.trim_start_matches(|c| "(+-−<>±".contains(c));
        word.starts_with(|c: char| c.is_ascii_digit())
            && word.ends_with(|c: char| c.is_ascii_digit())
    };
    let continues = matches!(before, "min" | "h" | "±" | "x" | "|" | "!" | "–");
    match is_number(before) {
        _ if word == "±" => true,
        true => UNITS.contains(&bare(word).as_str()),
        false => continues && (is_number(word) || !matches!(before, "min" | "h" | "±" | "x")),
    }
}

/// What is longer than a line, cut after a sign where there is one.
fn cut(mut piece: &str, room: usize) -> Vec<&str> {
    let mut parts = Vec::new();
    while width(piece) > room {
        let ends = piece.char_indices().map(|(k, c)| (k + c.len_utf8(), c));
        let fits: Vec<(usize, char)> = ends
            .take_while(|(end, _)| width(&piece[..*end]) <= room)
            .collect();
        let sign = fits.iter().rev().find(|(_, c)| " /-_,;=".contains(*c));
        let Some((end, _)) = sign.or(fits.last()) else {
            break;
        };
        parts.push(piece[..*end].trim_end());
        piece = &piece[*end..];
    }
    parts.push(piece);
    parts
}
