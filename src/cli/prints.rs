//! Flags of commands that write figures.

use super::Failure;
use crate::present::plot::{Print, Size, Theme};
use clap::{Args, ValueEnum};

/// How figures are laid out, coloured and written.
#[derive(Debug, Clone, Args)]
pub struct Prints {
    /// Colours of the figures
    #[arg(long, value_enum, value_name = "COLOURS")]
    theme: Option<Colours>,
    /// What figures are made for: a page, a slide, or a column of print (85 mm) [default: page]
    #[arg(long, value_enum, value_name = "SIZE")]
    figure_size: Option<FigureSize>,
    /// Height of the text at the axes in points, as far as a figure has room [default: 9.3; slides
    /// 16 and 14, column 8]
    #[arg(long, value_name = "POINTS", value_parser = points)]
    font_size: Option<f64>,
    /// Write every figure as PDF, too
    #[arg(long)]
    pdf: bool,
    /// Write captions.md, too: what each figure shows, its axes with units, and where it is from
    #[arg(long)]
    captions: bool,
}

impl Prints {
    pub fn print(&self) -> Print {
        Print {
            theme: self.theme.unwrap_or_default().into(),
            size: self.figure_size.unwrap_or_default().into(),
            text_pt: self.font_size,
            tell: Some(super::failure::say),
            is_pdf: self.pdf,
            has_captions: self.captions,
        }
    }

    /// Refuses flags about figures where none is written for want of another flag.
    pub fn need(&self, flag: &str, is_given: bool) -> Result<(), Failure> {
        let given = [
            ("--theme", self.theme.is_some()),
            ("--figure-size", self.figure_size.is_some()),
            ("--font-size", self.font_size.is_some()),
            ("--pdf", self.pdf),
            ("--captions", self.captions),
        ];
        match given.iter().find(|(_, is_said)| *is_said && !is_given) {
            Some((said, _)) => Err(Failure::Input(format!(
                "error: {said} is about figures, and none is written: add {flag}"
            ))),
            None => Ok(()),
        }
    }
}

/// The endings of a figure's files.
pub fn endings(print: &Print) -> &'static str {
    match print.is_pdf {
        true => ".svg, .png and .pdf",
        false => ".svg and .png",
    }
}

/// Colours of the figures, as a word on the command line.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, ValueEnum)]
pub enum Colours {
    /// Dark ink on white, for print [default]
    #[default]
    Light,
    /// Light ink on dark, for screens in dark rooms
    Dark,
}

impl From<Colours> for Theme {
    fn from(colours: Colours) -> Theme {
        match colours {
            Colours::Light => Theme::Light,
            Colours::Dark => Theme::Dark,
        }
    }
}

/// What figures are made for, as a word on the command line.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, ValueEnum)]
enum FigureSize {
    /// 254 mm wide, 8:5
    #[default]
    Page,
    /// A slide, 339 mm wide
    #[value(name = "16:9")]
    Slide,
    /// A slide, 254 mm wide
    #[value(name = "4:3")]
    OldSlide,
    /// 85 mm wide, as high as it has to be
    Column,
}

impl From<FigureSize> for Size {
    fn from(size: FigureSize) -> Size {
        match size {
            FigureSize::Page => Size::Page,
            FigureSize::Slide => Size::Slide,
            FigureSize::OldSlide => Size::OldSlide,
            FigureSize::Column => Size::Column,
        }
    }
}

/// A height that can be read and has room.
fn points(text: &str) -> Result<f64, String> {
    let number = text.trim().trim_end_matches("pt").trim_end();
    match number.parse::<f64>() {
        Ok(points) if (4.0..=40.0).contains(&points) => Ok(points),
        _ => Err("points, 4 to 40".to_owned()),
    }
}
