//! Moments: upright lines through the panels with a flag of text above, no flag over another.

use super::PlotError;
use super::area::{Area, Point};
use super::canvas::{Anchor, Canvas};
use super::style::{BODY, INK, Stroke};

/// A moment to mark; without text only its line is drawn.
#[derive(Clone)]
pub(crate) struct Flag {
    pub(crate) x: f64,
    pub(crate) text: String,
    pub(crate) stroke: Stroke,
}

/// Height of one row of flags.
const ROW: f64 = 44.0;
/// Most rows.
const ROWS: usize = 4;

/// Flags with their places; heights count from the top of the panels.
pub(crate) struct Flags {
    placed: Vec<(Flag, Option<Area>)>,
}

impl Flags {
    /// Finds places between `left` and `right`.
    pub(crate) fn place(canvas: &Canvas<'_>, mut flags: Vec<Flag>, left: f64, right: f64) -> Self {
        flags.sort_by(|a, b| b.x.total_cmp(&a.x));
        let mut placed: Vec<(Flag, Option<Area>)> = Vec::new();
        for flag in flags {
            let width = canvas.width(&flag.text, BODY);
            let over = (flag.x - 0.5 * width).clamp(left, (right - width).max(left));
            let starts = [flag.x + 10.0, flag.x - 10.0 - width, over];
            let places = (0..ROWS).flat_map(|row| starts.map(|start| (row, start)));
            let area = places
                .map(|(row, start)| spot(start, width, row))
                .filter(|_| !flag.text.is_empty())
                .find(|area| {
                    let inside = area.left >= left && area.right <= right;
                    inside
                        && placed
                            .iter()
                            .all(|(other, at)| is_clear(flag.x, area, other.x, at))
                });
            placed.push((flag, area));
        }
        Self { placed }
    }

    /// Room that the flags take above the panels.
    pub(crate) fn height(&self) -> f64 {
        let tops = self
            .placed
            .iter()
            .filter_map(|(_, area)| area.map(|a| -a.top));
        tops.fold(0.0, f64::max)
    }

    /// Draws flags and lines down to `bottom`.
    pub(crate) fn draw(&self, canvas: &Canvas<'_>, top: f64, bottom: f64) -> Result<(), PlotError> {
        for (flag, area) in &self.placed {
            // Beside its words, or below them.
            let pole_top = area.map_or(top, |a| match a.spans(flag.x) {
                true => top + a.bottom,
                false => top + a.top + 4.0,
            });
            canvas.line(&[(flag.x, pole_top), (flag.x, bottom)], flag.stroke)?;
            if let Some(area) = area {
                let at = (area.left, top + 0.5 * (area.top + area.bottom));
                canvas.text(&flag.text, at, BODY, INK, Anchor::Left)?;
            }
        }
        Ok(())
    }

    /// The lines between two heights.
    pub(crate) fn poles(&self, top: f64, bottom: f64) -> Vec<Vec<Point>> {
        self.placed
            .iter()
            .map(|(flag, _)| vec![(flag.x, top), (flag.x, bottom)])
            .collect()
    }
}

fn spot(left: f64, width: f64, row: usize) -> Area {
    let bottom = -6.0 - ROW * row as f64;
    Area {
        left,
        top: bottom - ROW + 4.0,
        right: left + width,
        bottom,
    }
}

/// Neither text over text, nor a pole through a text.
fn is_clear(x: f64, area: &Area, other_x: f64, other: &Option<Area>) -> bool {
    let pole_through = |x: f64, pole_top: f64, text: &Area| {
        x > text.left - 8.0 && x < text.right + 8.0 && pole_top < text.bottom
    };
    other.is_none_or(|other| {
        !area.grown(5.0).overlaps(&other)
            && !pole_through(x, area.top, &other)
            && !pole_through(other_x, other.top, area)
    })
}
