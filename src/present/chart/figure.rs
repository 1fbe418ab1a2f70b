//! A finished figure: SVG, and PNG from the same SVG.

use super::{Theme, theme, vector};
use std::fmt;

/// One figure.
#[derive(Debug, Clone)]
pub struct Figure {
    /// Name of its files without the ending.
    pub stem: &'static str,
    /// Title.
    pub title: String,
    /// What it shows, for those who cannot see it.
    pub description: String,
    /// The figure as SVG, text as text.
    pub svg: String,
}

impl Figure {
    /// The same figure as PNG of another width, pixels (1 to 10 000).
    ///
    /// # Errors
    /// When the SVG cannot be rasterised.
    pub fn png_of_width(&self, width: u32) -> Result<Vec<u8>, PlotError> {
        vector::png(&self.svg, width.clamp(1, 10_000))
    }

    /// The same figure in a theme; it is drawn in the light one.
    #[must_use]
    pub fn in_theme(mut self, theme: Theme) -> Self {
        self.svg = theme::recoloured(&self.svg, theme);
        self
    }

    /// The same figure as PNG, 1600 pixels wide.
    ///
    /// # Errors
    /// When the SVG cannot be rasterised.
    pub fn png(&self) -> Result<Vec<u8>, PlotError> {
        vector::png(&self.svg, vector::PNG_WIDTH)
    }
}

/// A figure could not be drawn.
#[derive(Debug)]
pub struct PlotError(String);

impl PlotError {
    pub(crate) fn new(error: impl fmt::Display) -> Self {
        Self(error.to_string())
    }
}

impl fmt::Display for PlotError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "cannot draw the figure: {}", self.0)
    }
}

impl std::error::Error for PlotError {}
