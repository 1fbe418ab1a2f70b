//! The mechanism at work, in section: strip, latch with its tooth, spring, contacts, button and case;
//! the release in slow motion, a reset that comes too early, the one that holds, and the same part
//! with a tired spring below it. A blade or a disc snaps beside its fold. To scale is what the scenario says;
//! everything else is a sketch.

mod case;
mod forces;
mod latch;
mod snap;
mod story;

pub(super) use latch::reel as latch;
pub(super) use snap::reel as snap;

use super::canvas::Canvas;
#[cfg(feature = "page")]
use super::moving::animation;
use super::moving::animation::Times;
use super::moving::compose::{Drawn, OfFrame, film};
use super::moving::reel::FRAMES_PER_S;
use super::moving::{Moving, cautioned};
use super::release::look;
use super::{PlotError, Theme};
use crate::predict::{Film, Outcome};
use crate::present::chart::header::Header;

/// A part of each frame that changes at times of its own.
type Part<'a> = Box<dyn Fn(&mut Canvas, usize) + Sync + 'a>;

/// How a mechanism is shown at work; `None` where it does not release and catch.
pub(super) type AtWork = for<'a> fn(&'a Outcome, &'a Film) -> Option<Reel<'a>>;

/// What is shown: what stands still, what moves, for how long.
pub(super) struct Reel<'a> {
    height: i32,
    subtitle: String,
    below: Box<dyn Fn(&mut Canvas) + Sync + 'a>,
    parts: Vec<Part<'a>>,
    times: Times,
    description: String,
}

/// Draws it; `None` when the outcome keeps no frames, never releases, or its mechanism is drawn
/// elsewhere.
///
/// # Errors
/// When a frame cannot be drawn.
pub fn mechanism(outcome: &Outcome, theme: Theme, width: u32) -> Result<Option<Moving>, PlotError> {
    let Some(reel) = reel(outcome) else {
        return Ok(None);
    };
    let drawn = composed(outcome, &reel, theme);
    let told = (title(), cautioned(outcome, &reel.description));
    Moving::of(&drawn, &reel.times, told, FRAMES_PER_S, width).map(Some)
}

/// The same as SVG for a page that has a button of its own, and when the frame that stands for all
/// begins, s.
#[cfg(feature = "page")]
pub(crate) fn mechanism_svg(outcome: &Outcome, theme: Theme) -> Option<(String, f64)> {
    let mut reel = reel(outcome)?;
    reel.times.is_alone = false;
    let drawn = composed(outcome, &reel, theme);
    let description = cautioned(outcome, &reel.description);
    let svg = animation::svg(&drawn, &reel.times, (title(), &description));
    Some((svg, reel.times.still_s()))
}

fn reel(outcome: &Outcome) -> Option<Reel<'_>> {
    let film = outcome.film.as_ref().filter(|f| f.heating.len() > 1)?;
    look(&outcome.part).at_work?(outcome, film)
}

fn composed(outcome: &Outcome, reel: &Reel<'_>, theme: Theme) -> Drawn {
    let parts: Vec<&OfFrame<'_>> = reel.parts.iter().map(|part| &**part as _).collect();
    let size = (super::style::WIDTH, reel.height);
    let backdrop = |canvas: &mut Canvas, size: (i32, i32)| {
        let room = f64::from(size.0) - 260.0;
        Header::cut(&outcome.scenario, &reel.subtitle, room).draw(canvas);
        (reel.below)(canvas);
    };
    let frames = reel.times.for_cs.len();
    film(outcome, theme, (size, frames), backdrop, None, &parts)
}

fn title() -> &'static str {
    word!("The mechanism at work")
}
