//! What a request asks, as JSON.

use super::{PageError, Sliders};
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
    /// Leave out the start wait, which takes the longest to find.
    #[serde(default)]
    pub without_start: bool,
    /// Times at which the reset is pressed, s.
    #[serde(default)]
    pub resets_s: Vec<f64>,
    /// How figures are shown.
    #[serde(default)]
    pub look: Look,
}

impl Asked {
    /// Read the body of a request.
    pub fn read(body: &[u8]) -> Result<Asked, PageError> {
        serde_json::from_slice(body)
            .map_err(|e| PageError::Asked(format!("the request is not understood: {e}")))
    }
}
