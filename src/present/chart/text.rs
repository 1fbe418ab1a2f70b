//! How wide a text is in the embedded font, cut and broken to a room.

use super::font;
use crate::present::block::wrap::pieces;

/// Width of a text.
pub(crate) fn width(text: &str, em: f64) -> f64 {
    let advance = |c: char| -> Option<f64> {
        let face = font::REGULAR.as_ref()?;
        let units = face.glyph_hor_advance(face.glyph_index(c)?)?;
        Some(f64::from(units) / f64::from(face.units_per_em()))
    };
    // What the font does not hold is about as wide as its letters.
    let ems: f64 = text.chars().map(|c| advance(c).unwrap_or(0.6)).sum();
    ems * em
}

/// `text` cut to `room` with an ellipsis.
pub(crate) fn shortened(text: &str, em: f64, room: f64) -> String {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if width(&text, em) <= room {
        return text;
    }
    let mut kept: Vec<char> = text.chars().collect();
    while !kept.is_empty() && width(&ellipsis(&kept), em) > room {
        kept.pop();
    }
    ellipsis(&kept)
}

fn ellipsis(kept: &[char]) -> String {
    kept.iter().collect::<String>().trim_end().to_owned() + "…"
}

/// `text` broken into lines of at most `room`; a number keeps its unit, as on a terminal.
pub(crate) fn broken(text: &str, em: f64, room: f64) -> Vec<String> {
    let mut lines = vec![String::new()];
    for words in pieces(text) {
        let Some(line) = lines.last_mut() else { break };
        let longer = if line.is_empty() {
            words.clone()
        } else {
            format!("{line} {words}")
        };
        if line.is_empty() || width(&longer, em) <= room {
            *line = longer;
        } else {
            lines.push(words);
        }
    }
    lines
}
