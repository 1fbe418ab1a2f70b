//! Published limits on the characteristic: bars with arrows into the allowed side, and a key.

use super::PlotError;
use super::area::{Area, Point};
use super::canvas::{Anchor, Canvas};
use super::label::Labels;
use super::panel::Panel;
use super::style::{EMBER, INK, PLUM, SMALL};
use crate::predict::LimitCheck;
use crate::present::limits::{shared_source, verdict};
use crate::present::number::{finite, plain};

const HALF_BAR: f64 = 24.0;
const ARROW: f64 = 34.0;
const LINE: f64 = SMALL * 1.42;
const KEY_WIDTH: f64 = 2060.0;
/// Lines of the key that fit.
const MOST_LINES: usize = 8;

/// Lines of the key: a letter (or none on continued lines), the text, whether it is met.
pub(super) type Key = Vec<(String, String, bool)>;

/// The key, one entry a limit; on a line each when there are too many to be told in full.
pub(super) fn key(canvas: &Canvas<'_>, limits: &[LimitCheck], ambient_c: f64) -> Key {
    let source = shared_source(limits);
    let verdict = |limit: &LimitCheck, is_source_shared: bool| {
        let words = verdict(limit, is_source_shared);
        match (limit.ambient_c - ambient_c).abs() > 0.5 {
            true => format!("{words} (the curve: at {} °C)", plain(ambient_c)),
            false => words,
        }
    };
    let in_full = |k: usize, limit: &LimitCheck| -> Key {
        let lines = canvas.broken(&verdict(limit, source.is_some()), SMALL, KEY_WIDTH);
        let letter = |n: usize| if n == 0 { letter(k) } else { String::new() };
        let lines = lines.into_iter().enumerate();
        lines
            .map(|(n, line)| (letter(n), line, limit.met))
            .collect()
    };
    let short = |text: &str| canvas.shortened(text, SMALL, KEY_WIDTH);
    let in_short = |k: usize, limit: &LimitCheck| {
        (
            letter(k),
            short(&verdict(limit, source.is_some())),
            limit.met,
        )
    };
    let numbered = || limits.iter().enumerate();
    let mut key: Key = numbered()
        .flat_map(|(k, limit)| in_full(k, limit))
        .collect();
    if key.len() > MOST_LINES {
        key = numbered().map(|(k, limit)| in_short(k, limit)).collect();
    }
    if key.len() > MOST_LINES {
        key.truncate(MOST_LINES - 1);
        key.push((
            String::new(),
            "… more limits in result.json".to_owned(),
            true,
        ));
    }
    if let Some(source) = source {
        key.push((String::new(), short(&format!("Source: {source}")), true));
    }
    key
}

pub(super) fn key_height(key: &Key) -> f64 {
    if key.is_empty() {
        0.0
    } else {
        key.len() as f64 * LINE + 20.0
    }
}

pub(super) fn draw_key(
    canvas: &Canvas<'_>,
    key: &Key,
    left: f64,
    top: f64,
) -> Result<(), PlotError> {
    for (n, (letter, text, met)) in key.iter().enumerate() {
        let y = top + n as f64 * LINE;
        canvas.bold(letter, (left, y), SMALL, PLUM, Anchor::Left)?;
        let at = (left + 54.0, y);
        let colour = if *met { INK } else { EMBER };
        canvas.text(text, at, SMALL, colour, Anchor::Left)?;
    }
    Ok(())
}

/// Draws the marks and keeps labels clear of them.
pub(super) fn draw(
    canvas: &Canvas<'_>,
    panel: &Panel,
    labels: &mut Labels,
    rated_a: f64,
    limits: &[LimitCheck],
) -> Result<(), PlotError> {
    let mut letters: Vec<Area> = Vec::new();
    for (k, limit) in limits.iter().enumerate() {
        let x = panel.across(limit.multiple * rated_a);
        let at_least = finite(limit.at_least_s)
            .filter(|t| *t > 0.0)
            .map(|t| panel.up(t));
        let at_most = finite(limit.at_most_s)
            .filter(|t| *t > 0.0)
            .map(|t| panel.up(t));
        // Times grow upwards: the allowed side of "at least" is above, of "at most" below.
        let beside = match (at_least, at_most) {
            (Some(low), Some(high)) => {
                bar(canvas, x, low)?;
                bar(canvas, x, high)?;
                canvas.rule((x, low), (x, high), PLUM, 5)?;
                high
            }
            (Some(low), None) => {
                arrow(canvas, (x, low), -1.0)?;
                low
            }
            (None, Some(high)) => {
                arrow(canvas, (x, high), 1.0)?;
                high
            }
            (None, None) => {
                let top = panel.frame.top + ARROW + 26.0;
                arrow(canvas, (x, top), -1.0)?;
                top
            }
        };
        let (highest, lowest) = (
            at_most.or(at_least).unwrap_or(beside).min(beside) - ARROW - 20.0,
            at_least.or(at_most).unwrap_or(beside).max(beside) + ARROW + 20.0,
        );
        labels.block(Area {
            left: x - HALF_BAR,
            top: highest,
            right: x + HALF_BAR,
            bottom: lowest,
        });
        let letter = letter(k);
        let width = canvas.width(&letter, SMALL) * 1.1;
        let mut area = Area {
            left: x + HALF_BAR + 8.0,
            top: beside - 0.5 * SMALL,
            right: x + HALF_BAR + 8.0 + width,
            bottom: beside + 0.5 * SMALL,
        };
        // Several limits at one current: their letters stand side by side.
        while letters.iter().any(|other| other.overlaps(&area)) {
            area.left += width + 10.0;
            area.right += width + 10.0;
        }
        let middle = 0.5 * (area.top + area.bottom);
        canvas.bold(&letter, (area.left, middle), SMALL, PLUM, Anchor::Left)?;
        labels.block(area);
        letters.push(area);
    }
    Ok(())
}

fn bar(canvas: &Canvas<'_>, x: f64, y: f64) -> Result<(), PlotError> {
    canvas.rule((x - HALF_BAR, y), (x + HALF_BAR, y), PLUM, 6)
}

/// A bar with an arrow; `side` -1 points up, 1 points down.
fn arrow(canvas: &Canvas<'_>, at: Point, side: f64) -> Result<(), PlotError> {
    bar(canvas, at.0, at.1)?;
    let tip = at.1 + side * (ARROW + 16.0);
    let base = at.1 + side * (ARROW - 6.0);
    canvas.rule(at, (at.0, base), PLUM, 5)?;
    canvas.polygon(
        &[(at.0, tip), (at.0 - 13.0, base), (at.0 + 13.0, base)],
        PLUM,
    )
}

pub(super) fn letter(k: usize) -> String {
    let alphabet = b"ABCDEFGHIJKLMNOPQRSTUVWXYZ";
    match alphabet.get(k) {
        Some(c) => char::from(*c).to_string(),
        None => format!("L{}", k + 1),
    }
}
