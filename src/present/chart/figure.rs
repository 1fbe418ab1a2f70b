//! A finished figure: SVG, and PNG and PDF from the same SVG.

use super::sheet::{Sheet, Size};
use super::{Theme, pdf, theme, vector};
use std::fmt;
use std::sync::Arc;

/// One figure.
#[derive(Clone)]
pub struct Figure {
    /// Name of its files without the ending.
    pub stem: &'static str,
    /// Title.
    pub title: String,
    /// What it shows, for those who cannot see it.
    pub description: String,
    /// The figure as SVG, text as text.
    pub svg: String,
    /// Its axes with their units, each once.
    axes: Vec<String>,
    /// Height of the text at its axes, points.
    pub(super) text_pt: f64,
    /// Width of its picture, pixels.
    picture_px: u32,
    draw: Option<Draw>,
}

/// Draws the same figure on a sheet.
type Draw = Arc<dyn Fn(Sheet) -> Option<Figure> + Send + Sync>;

impl Figure {
    pub(super) fn new(
        stem: &'static str,
        title: impl Into<String>,
        description: String,
        svg: String,
    ) -> Self {
        Self {
            stem,
            title: title.into(),
            description,
            svg,
            axes: Vec::new(),
            text_pt: Sheet::USUAL.text_pt(),
            picture_px: Size::Page.picture_px(),
            draw: None,
        }
    }

    /// It can be drawn again, on another sheet.
    pub(crate) fn again(mut self, draw: Draw) -> Self {
        self.draw = Some(draw);
        self
    }

    pub(super) fn over(mut self, axes: Vec<&str>) -> Self {
        self.axes = axes.into_iter().map(str::to_owned).collect();
        self
    }

    /// The same figure, laid out again as asked for.
    #[must_use]
    pub fn printed(self, print: &Print) -> Self {
        let sheet = Sheet::of(print.size, print.text_pt);
        let is_usual = sheet == Sheet::USUAL;
        let drawn = self.draw.as_ref().filter(|_| !is_usual);
        let mut figure = drawn.and_then(|draw| draw(sheet)).unwrap_or(self);
        figure.picture_px = print.size.picture_px();
        figure.in_theme(print.theme)
    }

    /// Height of its text where that is less than asked for, points.
    pub(crate) fn smaller_pt(&self, print: &Print) -> Option<f64> {
        let is_smaller = print
            .text_pt
            .is_some_and(|asked| self.text_pt < 0.99 * asked);
        is_smaller.then_some(self.text_pt)
    }

    /// What stands below it in a text: its title, what it shows, its axes with their units, and
    /// where it is from.
    pub fn caption(&self, source: &str) -> String {
        let axes = match self.axes.is_empty() {
            true => String::new(),
            false => format!(" Axes: {}.", self.axes.join("; ")),
        };
        format!("**{}.** {}{axes} {source}", self.title, self.description)
    }

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

    /// The same figure as PNG, 1600 pixels wide unless it is made for something else.
    ///
    /// # Errors
    /// When the SVG cannot be rasterised.
    pub fn png(&self) -> Result<Vec<u8>, PlotError> {
        vector::png(&self.svg, self.picture_px)
    }

    /// The same figure as a page of PDF, as large as it is shown; its words stay words.
    ///
    /// # Errors
    /// When the SVG holds what no page holds.
    pub fn pdf(&self) -> Result<Vec<u8>, PlotError> {
        pdf::pdf(&self.svg, &self.title, &self.description)
    }
}

/// How figures are laid out, coloured and written.
#[derive(Debug, Clone, Copy, Default)]
pub struct Print {
    /// Colours.
    pub theme: Theme,
    /// What they are made for.
    pub size: Size,
    /// Height of the text at the axes, points (4 to 40), where another is wanted than is usual for
    /// the size. Where a figure has no room for it, its text is as large as it has room for.
    pub text_pt: Option<f64>,
    /// Who is told which figures have no room for it.
    pub tell: Option<fn(&str)>,
    /// Whether each is written as PDF, too.
    pub is_pdf: bool,
    /// Whether a file of captions is written with them.
    pub has_captions: bool,
}

impl From<Theme> for Print {
    fn from(theme: Theme) -> Self {
        Self {
            theme,
            ..Self::default()
        }
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
