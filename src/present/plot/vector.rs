//! From the raw SVG to the final one (text as paths, title and description kept) and to PNG.

use super::canvas::FONT;
use super::style::{HEIGHT, WIDTH};
use super::{Figure, PlotError, palette};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Indent, Options, Tree, WriteOptions, fontdb};
use std::sync::{Arc, OnceLock};

/// Width at which a page shows the figure, CSS pixels.
const SHOWN_WIDTH: i32 = 960;
/// Width of the picture of a figure, pixels.
pub(super) const PNG_WIDTH: u32 = 1600;

/// Turns a raw sheet into a finished figure.
pub(super) fn finish(
    stem: &'static str,
    title: String,
    description: String,
    raw: &str,
) -> Result<Figure, PlotError> {
    finish_part(stem, title, description, raw, (WIDTH, HEIGHT))
}

/// The same of the upper left part of the sheet: for a small figure whose text stays readable.
pub(super) fn finish_part(
    stem: &'static str,
    title: String,
    description: String,
    raw: &str,
    (width, height): (i32, i32),
) -> Result<Figure, PlotError> {
    let body = body(raw, 2)?;
    let shown_width = SHOWN_WIDTH * width / WIDTH;
    let shown_height = SHOWN_WIDTH * height / WIDTH;
    let svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{shown_width}\" \
         height=\"{shown_height}\" viewBox=\"0 0 {width} {height}\">\
         <title>{}</title><desc>{}</desc>{body}</svg>\n",
        escaped(&title),
        escaped(&description),
    );
    Ok(Figure {
        stem,
        title,
        description,
        svg,
    })
}

/// What stands inside the root of a raw sheet, text turned into paths, with this many decimals.
pub(super) fn body(raw: &str, decimals: u8) -> Result<String, PlotError> {
    // Mitred corners of a dense curve would stick out as spikes.
    let raw = raw.replacen("<svg ", "<svg stroke-linejoin=\"round\" ", 1);
    let tree = Tree::from_str(&raw, &options()).map_err(PlotError::new)?;
    let write = WriteOptions {
        indent: Indent::None,
        coordinates_precision: decimals,
        transforms_precision: 4,
        ..WriteOptions::default()
    };
    let paths = tree.to_string(&write);
    let inside = paths.find("<svg").and_then(|start| {
        let end = paths[start..].find('>')?;
        Some(paths[start + end + 1..].trim_end())
    });
    let inside = inside.ok_or_else(|| PlotError::new("the SVG has no root"))?;
    // A sheet with nothing on it has no closing tag.
    Ok(inside.strip_suffix("</svg>").unwrap_or(inside).to_owned())
}

/// Draws a finished SVG on a picture of this width; over `below` when that is given.
pub(super) fn raster(svg: &str, width: u32, below: Option<&Pixmap>) -> Result<Pixmap, PlotError> {
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
pub(super) fn png(svg: &str, width: u32) -> Result<Vec<u8>, PlotError> {
    palette::png(&raster(svg, width, None)?)
}

/// Only the embedded font: no file of the machine decides how a figure looks.
fn options() -> Options<'static> {
    static FONTS: OnceLock<Arc<fontdb::Database>> = OnceLock::new();
    let fonts = FONTS.get_or_init(|| {
        let mut fonts = fontdb::Database::new();
        fonts.load_font_data(dejavu::sans::regular().to_vec());
        fonts.load_font_data(dejavu::sans::bold().to_vec());
        Arc::new(fonts)
    });
    Options {
        font_family: FONT.to_owned(),
        fontdb: Arc::clone(fonts),
        ..Options::default()
    }
}

/// Text as XML: markup characters escaped, characters that XML forbids left out.
pub(super) fn escaped(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\t' | '\n' | '\r' => out.push(' '),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
    out
}
