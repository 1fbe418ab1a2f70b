//! The key of a fit: marks, lines, and the windows by their letters.

use super::PlotError;
use super::canvas::{Anchor, Canvas};
use super::fit_mark::mark;
use super::limit_marks::letter;
use super::style::{EMBER, HEIGHT, INK, LAKE, PLUM, SMALL, SOLID, stroke};
use crate::family::{FitAnswer, FitRow, Kept, Printed};
use crate::present::number::{plain, round_duration};
use plotters::style::{Color, RGBColor};

const LEFT: f64 = 1730.0;
const TEXT: f64 = LEFT + 62.0;
const RIGHT: f64 = 2340.0;
const LINE: f64 = SMALL * 1.4;
const GAP: f64 = SMALL * 0.75;

/// Writes the key from `top` down; what finds no room is said to be in the table.
pub(super) fn draw(canvas: &Canvas<'_>, answer: &FitAnswer, top: f64) -> Result<(), PlotError> {
    let mut y = top;
    let has = |is_hot: bool| {
        answer.rows.iter().any(|r| {
            matches!(r.printed, Printed::Point { .. }) && (r.after_multiple > 0.0) == is_hot
        })
    };
    let table = answer.air.iter().any(|a| a.printed.is_some());
    for (is_hot, words) in [
        (false, "published, from cold; bar: 90 % of its spread"),
        (true, "published, from hot"),
    ] {
        if has(is_hot) || (table && !is_hot) {
            mark(canvas, (LEFT + 20.0, y), is_hot)?;
            y = lines(canvas, y, words, INK)? + GAP;
        }
    }
    let band = [
        (LEFT, -13.0),
        (LEFT + 42.0, -13.0),
        (LEFT + 42.0, 13.0),
        (LEFT, 13.0),
    ];
    canvas.tint(&band.map(|(x, dy)| (x, y + dy)), &LAKE.mix(0.16))?;
    canvas.line(&[(LEFT, y), (LEFT + 42.0, y)], stroke(LAKE, 7, SOLID))?;
    y = lines(
        canvas,
        y,
        "median of the fitted parts, 90 % of them shaded",
        INK,
    )? + GAP;
    let windows: Vec<&FitRow> = answer
        .rows
        .iter()
        .filter(|r| !matches!(r.printed, Printed::Point { .. }))
        .collect();
    for (k, row) in windows.iter().enumerate() {
        let text = window(row);
        let height = LINE * canvas.broken(&text, SMALL, RIGHT - TEXT).len() as f64;
        let is_last = k + 1 == windows.len();
        let needs = if is_last { height } else { height + LINE };
        if y + needs > f64::from(HEIGHT) - 50.0 {
            lines(canvas, y, "… more windows in the table", INK)?;
            break;
        }
        canvas.bold(&letter(k), (LEFT, y), SMALL, PLUM, Anchor::Left)?;
        let colour = if row.kept == Kept::Yes { INK } else { EMBER };
        y = lines(canvas, y, &text, colour)? + 0.4 * GAP;
    }
    Ok(())
}

/// Writes broken lines; returns where the next one begins.
fn lines(canvas: &Canvas<'_>, y: f64, text: &str, colour: RGBColor) -> Result<f64, PlotError> {
    let mut y = y;
    for line in canvas.broken(text, SMALL, RIGHT - TEXT) {
        canvas.text(&line, (TEXT, y), SMALL, colour, Anchor::Left)?;
        y += LINE;
    }
    Ok(y)
}

/// A window in words.
fn window(row: &FitRow) -> String {
    let from = if row.after_multiple > 0.0 {
        format!(" after {} %", plain((100.0 * row.after_multiple).round()))
    } else {
        String::new()
    };
    let asks = match row.printed {
        Printed::Window {
            at_least_s,
            at_most_s,
        } => match at_most_s {
            Some(most) if at_least_s > 0.0 => {
                format!("trips between {} and {}", time(at_least_s), time(most))
            }
            Some(most) => format!("trips by {}", time(most)),
            None => format!("not before {}", time(at_least_s)),
        },
        _ => "carried".to_owned(),
    };
    let assumed = if row.assumed { " (assumed)" } else { "" };
    let kept = match row.kept {
        Kept::Yes => "",
        Kept::TooSoon => "; best part too soon",
        Kept::TooLate => "; best part too late",
    };
    let multiple = plain((1e3 * row.multiple).round() / 1e3);
    format!("{multiple} x{from}: {asks}{assumed}{kept}")
}

/// A printed time without zeros that were not printed.
fn time(seconds: f64) -> String {
    if seconds < 120.0 {
        format!("{} s", plain((1e3 * seconds).round() / 1e3))
    } else {
        round_duration(seconds)
    }
}
