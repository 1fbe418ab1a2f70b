//! From the raw SVG to the final one, with title, description and cautions, and to PNG.

use super::canvas::{Anchor, FONT, overlay};
use super::figure::{Figure, PlotError};
use super::palette;
use super::style::{INK, PAPER, SHEET, SMALL, WIDTH};
use super::theme::hex_of;
use crate::answer::Caution;
use crate::present::words;
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Indent, Options, Tree, WriteOptions, fontdb};
use std::sync::{Arc, OnceLock};

/// Width at which a page shows the figure, CSS pixels.
const SHOWN_WIDTH: i32 = 960;
/// The embedded font, and those of the same widths.
const FONTS: &str = "DejaVu Sans, Verdana, sans-serif";
/// Where the strip of cautions begins at the left, the middle of its first line, and from line to line.
const STRIP_LEFT: f64 = 80.0;
const STRIP_TOP: f64 = 18.0;
const STRIP_LINE: f64 = SMALL * 1.4;
/// How far the paper of the strip reaches over that of the sheet, so that no seam is seen.
const SEAM: i32 = 4;
/// Width of the picture of a figure, pixels.
pub(crate) const PNG_WIDTH: u32 = 1600;

/// A finished body on the upper left part of the sheet.
pub(crate) fn finish_part(
    stem: &'static str,
    title: String,
    description: String,
    body: String,
    (width, height): (i32, i32),
) -> Result<Figure, PlotError> {
    Ok(Figure {
        svg: root(&title, &description, &body, (width, height)),
        stem,
        title,
        description,
    })
}

/// The root element around a body. Mitred corners of a dense curve would stick out as spikes.
fn root(title: &str, description: &str, body: &str, (width, height): (i32, i32)) -> String {
    let shown_width = SHOWN_WIDTH * width / WIDTH;
    let shown_height = SHOWN_WIDTH * height / WIDTH;
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{shown_width}\" \
         height=\"{shown_height}\" viewBox=\"0 0 {width} {height}\" stroke-linejoin=\"round\">\
         <title>{}</title><desc>{}</desc>{body}</svg>\n",
        escaped(title),
        escaped(description),
    )
}

/// What stands inside the root of a raw sheet: text stays text, in a font that is on most machines where
/// the embedded one is not.
pub(crate) fn body(raw: &str) -> Result<String, PlotError> {
    let inside = raw.find("<svg").and_then(|start| {
        let end = raw[start..].find('>')?;
        Some(raw[start + end + 1..].replace('\n', ""))
    });
    let inside = inside.ok_or_else(|| PlotError::new("the SVG has no root"))?;
    // A sheet with nothing on it has no closing tag.
    let inside = inside.strip_suffix("</svg>").unwrap_or(&inside);
    let own = format!("font-family=\"{FONT}\"");
    Ok(lower(
        &inside.replace(&own, &format!("font-family=\"{FONTS}\"")),
    ))
}

/// Colours in small letters, as a theme looks for them.
fn lower(svg: &str) -> String {
    let mut pieces = svg.split("\"#");
    let mut out = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        out.push_str("\"#");
        match piece.split_at_checked(6) {
            Some((hex, rest)) => {
                out.push_str(&hex.to_ascii_lowercase());
                out.push_str(rest);
            }
            None => out.push_str(piece),
        }
    }
    out
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

/// A finished SVG with one more strip of cautions at its foot, each said in its description, too.
pub(crate) fn cautioned(mut figure: Figure, cautions: &[Caution]) -> Result<Figure, PlotError> {
    if cautions.is_empty() {
        return Ok(figure);
    }
    let (strip, more) = strip(cautions)?;
    let texts: Vec<&str> = cautions.iter().map(|c| words::caution(*c)).collect();
    figure.description = format!("{} {}", figure.description, texts.join(" "));
    let body = figure
        .svg
        .split_once("</desc>")
        .and_then(|(_, rest)| rest.trim_end().strip_suffix("</svg>"))
        .ok_or_else(|| PlotError::new("the figure has no description"))?;
    let body = format!("{body}{strip}");
    let size = (SHEET.0, SHEET.1 + more);
    figure.svg = root(&figure.title, &figure.description, &body, size);
    Ok(figure)
}

/// The strip of cautions below a whole sheet, and by how much it makes the sheet higher.
pub(crate) fn strip(cautions: &[Caution]) -> Result<(String, i32), PlotError> {
    let (width, height) = SHEET;
    let mut lines = 0;
    let written = overlay(|canvas| {
        let room = f64::from(width) - 2.0 * STRIP_LEFT;
        for caution in cautions {
            let text = format!("! {}", words::caution(*caution));
            for line in canvas.broken(&text, SMALL, 0.9 * room) {
                let at = (STRIP_LEFT, STRIP_TOP + f64::from(lines) * STRIP_LINE);
                canvas.bold(&line, at, SMALL, INK, Anchor::Left)?;
                lines += 1;
            }
        }
        Ok(())
    })?;
    let written = body(&written)?;
    // A whole number of pixels at every usual width; the paper reaches beyond it.
    let more = ((STRIP_TOP + f64::from(lines) * STRIP_LINE) / 15.0).ceil() as i32 * 15;
    let (paper_top, paper_height) = (height - SEAM, more + SEAM + 15);
    let paper = hex_of(PAPER);
    let strip = format!(
        "<rect y=\"{paper_top}\" width=\"{width}\" height=\"{paper_height}\" fill=\"#{paper}\"/>\
         <g transform=\"translate(0 {height})\">{written}</g>"
    );
    Ok((strip, more))
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
pub(crate) fn escaped(text: &str) -> String {
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
