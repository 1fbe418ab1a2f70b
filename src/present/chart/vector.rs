//! From what is drawn to a finished SVG, with title, description and cautions, and to PNG.

use super::canvas::{Anchor, Canvas, drawn};
use super::figure::{Figure, PlotError};
use super::palette;
use super::raster::raster;
use super::style::{INK, SMALL, WIDTH};
use super::text::broken;
use crate::answer::Caution;
use crate::present::html::escape;
use crate::present::words;

/// Width at which a page shows the figure, CSS pixels.
const SHOWN_WIDTH: i32 = 960;
/// The embedded font, and those of the same widths.
const FONTS: &str = "DejaVu Sans, Verdana, sans-serif";
/// Where the strip of cautions begins at the left, the middle of its first line, and from line to line.
const STRIP_LEFT: f64 = 80.0;
const STRIP_TOP: f64 = 18.0;
const STRIP_LINE: f64 = SMALL * 1.4;
/// Width of the picture of a figure, pixels.
pub(crate) const PNG_WIDTH: u32 = 1600;

/// A finished figure: what is drawn on a sheet, and below it the cautions, each said in its description, too.
pub(crate) fn finished(
    stem: &'static str,
    title: impl Into<String>,
    mut description: String,
    body: &str,
    size: (i32, i32),
    cautions: &[Caution],
) -> Figure {
    let title = title.into();
    for caution in cautions {
        description = format!("{description} {}", words::caution(*caution));
    }
    let body = |canvas: &mut Canvas, size| {
        canvas.paper(size);
        canvas.put(body);
    };
    let (body, size) = with_cautions(size, cautions, body);
    Figure {
        svg: root(&head(&title, &description), &body, size),
        stem,
        title,
        description,
    }
}

/// What is drawn on a sheet, with a strip of cautions that makes it a little higher.
pub(crate) fn with_cautions(
    (width, height): (i32, i32),
    cautions: &[Caution],
    draw: impl FnOnce(&mut Canvas, (i32, i32)),
) -> (String, (i32, i32)) {
    let room = 0.9 * (f64::from(width) - 2.0 * STRIP_LEFT);
    let said = cautions.iter().map(|c| format!("! {}", words::caution(*c)));
    let lines: Vec<String> = said.flat_map(|text| broken(&text, SMALL, room)).collect();
    let high = match lines.len() {
        0 => 0.0,
        count => STRIP_TOP + count as f64 * STRIP_LINE,
    };
    // A whole number of pixels at every usual width.
    let whole = (width, height + (high / 15.0).ceil() as i32 * 15);
    let body = drawn(|canvas| {
        draw(canvas, whole);
        for (k, line) in lines.iter().enumerate() {
            let y = f64::from(height) + STRIP_TOP + k as f64 * STRIP_LINE;
            canvas.bold(line, (STRIP_LEFT, y), SMALL, INK, Anchor::Left);
        }
    });
    (body, whole)
}

/// Title and description, for those who cannot see it.
pub(crate) fn head(title: &str, description: &str) -> String {
    let (title, description) = (escape(title), escape(description));
    format!("<title>{title}</title><desc>{description}</desc>")
}

/// The root element. Text stays text, in a font that is on most machines where the embedded one is not. Mitred
/// corners of a dense curve would stick out as spikes.
pub(crate) fn root(head: &str, body: &str, (width, height): (i32, i32)) -> String {
    let shown_width = SHOWN_WIDTH * width / WIDTH;
    let shown_height = SHOWN_WIDTH * height / WIDTH;
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{shown_width}\" \
         height=\"{shown_height}\" viewBox=\"0 0 {width} {height}\" stroke-linejoin=\"round\" \
         font-family=\"{FONTS}\">{head}{body}</svg>\n"
    )
}

/// Rasterises a finished figure.
pub(crate) fn png(svg: &str, width: u32) -> Result<Vec<u8>, PlotError> {
    palette::png(&raster(svg, width, None)?)
}
