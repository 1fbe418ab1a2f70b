//! The sheet below and everything that is laid over it, as SVG.

use super::super::canvas::{Canvas, drawn};
use super::super::style::SHEET;
use super::super::theme::recoloured;
use super::super::vector::with_cautions;
use super::super::{Theme, carried, side_by_side};
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

/// What is drawn of a frame, by its number.
pub(in crate::present::plot) type OfFrame<'a> = dyn Fn(&mut Canvas, usize) + Sync + 'a;

/// A film of so many frames: a sheet with the cautions that concern it, what each frame adds to it, and
/// the parts that each shows for itself.
pub(in crate::present::plot) fn film(
    outcome: &Outcome,
    theme: Theme,
    (sheet, frames): ((i32, i32), usize),
    backdrop: impl FnOnce(&mut Canvas, (i32, i32)),
    step: Option<&OfFrame<'_>>,
    parts: &[&OfFrame<'_>],
) -> Drawn {
    let (below, size) = with_cautions(sheet, &carried(outcome), |canvas, size| {
        canvas.paper(size);
        backdrop(canvas, size);
    });
    let over = |draw: &OfFrame<'_>, n| recoloured(&drawn(|canvas| draw(canvas, n)), theme);
    let one = |n: &usize| -> (Option<String>, Vec<String>) {
        let own = parts.iter().map(|part| over(part, *n)).collect();
        (step.map(|step| over(step, *n)), own)
    };
    let numbers: Vec<usize> = (0..frames).collect();
    let (steps, frames): (Vec<_>, Vec<_>) = side_by_side(&numbers, one).into_iter().unzip();
    Drawn {
        size,
        below: recoloured(&below, theme),
        steps: steps.into_iter().flatten().collect(),
        frames,
    }
}

pub(super) fn compose(outcome: &Outcome, reel: &Reel<'_>, theme: Theme) -> Drawn {
    let layout = &Layout::new(outcome, reel);
    let parts: Vec<_> = (0..PARTS)
        .map(|k| move |canvas: &mut Canvas, n| part(canvas, outcome, reel, layout, (n, k)))
        .collect();
    let parts: Vec<&OfFrame<'_>> = parts.iter().map(|part| part as &OfFrame<'_>).collect();
    film(
        outcome,
        theme,
        (SHEET, reel.shown.len()),
        |canvas, _| backdrop(canvas, outcome, reel, layout),
        Some(&|canvas, n| step(canvas, reel, layout, n)),
        &parts,
    )
}
