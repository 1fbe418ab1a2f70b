//! The sheet: text, lines and marks on an SVG, and how wide a text is.

use super::PlotError;
use super::area::{Area, Point};
use super::dash::{dashes, pixel};
use super::style::{HEIGHT, INK, PAPER, QUIET, SOLID, SUBTITLE, Stroke, TITLE, WIDTH, stroke};
use plotters::coord::Shift;
use plotters::prelude::{
    Circle, DrawingArea, IntoDrawingArea, PathElement, Polygon, Rectangle, SVGBackend,
};
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{
    Color, FontFamily, FontStyle, FontTransform, RGBAColor, RGBColor, ShapeStyle, TextStyle,
    register_font,
};
use std::sync::OnceLock;

/// Name under which the embedded font is known to everything that draws.
pub(crate) const FONT: &str = "DejaVu Sans";

/// The SVG backend sets an em of size / 1.24, its measurement one of size / 1.164.
const BACKEND_EM: f64 = 1.24;
const MEASURED_EM: f64 = 1.164;

/// Which point of a text its position means.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Anchor {
    Left,
    Centre,
    Right,
}

/// The sheet.
pub(crate) struct Canvas<'a> {
    area: DrawingArea<SVGBackend<'a>, Shift>,
}

fn fonts_ready() -> Result<(), PlotError> {
    static READY: OnceLock<bool> = OnceLock::new();
    let ready = READY.get_or_init(|| {
        register_font(FONT, FontStyle::Normal, dejavu::sans::regular()).is_ok()
            && register_font(FONT, FontStyle::Bold, dejavu::sans::bold()).is_ok()
    });
    if *ready {
        Ok(())
    } else {
        Err(PlotError::new("the embedded font cannot be read"))
    }
}

/// Draws on a white sheet and returns the raw SVG.
pub(crate) fn sheet(
    draw: impl FnOnce(&Canvas<'_>) -> Result<(), PlotError>,
) -> Result<String, PlotError> {
    drawn(true, draw)
}

/// The same without paper, to be laid over a sheet.
pub(crate) fn overlay(
    draw: impl FnOnce(&Canvas<'_>) -> Result<(), PlotError>,
) -> Result<String, PlotError> {
    drawn(false, draw)
}

fn drawn(
    has_paper: bool,
    draw: impl FnOnce(&Canvas<'_>) -> Result<(), PlotError>,
) -> Result<String, PlotError> {
    fonts_ready()?;
    let mut svg = String::new();
    {
        let area =
            SVGBackend::with_string(&mut svg, (WIDTH as u32, HEIGHT as u32)).into_drawing_area();
        if has_paper {
            area.fill(&PAPER).map_err(PlotError::new)?;
        }
        let canvas = Canvas { area };
        draw(&canvas)?;
        canvas.area.present().map_err(PlotError::new)?;
    }
    Ok(svg)
}

impl Canvas<'_> {
    /// Title and subtitle, shortened when they are too long for the sheet.
    pub(crate) fn header(&self, title: &str, subtitle: &str) -> Result<(), PlotError> {
        let room = f64::from(WIDTH) - 160.0;
        let title = self.shortened(title, TITLE * 1.06, room);
        self.write(&title, (80.0, 64.0), TITLE, INK, Anchor::Left, true, false)?;
        let subtitle = self.shortened(subtitle, SUBTITLE, room);
        self.write(
            &subtitle,
            (80.0, 122.0),
            SUBTITLE,
            QUIET,
            Anchor::Left,
            false,
            false,
        )
    }

    /// Text at its vertical middle.
    pub(crate) fn text(
        &self,
        text: &str,
        at: Point,
        em: f64,
        colour: RGBColor,
        anchor: Anchor,
    ) -> Result<(), PlotError> {
        self.write(text, at, em, colour, anchor, false, false)
    }

    /// Text in bold.
    pub(crate) fn bold(
        &self,
        text: &str,
        at: Point,
        em: f64,
        colour: RGBColor,
        anchor: Anchor,
    ) -> Result<(), PlotError> {
        self.write(text, at, em, colour, anchor, true, false)
    }

    /// Text that reads upwards.
    pub(crate) fn upwards(
        &self,
        text: &str,
        at: Point,
        em: f64,
        colour: RGBColor,
        anchor: Anchor,
    ) -> Result<(), PlotError> {
        self.write(text, at, em, colour, anchor, false, true)
    }

    #[allow(clippy::too_many_arguments)]
    fn write(
        &self,
        text: &str,
        at: Point,
        em: f64,
        colour: RGBColor,
        anchor: Anchor,
        is_bold: bool,
        is_upwards: bool,
    ) -> Result<(), PlotError> {
        let horizontal = match anchor {
            Anchor::Left => HPos::Left,
            Anchor::Centre => HPos::Center,
            Anchor::Right => HPos::Right,
        };
        let weight = if is_bold {
            FontStyle::Bold
        } else {
            FontStyle::Normal
        };
        let mut style = TextStyle::from((FontFamily::Name(FONT), em * BACKEND_EM, weight))
            .color(&colour)
            .pos(Pos::new(horizontal, VPos::Center));
        if is_upwards {
            style = style.transform(FontTransform::Rotate270);
        }
        // Numbers and words alike look centred a little above the middle of the x-height.
        let at = if is_upwards {
            (at.0 + 0.10 * em, at.1)
        } else {
            (at.0, at.1 + 0.10 * em)
        };
        // XML has no control characters.
        let text: String = text
            .chars()
            .filter(|c| !c.is_control() && !matches!(c, '\u{fffe}' | '\u{ffff}'))
            .collect();
        self.area
            .draw_text(&text, &style, pixel(at))
            .map_err(PlotError::new)
    }

    /// Width of a text.
    pub(crate) fn width(&self, text: &str, em: f64) -> f64 {
        let style = TextStyle::from((FontFamily::Name(FONT), em * BACKEND_EM, FontStyle::Normal));
        match self.area.estimate_text_size(text, &style) {
            Ok((width, _)) => f64::from(width) * MEASURED_EM / BACKEND_EM,
            Err(_) => text.chars().count() as f64 * em * 0.6,
        }
    }

    /// `text` cut to `room` with an ellipsis.
    pub(crate) fn shortened(&self, text: &str, em: f64, room: f64) -> String {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if self.width(&text, em) <= room {
            return text;
        }
        let mut kept: Vec<char> = text.chars().collect();
        while !kept.is_empty() && self.width(&ellipsis(&kept), em) > room {
            kept.pop();
        }
        ellipsis(&kept)
    }

    /// `text` broken into lines of at most `room`.
    pub(crate) fn broken(&self, text: &str, em: f64, room: f64) -> Vec<String> {
        let mut lines = vec![String::new()];
        for word in text.split_whitespace() {
            let Some(line) = lines.last_mut() else { break };
            let longer = if line.is_empty() {
                word.to_owned()
            } else {
                format!("{line} {word}")
            };
            if line.is_empty() || self.width(&longer, em) <= room {
                *line = longer;
            } else {
                lines.push(word.to_owned());
            }
        }
        lines
    }

    /// A line through points; breaks where a point is not finite.
    pub(crate) fn line(&self, points: &[Point], stroke: Stroke) -> Result<(), PlotError> {
        for piece in points.split(|p| !p.0.is_finite() || !p.1.is_finite()) {
            for dash in dashes(piece, stroke.dash) {
                let style = stroke.colour.stroke_width(stroke.width);
                let element = PathElement::new(dash, style);
                self.area.draw(&element).map_err(PlotError::new)?;
            }
        }
        Ok(())
    }

    /// An unbroken thin line between two points.
    pub(crate) fn rule(
        &self,
        from: Point,
        to: Point,
        colour: RGBColor,
        width: u32,
    ) -> Result<(), PlotError> {
        self.line(&[from, to], stroke(colour, width, SOLID))
    }

    pub(crate) fn rectangle(&self, area: Area, style: ShapeStyle) -> Result<(), PlotError> {
        let corners = [
            pixel((area.left, area.top)),
            pixel((area.right, area.bottom)),
        ];
        self.area
            .draw(&Rectangle::new(corners, style))
            .map_err(PlotError::new)
    }

    /// The border of a box, as wide as asked for.
    pub(crate) fn outline(
        &self,
        area: Area,
        colour: RGBColor,
        width: u32,
    ) -> Result<(), PlotError> {
        self.line(&area.outline(), stroke(colour, width, SOLID))
    }

    pub(crate) fn disc(&self, at: Point, radius: i32, colour: RGBColor) -> Result<(), PlotError> {
        self.area
            .draw(&Circle::new(pixel(at), radius, colour.filled()))
            .map_err(PlotError::new)
    }

    /// A filled polygon in a colour that may be mixed with what lies below.
    pub(crate) fn tint(&self, points: &[Point], colour: &RGBAColor) -> Result<(), PlotError> {
        let whole = |p: &&Point| p.0.is_finite() && p.1.is_finite();
        let points: Vec<(i32, i32)> = points.iter().filter(whole).map(|p| pixel(*p)).collect();
        if points.len() < 3 {
            return Ok(());
        }
        self.area
            .draw(&Polygon::new(points, colour.filled()))
            .map_err(PlotError::new)
    }

    pub(crate) fn polygon(&self, points: &[Point], colour: RGBColor) -> Result<(), PlotError> {
        let points: Vec<(i32, i32)> = points.iter().map(|p| pixel(*p)).collect();
        self.area
            .draw(&Polygon::new(points, colour.filled()))
            .map_err(PlotError::new)
    }
}

fn ellipsis(kept: &[char]) -> String {
    kept.iter().collect::<String>().trim_end().to_owned() + "…"
}
