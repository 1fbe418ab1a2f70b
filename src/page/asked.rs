//! What a request asks, as JSON.

use super::Sliders;
use super::taught::LessonAsked;
use crate::present::plot::live::Look;
use serde::Deserialize;

/// A position of the sliders on a preset.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Asked {
    /// Name of the preset.
    pub preset: String,
    /// Sliders that were moved.
    #[serde(default)]
    pub sliders: Sliders,
    /// Leave out the start wait, the hot curve and the published limits, which take the longest to
    /// find.
    #[serde(default)]
    pub brief: bool,
    /// Times at which the reset is pressed, s.
    #[serde(default)]
    pub resets_s: Vec<f64>,
    /// How figures are shown.
    #[serde(default)]
    pub look: Look,
    /// Which lesson is wanted of it.
    #[serde(default)]
    pub lesson: Option<LessonAsked>,
}
