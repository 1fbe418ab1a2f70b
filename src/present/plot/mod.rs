//! Figures as SVG and PNG. Text stays text; places are found with one embedded font, which PNGs are drawn
//! with; coordinates are whole units on a large sheet.

mod abreast;
mod along_strip;
mod ambient;
mod area;
mod axis;
mod bands;
mod canvas;
mod characteristic;
mod clip;
mod contact_bar;
mod cool_down;
mod dash;
mod diagnosis;
mod drawn_strip;
mod drift;
mod fit;
mod fit_air;
mod fit_key;
mod fit_mark;
mod flags;
mod heat_flow;
mod label;
mod limit_marks;
mod lives;
mod memory;
mod moments;
pub mod moving;
mod palette;
mod panel;
mod preload_shift;
mod readings;
mod scatter;
mod snap_blade;
mod spot;
mod stress;
mod stretch;
mod strip_drawing;
mod strip_shape;
mod style;
mod table_curve;
mod theme;
mod through_log;
mod time_course;
mod times_band;
mod tornado;
mod trip_point_histogram;
mod vector;

use crate::answer::Caution;
use crate::predict::Outcome;
use crate::present::words;
use crate::study::ageing::AgeOutcome;
use crate::study::population::VaryOutcome;
pub use diagnosis::diagnosis_figure;
pub use fit::fit_figure;
pub use readings::{Band, Measured, Overlay, Reading};
use std::fmt;
pub use theme::Theme;
pub use through_log::log_figure;

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

    /// The same with text as outlines: it looks the same where the font is missing, and nothing of it can
    /// be selected or searched.
    ///
    /// # Errors
    /// When the SVG cannot be read back.
    pub fn outlined(mut self) -> Result<Self, PlotError> {
        self.svg = vector::outlined(&self.svg)?;
        Ok(self)
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

/// Draws one figure, where there is data for it.
type Draw = fn(&Outcome) -> Result<Option<Figure>, PlotError>;

/// Every figure of a run, in the order in which they are shown.
const DRAWN: [Draw; 12] = [
    time_course::figure,
    strip_shape::figure,
    drawn_strip::figure,
    along_strip::figure,
    heat_flow::figure,
    stress::figure,
    snap_blade::figure,
    cool_down::figure,
    memory::figure,
    characteristic::figure,
    preload_shift::figure,
    ambient::figure,
];

/// Every figure that `outcome` has data for.
///
/// # Errors
/// When a figure cannot be drawn.
pub fn figures(outcome: &Outcome) -> Result<Vec<Figure>, PlotError> {
    let all = abreast::abreast(DRAWN.len(), &|n| DRAWN[n](outcome))?;
    // What holds its load needs no caution about switching on again.
    let concerns = |f: &Figure| outcome.trip.trips() || f.stem == "characteristic";
    let with = |f: Figure| if concerns(&f) { cautioned(f) } else { Ok(f) };
    all.into_iter().flatten().map(with).collect()
}

/// The figure with the cautions that concern it at its foot, for it may travel alone.
///
/// # Errors
/// When they cannot be drawn.
pub(super) fn cautioned(figure: Figure) -> Result<Figure, PlotError> {
    let (which, size): (&[Caution], _) = match figure.stem {
        "readings" => (&[Caution::FindCause], diagnosis::SIZE),
        "time_course" | "cool_down" | "memory" | "preload_shift" | "ambient_correction"
        | "strip_through_log" => (&[Caution::FindCause], style::SHEET),
        "characteristic" => (&[Caution::ModelEstimate], style::SHEET),
        "fit" => (&[Caution::OneOfMany], style::SHEET),
        "drift" | "lives" => (&[Caution::ReplaceBefore], style::SHEET),
        "bands" | "tornado" | "scatter" | "trip_point" => {
            (&[Caution::ModelledScatter], style::SHEET)
        }
        _ => (&[], style::SHEET),
    };
    let texts: Vec<&str> = which.iter().map(|c| words::caution(*c)).collect();
    vector::cautioned(figure, &texts, size)
}

/// Figures of an ageing study.
///
/// # Errors
/// When a figure cannot be drawn.
pub fn age_figures(outcome: &AgeOutcome) -> Result<Vec<Figure>, PlotError> {
    let all = [drift::figure(outcome)?, lives::figure(outcome)?];
    all.into_iter().flatten().map(cautioned).collect()
}

/// The figures in a theme, each with itself as PNG.
pub(super) fn finished(
    outcome: &Outcome,
    theme: Theme,
) -> Result<Vec<(Figure, Vec<u8>)>, PlotError> {
    let figures = figures(outcome)?;
    abreast::abreast(figures.len(), &|n| {
        let figure = figures[n].clone().in_theme(theme);
        let png = figure.png()?;
        Ok((figure, png))
    })
}

/// The characteristic of `outcome` with measured points and a band drawn over it; `None` where the
/// outcome has no characteristic that trips anywhere.
///
/// # Errors
/// When it cannot be drawn.
pub fn characteristic_with(
    outcome: &Outcome,
    overlay: &Overlay,
) -> Result<Option<Figure>, PlotError> {
    characteristic::with_overlay(outcome, overlay)
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
    all.into_iter().flatten().map(cautioned).collect()
}
