//! Figures as SVG and PNG. All text is drawn with one embedded font and turned into paths, so a
//! figure looks the same on every machine; coordinates are whole units on a large sheet.

mod ambient;
mod area;
mod axis;
mod bands;
mod canvas;
mod characteristic;
mod contact_bar;
mod dash;
mod flags;
mod label;
mod limit_marks;
mod moments;
mod panel;
mod preload_shift;
mod scatter;
mod spot;
mod stretch;
mod strip_shape;
mod style;
mod table_curve;
mod time_course;
mod tornado;
mod trip_point_histogram;
mod vector;

use crate::predict::Outcome;
use crate::study::population::VaryOutcome;
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
    /// The figure as SVG, text as paths.
    pub svg: String,
}

impl Figure {
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
        characteristic::figure(outcome)?,
        preload_shift::figure(outcome)?,
        ambient::figure(outcome)?,
    ];
    Ok(all.into_iter().flatten().collect())
}

/// Every figure of a population.
///
/// # Errors
/// When a figure cannot be drawn.
pub fn population_figures(outcome: &VaryOutcome) -> Result<Vec<Figure>, PlotError> {
    let all = [
        bands::figure(outcome)?,
        tornado::figure(outcome)?,
        scatter::figure(outcome)?,
        trip_point_histogram::figure(outcome)?,
    ];
    Ok(all.into_iter().flatten().collect())
}
