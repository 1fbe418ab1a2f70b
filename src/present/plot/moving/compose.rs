//! The sheet below and everything that is laid over it, as SVG.

use super::super::canvas::{Canvas, drawn};
use super::super::style::SHEET;
use super::super::theme::recoloured;
use super::super::vector::with_cautions;
use super::super::{Theme, again, side_by_side};
use super::layout::Layout;
use super::reel::Reel;
use super::scene::{PARTS, backdrop, part, step};
use crate::predict::Outcome;

/// Bodies of the SVG elements.
pub(in crate::present::plot) struct Drawn {
    /// Width and height of the sheet with its cautions.
    pub(in crate::present::plot) size: (i32, i32),
    /// What stands still.
    pub(in crate::present::plot) below: String,
    /// What each frame adds and later frames keep.
    pub(in crate::present::plot) steps: Vec<String>,
    /// What each frame shows for itself, part by part.
    pub(in crate::present::plot) frames: Vec<Vec<String>>,
}

impl Drawn {
    /// All that lies over the sheet at one frame.
    pub(in crate::present::plot) fn over(&self, n: usize) -> String {
        let kept = self.steps.iter().take(n + 1).map(String::as_str);
        let own = self.frames.get(n).into_iter().flatten().map(String::as_str);
        kept.chain(own).collect()
    }
}

pub(super) fn compose(outcome: &Outcome, reel: &Reel<'_>, theme: Theme) -> Drawn {
    let layout = Layout::new(outcome, reel);
    let (below, size) = with_cautions(SHEET, again(outcome), |canvas, size| {
        canvas.paper(size);
        backdrop(canvas, outcome, reel, &layout);
    });
    let over = |draw: &dyn Fn(&mut Canvas)| recoloured(&drawn(|canvas| draw(canvas)), theme);
    let one = |n: &usize| -> (String, Vec<String>) {
        let added = over(&|canvas| step(canvas, reel, &layout, *n));
        let own = (0..PARTS).map(|k| over(&|canvas| part(canvas, outcome, reel, &layout, (*n, k))));
        (added, own.collect())
    };
    let numbers: Vec<usize> = (0..reel.shown.len()).collect();
    let (steps, frames) = side_by_side(&numbers, one).into_iter().unzip();
    Drawn {
        size,
        below: recoloured(&below, theme),
        steps,
        frames,
    }
}
