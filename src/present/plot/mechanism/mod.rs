//! The mechanism at work, in section: strip, latch with its tooth, spring, contacts, button and case;
//! the release in slow motion, a reset that comes too early, the one that holds, and the same part
//! with a tired spring below it. A blade snaps beside its fold. To scale is what the scenario says;
//! everything else is a sketch.

mod blade;
mod case;
mod forces;
mod latch;
mod story;

pub(super) use blade::reel as blade;
pub(super) use latch::reel as latch;

use super::canvas::{Canvas, drawn};
use super::moving::Moving;
use super::moving::animation::{self, Times};
use super::moving::compose::Drawn;
use super::moving::reel::FRAMES_PER_S;
use super::release::look;
use super::theme::recoloured;
use super::vector::with_cautions;
use super::{PlotError, Theme, again, side_by_side};
use crate::predict::{Film, Outcome};
use crate::present::chart::header::Header;
use crate::present::words;

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
    let (drawn, description) = composed(outcome, &reel, theme);
    Ok(Some(Moving {
        gif: animation::gif(&drawn, &reel.times, width.clamp(1, 4000))?,
        svg: animation::svg(&drawn, &reel.times, (title(), &description)),
        frames_per_s: FRAMES_PER_S,
        duration_s: reel.times.duration_s(),
        description,
    }))
}

/// The same as SVG for a page that has a button of its own, and when the frame that stands for all
/// begins, s.
#[cfg(feature = "page")]
pub(crate) fn mechanism_svg(outcome: &Outcome, theme: Theme) -> Option<(String, f64)> {
    let mut reel = reel(outcome)?;
    reel.times.is_alone = false;
    let (drawn, description) = composed(outcome, &reel, theme);
    let svg = animation::svg(&drawn, &reel.times, (title(), &description));
    Some((svg, reel.times.still_s()))
}

fn reel(outcome: &Outcome) -> Option<Reel<'_>> {
    let film = outcome.film.as_ref().filter(|f| f.heating.len() > 1)?;
    look(&outcome.part).at_work?(outcome, film)
}

/// Everything drawn, and what it shows in words.
fn composed(outcome: &Outcome, reel: &Reel<'_>, theme: Theme) -> (Drawn, String) {
    let size = (super::style::WIDTH, reel.height);
    let (below, size) = with_cautions(size, again(outcome), |canvas, size| {
        canvas.paper(size);
        let room = f64::from(size.0) - 260.0;
        Header::cut(&outcome.scenario, &reel.subtitle, room).draw(canvas);
        (reel.below)(canvas);
    });
    let numbers: Vec<usize> = (0..reel.times.for_cs.len()).collect();
    let frame = |n: &usize| -> Vec<String> {
        let parts = reel.parts.iter();
        let parts = parts.map(|part| recoloured(&drawn(|canvas| part(canvas, *n)), theme));
        parts.collect()
    };
    let drawn = Drawn {
        size,
        below: recoloured(&below, theme),
        steps: Vec::new(),
        frames: side_by_side(&numbers, frame),
    };
    let cautions = again(outcome).iter().map(|c| words::caution(*c));
    let description = cautions.fold(reel.description.clone(), |all, c| format!("{all} {c}"));
    (drawn, description)
}

fn title() -> &'static str {
    word!("The mechanism at work")
}
