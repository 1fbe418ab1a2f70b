//! The mechanism of a part at work, as a moving picture.

use super::answer::scenario;
use super::{PageError, Preset, Sliders};
use crate::predict::{Halt, Options, predict};
use crate::present::plot::Theme;
use crate::present::plot::live::Look;
use crate::present::plot::mechanism::mechanism_svg;
use serde::Serialize;

/// The picture.
#[derive(Debug, Serialize)]
pub(super) struct Worked {
    /// As SVG with a clockwork.
    picture: String,
    /// Where it stands for whoever wants nothing to move, s.
    still_s: f64,
}

/// Draws it.
///
/// # Errors
/// Values that give no prediction; a part whose mechanism is not drawn, or that does not trip.
pub(super) fn worked(
    preset: &Preset,
    sliders: &Sliders,
    look: Look,
    halt: &Halt,
) -> Result<Worked, PageError> {
    let mut scenario = scenario(preset, sliders)?;
    // Neither is drawn.
    scenario.start_up = None;
    scenario.ask.ambients_k.clear();
    let options = Options {
        film: true,
        halt: halt.clone(),
        ..Options::default()
    };
    let outcome = predict(&scenario, &options, &mut |_, _| {})?;
    let theme = match look.is_dark {
        true => Theme::Dark,
        false => Theme::Light,
    };
    let why =
        word!("it does not trip and catch again at this setting, or its mechanism is not drawn");
    let (picture, still_s) =
        mechanism_svg(&outcome, theme).ok_or_else(|| PageError::Impossible(why.into()))?;
    Ok(Worked { picture, still_s })
}
