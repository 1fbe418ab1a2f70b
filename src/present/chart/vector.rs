//! From what is drawn to a finished SVG, with title, description and cautions, and to PNG.

use super::canvas::{Anchor, Canvas, drawn};
use super::figure::{Figure, PlotError};
use super::palette;
use super::raster::raster;
use super::sheet::{Grows, Sheet};
use super::style::{INK, SMALL};
use super::text::broken;
use crate::answer::Caution;
use crate::present::html::escape;
use crate::present::language::translated;
use crate::present::words;

/// The embedded font, and those of the same widths.
const FONTS: &str = "DejaVu Sans, Verdana, sans-serif";
/// Where the strip of cautions begins at the left, the middle of its first line, and from line to
/// line.
const STRIP_LEFT: f64 = 80.0;
const STRIP_TOP: f64 = 18.0;
const STRIP_LINE: f64 = SMALL * 1.4;

/// A finished figure: what is drawn on a sheet, with its title and description, so wide as shown,
/// pixels; and below it the cautions, each said in its description, too.
pub(crate) fn finished(
    stem: &'static str,
    (title, mut description): (&str, String),
    body: &str,
    (size, shown_px): ((i32, i32), f64),
    cautions: &[Caution],
) -> Figure {
    for caution in cautions {
        description = format!("{description} {}", words::caution(*caution));
    }
    let body = |canvas: &mut Canvas, size| {
        canvas.paper(size);
        canvas.put(body);
    };
    let (body, size) = with_cautions(size, cautions, body);
    let svg = root_shown(&head(title, &description), &body, (size, shown_px));
    let mut figure = Figure::new(stem, title, description, svg);
    let grows = Grows::Nothing;
    let sheet = Sheet {
        units: size,
        shown_px,
        grows,
    };
    figure.text_pt = sheet.text_pt();
    figure
}

/// Cautions in their fewest words, as lines on a sheet so wide; the description has them in full.
fn strip(width: i32, cautions: &[Caution]) -> Vec<String> {
    let room = 0.9 * (f64::from(width) - 2.0 * STRIP_LEFT);
    let said: Vec<&str> = cautions.iter().map(|c| words::caution_brief(*c)).collect();
    match said.is_empty() {
        true => Vec::new(),
        false => broken(
            &format!("! {}{}", said.join(" "), translated()),
            SMALL,
            room,
        ),
    }
}

/// Height of the strip of cautions, a whole number of pixels at every usual width.
pub(crate) fn strip_height(width: i32, cautions: &[Caution]) -> i32 {
    let high = match strip(width, cautions).len() {
        0 => 0.0,
        count => STRIP_TOP + count as f64 * STRIP_LINE,
    };
    (high / 15.0).ceil() as i32 * 15
}

/// What is drawn on a sheet, with a strip of cautions that makes it a little higher.
pub(crate) fn with_cautions(
    (width, height): (i32, i32),
    cautions: &[Caution],
    draw: impl FnOnce(&mut Canvas, (i32, i32)),
) -> (String, (i32, i32)) {
    let whole = (width, height + strip_height(width, cautions));
    let body = drawn(|canvas| {
        draw(canvas, whole);
        for (k, line) in strip(width, cautions).iter().enumerate() {
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

/// The root element. Text stays text, in a font that is on most machines where the embedded one is
/// not. Mitred corners of a dense curve would stick out as spikes.
pub(crate) fn root(head: &str, body: &str, size: (i32, i32)) -> String {
    let shown_px = Sheet::of_units(size).shown_px;
    root_shown(head, body, (size, shown_px))
}

/// The same, so wide as shown, pixels.
fn root_shown(head: &str, body: &str, ((width, height), shown_px): ((i32, i32), f64)) -> String {
    let shown = |units: i32| (shown_px * f64::from(units) / f64::from(width)).round();
    let (shown_width, shown_height) = (shown(width), shown(height));
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
