//! Moving pictures of the main run: the strip bends, the latch lets go, the contacts open, it
//! cools; beside it the temperatures and the current. The same frames as GIF and as an SVG that
//! plays in a browser.

pub(super) mod animation;
pub(super) mod compose;
mod layout;
pub(super) mod reel;
mod scene;
mod strike;

use super::{PlotError, Theme};
use crate::predict::Outcome;
use crate::present::words;

/// A moving picture.
#[derive(Debug, Clone)]
pub struct Moving {
    /// As GIF, 960 pixels wide.
    pub gif: Vec<u8>,
    /// As SVG with its own clockwork.
    pub svg: String,
    /// Pictures a second.
    pub frames_per_s: f64,
    /// Length, s.
    pub duration_s: f64,
    /// Title.
    pub title: String,
    /// What it shows, for those who cannot see it.
    pub description: String,
}

/// Draws the moving picture; `None` when the outcome keeps no frames
/// ([`Options::film`](crate::predict::Options)).
///
/// # Errors
/// When a frame cannot be drawn.
pub fn moving(outcome: &Outcome, theme: Theme) -> Result<Option<Moving>, PlotError> {
    moving_of_width(outcome, theme, GIF_WIDTH)
}

/// The same with the GIF at another width, pixels (1 to 4000).
///
/// # Errors
/// When a frame cannot be drawn.
pub fn moving_of_width(
    outcome: &Outcome,
    theme: Theme,
    width: u32,
) -> Result<Option<Moving>, PlotError> {
    let Some(film) = outcome.film.as_ref().filter(|f| f.heating.len() > 1) else {
        return Ok(None);
    };
    let reel = reel::Reel::new(outcome, film);
    let clock = reel.clock();
    let drawn = compose::compose(outcome, &reel, theme);
    let title = word!("Moving picture of the protector");
    let told = (title, cautioned(outcome, &reel.words()));
    Moving::of(&drawn, &clock, told, reel::FRAMES_PER_S, width).map(Some)
}

/// What a picture shows, with the cautions that go wherever it goes.
pub(super) fn cautioned(outcome: &Outcome, shows: &str) -> String {
    let cautions = super::carried(outcome).into_iter().map(words::caution);
    cautions.fold(shows.to_owned(), |all, c| format!("{all} {c}"))
}

impl Moving {
    /// What stands below it in a text: its title, what it shows, and where it is from.
    pub fn caption(&self, source: &str) -> String {
        format!("**{}.** {} {source}", self.title, self.description)
    }

    /// What was drawn, as both files.
    pub(super) fn of(
        drawn: &compose::Drawn,
        times: &animation::Times,
        (title, description): (&str, String),
        frames_per_s: f64,
        width: u32,
    ) -> Result<Moving, PlotError> {
        Ok(Moving {
            gif: animation::gif(drawn, times, width.clamp(1, 4000))?,
            svg: animation::svg(drawn, times, (title, &description)),
            frames_per_s,
            duration_s: times.duration_s(),
            title: title.to_owned(),
            description,
        })
    }
}

/// The armature's strike as a moving picture; `None` when the outcome keeps none, or at no closing
/// angle does it release.
///
/// # Errors
/// When a frame cannot be drawn.
pub fn strike_of_width(
    outcome: &Outcome,
    theme: Theme,
    width: u32,
) -> Result<Option<Moving>, PlotError> {
    strike::moving(outcome, theme, width)
}

/// Width of a moving picture, pixels.
pub const GIF_WIDTH: u32 = 960;
