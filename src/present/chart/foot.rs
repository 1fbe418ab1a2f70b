//! What stands below the panels: keys and notes.

use super::area::Area;
use super::canvas::{Anchor, Canvas};
use super::style::{EMBER, INK, PLUM, QUIET, SMALL, Stroke};
use super::text::{broken, shortened, width};
use super::{Colour, Fill, Shape};

/// Height of a line.
const LINE: f64 = SMALL * 1.42;
const SAMPLE: f64 = 46.0;
const INDENT: f64 = SAMPLE + 14.0;
/// One entry below the panels.
pub(crate) enum Foot {
    Note(String),
    /// Samples with words, side by side where they find room.
    Keys(Vec<Key>),
}

/// A sample with words.
pub(crate) struct Key {
    pub(crate) sample: Sample,
    pub(crate) text: String,
}

/// How something looks.
pub(crate) enum Sample {
    Stroke(Stroke),
    /// Fill and upper edge, or a border alone.
    Patch(Option<Fill>, Option<Stroke>),
    Shape(Shape, Colour),
    /// A letter in the figure, and whether what it stands for is kept.
    Letter(String, bool),
}

impl Key {
    pub(crate) fn new(sample: Sample, text: impl Into<String>) -> Self {
        Self {
            sample,
            text: text.into(),
        }
    }
}

/// A piece of a line: where it begins, its sample if it has one, its words, their colour.
struct Piece<'a>(f64, Option<&'a Sample>, String, Colour);

/// Lines, ready to be drawn.
pub(super) struct Rows<'a>(Vec<Vec<Piece<'a>>>);

impl<'a> Rows<'a> {
    /// Breaks everything into lines that fit into a width; where they are too many, entries are cut
    /// to a line each, and at last left out, which is said.
    pub(super) fn of(foot: &'a [Foot], room: f64, most: usize) -> Self {
        let all = |each: usize| -> Vec<Vec<Piece<'a>>> {
            let mut rows = Vec::new();
            for entry in foot {
                match entry {
                    Foot::Note(text) => {
                        let lines = lines(text, room, each).into_iter();
                        rows.extend(lines.map(|text| vec![Piece(0.0, None, text, QUIET)]));
                    }
                    Foot::Keys(keys) => flow(keys, room, each, &mut rows),
                }
            }
            rows
        };
        let mut rows = all(most / 3);
        if rows.len() > most {
            rows = all(1);
        }
        if rows.len() > most {
            rows.truncate(most - 1);
            let text = "… more in result.json".to_owned();
            rows.push(vec![Piece(0.0, None, text, QUIET)]);
        }
        Self(rows)
    }

    pub(super) fn height(&self) -> f64 {
        self.0.len() as f64 * LINE
    }

    /// Draws the lines below a height.
    pub(super) fn draw(&self, canvas: &mut Canvas, left: f64, top: f64) {
        for (n, row) in self.0.iter().enumerate() {
            let y = top + (n as f64 + 0.5) * LINE;
            for Piece(x, sample, text, colour) in row {
                let x = left + x;
                if let Some(sample) = sample {
                    sample.draw(canvas, (x, y));
                }
                let indent = if colour == &QUIET { 0.0 } else { INDENT };
                canvas.text(text, (x + indent, y), SMALL, *colour, Anchor::Left);
            }
        }
    }
}

fn lines(text: &str, room: f64, most: usize) -> Vec<String> {
    if text.trim().is_empty() {
        return Vec::new();
    }
    let mut lines = broken(text, SMALL, room);
    if lines.len() > most {
        let rest = lines.split_off(most - 1).join(" ");
        lines.push(shortened(&rest, SMALL, room));
    }
    lines
}

/// Keys side by side; one with words of several lines begins a line of its own.
fn flow<'a>(keys: &'a [Key], room: f64, most: usize, rows: &mut Vec<Vec<Piece<'a>>>) {
    let mut x = f64::INFINITY;
    for key in keys {
        let colour = match key.sample {
            Sample::Letter(_, false) => EMBER,
            _ => INK,
        };
        let mut sample = Some(&key.sample);
        for text in lines(&key.text, room - INDENT, most) {
            let width = INDENT + width(&text, SMALL);
            if x + width > room || sample.is_none() {
                rows.push(Vec::new());
                x = 0.0;
            }
            if let Some(row) = rows.last_mut() {
                row.push(Piece(x, sample.take(), text, colour));
            }
            x += width + 56.0;
        }
    }
}

impl Sample {
    fn draw(&self, canvas: &mut Canvas, (left, y): (f64, f64)) {
        let right = left + SAMPLE;
        match self {
            Self::Stroke(stroke) => canvas.line(&[(left, y), (right, y)], *stroke),
            Self::Patch(fill, edge) => {
                let area = Area::new(left, y - 14.0, right, y + 14.0);
                if let Some(fill) = fill {
                    canvas.rectangle(area, *fill);
                }
                match edge {
                    Some(edge) if fill.is_none() => canvas.line(&area.outline(), *edge),
                    Some(edge) => canvas.line(&[(left, area.top), (right, area.top)], *edge),
                    None => {}
                }
            }
            Self::Shape(shape, colour) => shape.draw(canvas, (left + 0.5 * SAMPLE, y), *colour),
            Self::Letter(letter, _) => canvas.bold(letter, (left, y), SMALL, PLUM, Anchor::Left),
        }
    }
}
