//! A finished SVG as pieces, for pictures and for print: what the canvas writes, and nothing else.
//! Words are as wide as the layout takes them to be: letter after letter, unjoined.

use super::figure::PlotError;
use super::font;
use roxmltree::{Document, Node};
use ttf_parser::{Face, GlyphId};

/// What is drawn, in order, and on what.
pub(super) struct Pieces {
    /// Width and height of the sheet, units.
    pub(super) sheet: (f32, f32),
    /// Size as shown, pixels of 1/96 inch.
    pub(super) shown: (f32, f32),
    pub(super) pieces: Vec<Piece>,
}

/// A form with its colours.
pub(super) struct Piece {
    pub(super) form: Form,
    /// Colour and opacity.
    pub(super) fill: Option<([u8; 3], f32)>,
    pub(super) stroke: Option<Pen>,
}

pub(super) enum Form {
    /// Corners, and whether the last is joined to the first.
    Path(Vec<(f32, f32)>, bool),
    /// Left, top, width, height.
    Rectangle([f32; 4]),
    /// Centre and radius.
    Disc((f32, f32), f32),
    Words(Words),
}

pub(super) struct Pen {
    pub(super) colour: [u8; 3],
    pub(super) width: f32,
    /// Lengths drawn and skipped in turn; empty for an unbroken line.
    pub(super) dash: Vec<f32>,
}

/// A line of words.
pub(super) struct Words {
    pub(super) text: String,
    pub(super) is_bold: bool,
    pub(super) em: f32,
    /// Where its first letter stands, on its line, before it is turned.
    pub(super) at: (f32, f32),
    /// Angle in degrees, clockwise, and the centre it is turned about.
    pub(super) turn: Option<[f32; 3]>,
}

impl Words {
    /// The font, where it could be unpacked.
    pub(super) fn face(&self) -> Option<&'static Face<'static>> {
        match self.is_bold {
            true => font::BOLD.as_ref(),
            false => font::REGULAR.as_ref(),
        }
    }

    /// Letters of the font, and how far the pen moves after each, units.
    pub(super) fn glyphs(&self, face: &Face<'_>) -> Vec<(char, GlyphId, f32)> {
        let unit = self.em / f32::from(face.units_per_em());
        let glyph = |c: char| {
            let glyph = face.glyph_index(c).unwrap_or(GlyphId(0));
            let advance = face.glyph_hor_advance(glyph).unwrap_or(0);
            (c, glyph, unit * f32::from(advance))
        };
        self.text.chars().map(glyph).collect()
    }
}

/// Reads a finished SVG.
pub(super) fn pieces(svg: &str) -> Result<Pieces, PlotError> {
    let document = Document::parse(svg).map_err(PlotError::new)?;
    let root = document.root_element();
    let [_, _, across, high] = numbers(root, "viewBox")[..] else {
        return Err(PlotError::new("the SVG says nothing of its size"));
    };
    let mut all = Pieces {
        sheet: (across, high),
        shown: (number(root, "width"), number(root, "height")),
        pieces: Vec::new(),
    };
    all.read(root)?;
    Ok(all)
}

impl Pieces {
    fn read(&mut self, parent: Node<'_, '_>) -> Result<(), PlotError> {
        for node in parent.children().filter(Node::is_element) {
            let all = |names: &[&str]| names.iter().map(|n| number(node, n)).collect::<Vec<f32>>();
            let form = match node.tag_name().name() {
                "g" if node.attribute("display") == Some("none") => continue,
                "g" => {
                    self.read(node)?;
                    continue;
                }
                "title" | "desc" | "style" | "animate" => continue,
                "polyline" => Form::Path(points(node), false),
                "polygon" => Form::Path(points(node), true),
                "rect" => match all(&["x", "y", "width", "height"])[..] {
                    [x, y, w, h] => Form::Rectangle([x, y, w, h]),
                    _ => continue,
                },
                "circle" => match all(&["cx", "cy", "r"])[..] {
                    [x, y, radius] => Form::Disc((x, y), radius),
                    _ => continue,
                },
                "text" => match words(node) {
                    Some(words) => Form::Words(words),
                    None => continue,
                },
                other => return Err(PlotError::new(format!("no picture holds <{other}>"))),
            };
            let opacity = node.attribute("fill-opacity").and_then(|v| v.parse().ok());
            self.pieces.push(Piece {
                form,
                fill: colour(node, "fill").map(|c| (c, opacity.unwrap_or(1.0))),
                stroke: colour(node, "stroke").map(|colour| Pen {
                    colour,
                    width: number(node, "stroke-width"),
                    dash: numbers(node, "stroke-dasharray"),
                }),
            });
        }
        Ok(())
    }
}

fn words(node: Node<'_, '_>) -> Option<Words> {
    let em = number(node, "font-size");
    let text: Vec<&str> = node.text()?.split_whitespace().collect();
    let lower = node.attribute("dy").and_then(|dy| dy.strip_suffix("em"));
    let lower: f32 = lower.and_then(|dy| dy.parse().ok()).unwrap_or(0.0);
    let mut words = Words {
        text: text.join(" "),
        is_bold: node.attribute("font-weight") == Some("bold"),
        em,
        at: (number(node, "x"), number(node, "y") + lower * em),
        turn: turned(node),
    };
    let wide: f32 = words.glyphs(words.face()?).iter().map(|g| g.2).sum();
    words.at.0 -= match node.attribute("text-anchor") {
        Some("middle") => 0.5 * wide,
        Some("end") => wide,
        _ => 0.0,
    };
    Some(words)
}

/// Angle and centre of a text that is turned.
fn turned(node: Node<'_, '_>) -> Option<[f32; 3]> {
    let turn = node.attribute("transform")?.strip_prefix("rotate(")?;
    read(turn.strip_suffix(')')?).try_into().ok()
}

fn points(node: Node<'_, '_>) -> Vec<(f32, f32)> {
    let numbers = numbers(node, "points");
    let (pairs, _) = numbers.as_chunks::<2>();
    pairs.iter().map(|[x, y]| (*x, *y)).collect()
}

/// A colour as `#rrggbb`; anything else is none.
fn colour(node: Node<'_, '_>, name: &str) -> Option<[u8; 3]> {
    let bits = u32::from_str_radix(node.attribute(name)?.strip_prefix('#')?, 16).ok()?;
    let [_, r, g, b] = bits.to_be_bytes();
    Some([r, g, b])
}

fn number(node: Node<'_, '_>, name: &str) -> f32 {
    numbers(node, name).first().copied().unwrap_or(0.0)
}

fn numbers(node: Node<'_, '_>, name: &str) -> Vec<f32> {
    node.attribute(name).map_or(Vec::new(), read)
}

fn read(text: &str) -> Vec<f32> {
    let numbers = text.split([' ', ',']);
    numbers.filter_map(|number| number.parse().ok()).collect()
}
