//! The sheet below and everything that is laid over it, as SVG.

use super::super::canvas::{Canvas, overlay, sheet};
use super::super::style::HEIGHT;
use super::super::theme::recoloured;
use super::super::{PlotError, Theme, side_by_side, vector};
use super::layout::Layout;
use super::reel::Reel;
use super::scene::{PARTS, backdrop, part, step};
use crate::predict::Outcome;

/// Bodies of the SVG elements.
pub(super) struct Drawn {
    /// Height of the sheet with its cautions.
    pub(super) height: i32,
    /// What stands still.
    pub(super) below: String,
    /// What each frame adds and later frames keep.
    pub(super) steps: Vec<String>,
    /// What each frame shows for itself, part by part.
    pub(super) frames: Vec<Vec<String>>,
}

impl Drawn {
    /// All that lies over the sheet at one frame.
    pub(super) fn over(&self, n: usize) -> String {
        let kept = self.steps.iter().take(n + 1).map(String::as_str);
        let own = self.frames.get(n).into_iter().flatten().map(String::as_str);
        kept.chain(own).collect()
    }
}

pub(super) fn compose(
    outcome: &Outcome,
    reel: &Reel<'_>,
    theme: Theme,
) -> Result<Drawn, PlotError> {
    let layout = Layout::new(outcome, reel);
    let below = sheet(|canvas| backdrop(canvas, outcome, reel, &layout))?;
    let over = |draw: &dyn Fn(&Canvas<'_>) -> Result<(), PlotError>| {
        let raw = overlay(draw)?;
        Ok::<_, PlotError>(recoloured(&vector::body(&raw)?, theme))
    };
    let one = |n: &usize| -> Result<(String, Vec<String>), PlotError> {
        let n = *n;
        let added = over(&|canvas| step(canvas, reel, &layout, n))?;
        let own = (0..PARTS).map(|k| over(&|canvas| part(canvas, outcome, reel, &layout, (n, k))));
        Ok((added, own.collect::<Result<Vec<String>, PlotError>>()?))
    };
    let numbers: Vec<usize> = (0..reel.shown.len()).collect();
    let (steps, frames) = side_by_side(&numbers, one)?.into_iter().unzip();
    let (strip, more) = match super::super::again(outcome) {
        [] => (String::new(), 0),
        cautions => vector::strip(cautions)?,
    };
    let below = vector::body(&below)? + &strip;
    Ok(Drawn {
        height: HEIGHT + more,
        below: recoloured(&below, theme),
        steps,
        frames,
    })
}
