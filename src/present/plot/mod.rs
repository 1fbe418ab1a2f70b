//! Figures as SVG and PNG. All text is drawn with one embedded font and turned into paths, so a
//! figure looks the same on every machine; coordinates are whole units on a large sheet.

mod along_strip;
mod ambient;
mod area;
mod axis;
mod canvas;
mod characteristic;
mod contact_bar;
mod cool_down;
mod dash;
mod flags;
mod heat_flow;
mod label;
mod limit_marks;
mod memory;
mod moments;
mod panel;
mod preload_shift;
mod snap_blade;
mod spot;
mod stress;
mod stretch;
mod strip_shape;
mod style;
mod table_curve;
mod theme;
mod time_course;
mod vector;

use crate::predict::Outcome;
use std::fmt;
pub use theme::Theme;

/// One figure.
#[derive(Debug, Clone)]
pub struct Figure {
    /// Name of its files without the ending.
    pub stem: &'static str,
    /// Title.
    pub title: String,
    /// What it shows, for those who cannot see it.
    pub description: String,
    /// The figure as SVG, text as paths.
    pub svg: String,
}

impl Figure {
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
        vector::png(&self.svg)
    }
}

/// A figure could not be drawn.
#[derive(Debug)]
pub struct PlotError(String);

impl PlotError {
    fn new(error: impl fmt::Display) -> Self {
        Self(error.to_string())
    }
}

impl fmt::Display for PlotError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "cannot draw the figure: {}", self.0)
    }
}

impl std::error::Error for PlotError {}

/// Every figure that `outcome` has data for.
///
/// # Errors
/// When a figure cannot be drawn.
pub fn figures(outcome: &Outcome) -> Result<Vec<Figure>, PlotError> {
    let all = [
        time_course::figure(outcome)?,
        strip_shape::figure(outcome)?,
        along_strip::figure(outcome)?,
        heat_flow::figure(outcome)?,
        stress::figure(outcome)?,
        snap_blade::figure(outcome)?,
        cool_down::figure(outcome)?,
        memory::figure(outcome)?,
        characteristic::figure(outcome)?,
        preload_shift::figure(outcome)?,
        ambient::figure(outcome)?,
    ];
    Ok(all.into_iter().flatten().collect())
}
