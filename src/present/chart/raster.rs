//! Paints a finished SVG on a picture: what the canvas writes, in the embedded font, and nothing else. Words are as
//! wide as the layout takes them to be: letter after letter, unjoined.

use super::figure::PlotError;
use super::font;
use roxmltree::{Document, Node};
use tiny_skia::{
    Color, FillRule, LineJoin, Paint, Path, PathBuilder, Pixmap, Rect, Stroke, StrokeDash,
    Transform,
};
use ttf_parser::{GlyphId, OutlineBuilder};

/// Draws a finished SVG on a picture of this width; over `below` when that is given.
pub(crate) fn raster(svg: &str, width: u32, below: Option<&Pixmap>) -> Result<Pixmap, PlotError> {
    let document = Document::parse(svg).map_err(PlotError::new)?;
    let root = document.root_element();
    let [_, _, across, high] = numbers(root, "viewBox")[..] else {
        return Err(PlotError::new("the SVG says nothing of its size"));
    };
    let scale = width as f32 / across;
    let picture = match below {
        Some(below) => below.clone(),
        None => Pixmap::new(width, (high * scale).round() as u32)
            .ok_or_else(|| PlotError::new("no memory for the picture"))?,
    };
    let mut easel = Easel {
        picture,
        scale: Transform::from_scale(scale, scale),
    };
    easel.paint_all(root)?;
    Ok(easel.picture)
}

struct Easel {
    picture: Pixmap,
    scale: Transform,
}

impl Easel {
    fn paint_all(&mut self, parent: Node<'_, '_>) -> Result<(), PlotError> {
        for node in parent.children().filter(Node::is_element) {
            let mut transform = self.scale;
            let path = match node.tag_name().name() {
                "g" if node.attribute("display") == Some("none") => None,
                "g" => {
                    self.paint_all(node)?;
                    None
                }
                "title" | "desc" | "style" | "animate" => None,
                "polyline" => through(&numbers(node, "points"), false),
                "polygon" => through(&numbers(node, "points"), true),
                "rect" => {
                    let [x, y, w, h] = ["x", "y", "width", "height"].map(|name| number(node, name));
                    Rect::from_xywh(x, y, w, h).map(PathBuilder::from_rect)
                }
                "circle" => {
                    let [x, y, radius] = ["cx", "cy", "r"].map(|name| number(node, name));
                    PathBuilder::from_circle(x, y, radius)
                }
                "text" => {
                    if let Some([angle, x, y]) = turned(node) {
                        transform = transform.pre_concat(Transform::from_rotate_at(angle, x, y));
                    }
                    words(node)
                }
                other => return Err(PlotError::new(format!("no picture holds <{other}>"))),
            };
            if let Some(path) = path {
                self.paint(node, &path, transform);
            }
        }
        Ok(())
    }

    fn paint(&mut self, node: Node<'_, '_>, path: &Path, transform: Transform) {
        let opacity = |name| node.attribute(name).and_then(|v| v.parse().ok());
        if let Some(mut colour) = colour(node, "fill") {
            colour.apply_opacity(opacity("fill-opacity").unwrap_or(1.0));
            let rule = FillRule::Winding;
            (self.picture).fill_path(path, &with(colour), rule, transform, None);
        }
        if let Some(colour) = colour(node, "stroke") {
            let stroke = Stroke {
                width: number(node, "stroke-width"),
                line_join: LineJoin::Round,
                dash: StrokeDash::new(numbers(node, "stroke-dasharray"), 0.0),
                ..Stroke::default()
            };
            (self.picture).stroke_path(path, &with(colour), &stroke, transform, None);
        }
    }
}

/// The outlines of a text, where it stands.
fn words(node: Node<'_, '_>) -> Option<Path> {
    let face = match node.attribute("font-weight") {
        Some("bold") => font::BOLD.as_ref()?,
        _ => font::REGULAR.as_ref()?,
    };
    let em = number(node, "font-size");
    let unit = em / f32::from(face.units_per_em());
    let words: Vec<&str> = node.text()?.split_whitespace().collect();
    let glyphs = |c: char| face.glyph_index(c).unwrap_or(GlyphId(0));
    let glyphs: Vec<GlyphId> = words.join(" ").chars().map(glyphs).collect();
    let advance = |glyph| unit * f32::from(face.glyph_hor_advance(glyph).unwrap_or(0));
    let wide: f32 = glyphs.iter().copied().map(advance).sum();
    let before = match node.attribute("text-anchor") {
        Some("middle") => 0.5 * wide,
        Some("end") => wide,
        _ => 0.0,
    };
    let lower = node.attribute("dy").and_then(|dy| dy.strip_suffix("em"));
    let lower: f32 = lower.and_then(|dy| dy.parse().ok()).unwrap_or(0.0);
    let mut pen = Pen {
        path: PathBuilder::new(),
        unit,
        at: (number(node, "x") - before, number(node, "y") + lower * em),
    };
    for glyph in glyphs {
        face.outline_glyph(glyph, &mut pen);
        pen.at.0 += advance(glyph);
    }
    pen.path.finish()
}

/// Draws letters, whose ordinates count upwards in units of the font.
struct Pen {
    path: PathBuilder,
    unit: f32,
    at: (f32, f32),
}

impl Pen {
    fn on_sheet(&self, x: f32, y: f32) -> (f32, f32) {
        (self.at.0 + self.unit * x, self.at.1 - self.unit * y)
    }
}

impl OutlineBuilder for Pen {
    fn move_to(&mut self, x: f32, y: f32) {
        let (x, y) = self.on_sheet(x, y);
        self.path.move_to(x, y);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        let (x, y) = self.on_sheet(x, y);
        self.path.line_to(x, y);
    }

    fn quad_to(&mut self, x1: f32, y1: f32, x: f32, y: f32) {
        let ((x1, y1), (x, y)) = (self.on_sheet(x1, y1), self.on_sheet(x, y));
        self.path.quad_to(x1, y1, x, y);
    }

    fn curve_to(&mut self, x1: f32, y1: f32, x2: f32, y2: f32, x: f32, y: f32) {
        let ((x1, y1), (x2, y2)) = (self.on_sheet(x1, y1), self.on_sheet(x2, y2));
        let (x, y) = self.on_sheet(x, y);
        self.path.cubic_to(x1, y1, x2, y2, x, y);
    }

    fn close(&mut self) {
        self.path.close();
    }
}

fn through(numbers: &[f32], closed: bool) -> Option<Path> {
    let mut path = PathBuilder::new();
    for (k, point) in numbers.as_chunks::<2>().0.iter().enumerate() {
        match k {
            0 => path.move_to(point[0], point[1]),
            _ => path.line_to(point[0], point[1]),
        }
    }
    if closed {
        path.close();
    }
    path.finish()
}

/// Angle and centre of a text that is turned.
fn turned(node: Node<'_, '_>) -> Option<[f32; 3]> {
    let turn = node.attribute("transform")?.strip_prefix("rotate(")?;
    read(turn.strip_suffix(')')?).try_into().ok()
}

fn with(colour: Color) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color(colour);
    paint
}

/// A colour as `#rrggbb`; anything else is none.
fn colour(node: Node<'_, '_>, name: &str) -> Option<Color> {
    let bits = u32::from_str_radix(node.attribute(name)?.strip_prefix('#')?, 16).ok()?;
    let [_, r, g, b] = bits.to_be_bytes();
    Some(Color::from_rgba8(r, g, b, 255))
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
