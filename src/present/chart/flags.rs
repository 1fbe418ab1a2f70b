//! Moments: upright lines through the panels with a flag of text above, no flag over another.

use super::area::{Area, Point};
use super::canvas::{Anchor, Canvas};
use super::style::{BODY, INK, Stroke};
use super::text::width;

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
/// Most places that are tried before one more flag goes without words.
const TRIES: usize = 5000;

/// Flags with their places; heights count from the top of the panels.
pub(crate) struct Flags {
    placed: Vec<(Flag, Option<Area>)>,
}

impl Flags {
    /// Finds places between `left` and `right`, with as few flags left without words as can be.
    pub(crate) fn place(mut flags: Vec<Flag>, left: f64, right: f64) -> Self {
        flags.sort_by(|a, b| b.x.total_cmp(&a.x));
        let spots = |flag: &Flag| -> Vec<Area> {
            let width = width(&flag.text, BODY);
            let over = (flag.x - 0.5 * width).clamp(left, (right - width).max(left));
            let starts = [flag.x + 10.0, flag.x - 10.0 - width, over];
            let all = (0..ROWS).flat_map(|row| starts.map(|start| spot(start, width, row)));
            all.filter(|area| area.left >= left && area.right <= right)
                .filter(|_| !flag.text.is_empty())
                .collect()
        };
        let spots: Vec<Vec<Area>> = flags.iter().map(spots).collect();
        let settled = |mute: usize| {
            let mut places = Vec::new();
            settled(&flags, &spots, mute, &mut places, &mut { TRIES }).then_some(places)
        };
        let places = (0..=flags.len()).find_map(settled).unwrap_or_default();
        let places = places.into_iter().chain(std::iter::repeat(None));
        Self {
            placed: flags.into_iter().zip(places).collect(),
        }
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
    pub(crate) fn draw(&self, canvas: &mut Canvas, top: f64, bottom: f64) {
        for (flag, area) in &self.placed {
            // Beside its words, or below them.
            let pole_top = area.map_or(top, |a| match a.spans(flag.x) {
                true => top + a.bottom,
                false => top + a.top + 4.0,
            });
            canvas.line(&[(flag.x, pole_top), (flag.x, bottom)], flag.stroke);
            if let Some(area) = area {
                let at = (area.left, top + 0.5 * (area.top + area.bottom));
                canvas.text(&flag.text, at, BODY, INK, Anchor::Left);
            }
        }
    }

    /// The lines between two heights.
    pub(crate) fn poles(&self, top: f64, bottom: f64) -> Vec<Vec<Point>> {
        self.placed
            .iter()
            .map(|(flag, _)| vec![(flag.x, top), (flag.x, bottom)])
            .collect()
    }
}

/// Finds a clear place for every flag after those that have one, `mute` of them without words; the
/// first choices first, and back where a later flag would find none.
fn settled(
    flags: &[Flag],
    spots: &[Vec<Area>],
    mute: usize,
    places: &mut Vec<Option<Area>>,
    tries: &mut usize,
) -> bool {
    let k = places.len();
    let Some(flag) = flags.get(k) else {
        return true;
    };
    let is_silent = flag.text.is_empty();
    for area in &spots[k] {
        let Some(left) = tries.checked_sub(1) else {
            return false;
        };
        *tries = left;
        let mut others = flags.iter().zip(places.iter());
        if others.all(|(other, at)| is_clear(flag.x, area, other.x, at)) {
            places.push(Some(*area));
            if settled(flags, spots, mute, places, tries) {
                return true;
            }
            places.pop();
        }
    }
    let left = if is_silent {
        Some(mute)
    } else {
        mute.checked_sub(1)
    };
    left.is_some_and(|left| {
        places.push(None);
        let is_settled = settled(flags, spots, left, places, tries);
        if !is_settled {
            places.pop();
        }
        is_settled
    })
}

fn spot(left: f64, width: f64, row: usize) -> Area {
    let bottom = -6.0 - ROW * row as f64;
    Area::new(left, bottom - ROW + 4.0, left + width, bottom)
}

/// Neither text over text, nor a pole through a text.
fn is_clear(x: f64, area: &Area, other_x: f64, other: &Option<Area>) -> bool {
    let pole_through = |x: f64, pole_top: f64, text: &Area| {
        x > text.left - 8.0 && x < text.right + 8.0 && pole_top < text.bottom
    };
    other.is_none_or(|other| {
        // Rows are as far apart.
        !area.grown(4.0).overlaps(&other)
            && !pole_through(x, area.top, &other)
            && !pole_through(other_x, other.top, area)
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::present::chart::style::SOLID;
    use crate::present::chart::style::stroke;

    #[test]
    fn a_moment_between_two_others_keeps_its_words() {
        let flag = |x: f64, text: &str| Flag {
            x,
            text: text.to_owned(),
            stroke: stroke(INK, 3, SOLID),
        };
        let flags = vec![
            flag(290.0, "release 30.9 s, contacts open 31.0 s"),
            flag(338.0, "reset refused 36.0 s"),
            flag(530.0, "relatch 56.5 s"),
        ];
        let flags = Flags::place(flags, -60.0, 708.0);
        assert!(flags.placed.iter().all(|(_, area)| area.is_some()));
    }
}
