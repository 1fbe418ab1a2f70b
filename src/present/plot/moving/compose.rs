//! The sheet below and every frame to be laid over it, as SVG with text turned into paths.

use super::super::abreast::abreast;
use super::super::canvas::{overlay, sheet};
use super::super::theme::recoloured;
use super::super::{PlotError, Theme, vector};
use super::layout::Layout;
use super::reel::Reel;
use super::scene::{backdrop, foreground};
use crate::predict::Outcome;

/// Bodies of the SVG elements.
pub(super) struct Drawn {
    pub(super) below: String,
    pub(super) frames: Vec<String>,
}

pub(super) fn compose(
    outcome: &Outcome,
    reel: &Reel<'_>,
    theme: Theme,
) -> Result<Drawn, PlotError> {
    let layout = Layout::new(outcome, reel);
    let finished = |raw: &str| Ok::<_, PlotError>(recoloured(&vector::body(raw)?, theme));
    let below = sheet(|canvas| backdrop(canvas, outcome, reel, &layout))?;
    let frame = |n: usize| -> Result<String, PlotError> {
        finished(&overlay(|canvas| {
            foreground(canvas, outcome, reel, &layout, n)
        })?)
    };
    Ok(Drawn {
        below: finished(&below)?,
        frames: abreast(reel.shown.len(), &frame)?,
    })
}
