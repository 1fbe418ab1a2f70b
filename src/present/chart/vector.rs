//! From what is drawn to a finished SVG, with title, description and cautions, and to PNG.

use super::canvas::{Anchor, Canvas, drawn};
use super::figure::{Figure, PlotError};
use super::font;
use super::palette;
use super::style::{INK, SMALL, WIDTH};
use super::text::broken;
use crate::answer::Caution;
use crate::present::html::escape;
use crate::present::words;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Indent, Options, Tree, WriteOptions, fontdb};
use std::sync::{Arc, OnceLock};

/// Width at which a page shows the figure, CSS pixels.
const SHOWN_WIDTH: i32 = 960;
/// The embedded font, and those of the same widths.
const FONT: &str = "DejaVu Sans";
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

/// A finished SVG with its text turned into outlines, which look the same where the font is missing.
pub(crate) fn outlined(svg: &str) -> Result<String, PlotError> {
    // Without the size at which it is shown, coordinates stay those of the sheet.
    let bare = match (svg.find(" width=\""), svg.find(" viewBox=\"")) {
        (Some(from), Some(to)) if from < to => format!("{}{}", &svg[..from], &svg[to..]),
        _ => svg.to_owned(),
    };
    let tree = Tree::from_str(&bare, &options()).map_err(PlotError::new)?;
    let write = WriteOptions {
        indent: Indent::None,
        coordinates_precision: 2,
        transforms_precision: 4,
        ..WriteOptions::default()
    };
    let paths = tree.to_string(&write);
    // The root with title and description is kept: only what is drawn is replaced.
    let (head, _) = svg.split_once("</desc>").unwrap_or((svg, ""));
    let drawn = paths.find("<svg").and_then(|start| {
        let end = paths[start..].find('>')?;
        Some(&paths[start + end + 1..])
    });
    let drawn = drawn.ok_or_else(|| PlotError::new("the SVG has no root"))?;
    Ok(format!("{head}</desc>{drawn}"))
}

/// Draws a finished SVG on a picture of this width; over `below` when that is given.
pub(crate) fn raster(svg: &str, width: u32, below: Option<&Pixmap>) -> Result<Pixmap, PlotError> {
    let tree = Tree::from_str(svg, &options()).map_err(PlotError::new)?;
    let scale = width as f32 / tree.size().width();
    let height = (tree.size().height() * scale).round() as u32;
    let mut pixmap = match below {
        Some(below) => below.clone(),
        None => {
            Pixmap::new(width, height).ok_or_else(|| PlotError::new("no memory for the picture"))?
        }
    };
    let transform = Transform::from_scale(scale, scale);
    resvg::render(&tree, transform, &mut pixmap.as_mut());
    Ok(pixmap)
}

/// Rasterises a finished figure.
pub(crate) fn png(svg: &str, width: u32) -> Result<Vec<u8>, PlotError> {
    palette::png(&raster(svg, width, None)?)
}

/// Only the embedded font: no file of the machine decides how a figure looks.
fn options() -> Options<'static> {
    static FONTS: OnceLock<Arc<fontdb::Database>> = OnceLock::new();
    let fonts = FONTS.get_or_init(|| {
        let mut fonts = fontdb::Database::new();
        fonts.load_font_data(font::REGULAR.clone());
        fonts.load_font_data(font::bold());
        Arc::new(fonts)
    });
    Options {
        font_family: FONT.to_owned(),
        fontdb: Arc::clone(fonts),
        ..Options::default()
    }
}
