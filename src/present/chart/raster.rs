//! Paints a finished SVG on a picture.

use super::figure::PlotError;
use super::pieces::{Form, Pen, Piece, Words, pieces};
use tiny_skia::{
    Color, FillRule, LineJoin, Paint, Path, PathBuilder, Pixmap, Rect, Stroke, StrokeDash,
    Transform,
};
use ttf_parser::OutlineBuilder;

/// Draws a finished SVG on a picture of this width; over `below` when that is given.
pub(crate) fn raster(svg: &str, width: u32, below: Option<&Pixmap>) -> Result<Pixmap, PlotError> {
    let all = pieces(svg)?;
    let scale = width as f32 / all.sheet.0;
    let mut picture = match below {
        Some(below) => below.clone(),
        // A last row that the sheet covers in part would be half transparent.
        None => Pixmap::new(width, (all.sheet.1 * scale + 0.01) as u32)
            .ok_or_else(|| PlotError::new("no memory for the picture"))?,
    };
    let mut rest = &all.pieces[..];
    if let ([paper, above @ ..], None) = (rest, below)
        && let Some(colour) = covers(paper, all.sheet)
    {
        picture.fill(opaque(colour));
        rest = above;
    }
    let scale = Transform::from_scale(scale, scale);
    for piece in rest {
        paint(&mut picture, piece, scale);
    }
    Ok(picture)
}

/// Its colour, where a piece is a sheet of paper: every point takes it as it is.
fn covers(paper: &Piece, (across, high): (f32, f32)) -> Option<[u8; 3]> {
    match (&paper.form, paper.fill, &paper.stroke) {
        (Form::Rectangle(place), Some((colour, 1.0)), None) => {
            (*place == [0.0, 0.0, across, high]).then_some(colour)
        }
        _ => None,
    }
}

fn paint(picture: &mut Pixmap, piece: &Piece, scale: Transform) {
    let (path, transform) = match &piece.form {
        Form::Path(points, is_closed) => (through(points, *is_closed), scale),
        Form::Rectangle([x, y, w, h]) => {
            let path = Rect::from_xywh(*x, *y, *w, *h).map(PathBuilder::from_rect);
            (path, scale)
        }
        Form::Disc((x, y), radius) => (PathBuilder::from_circle(*x, *y, *radius), scale),
        Form::Words(words) => {
            let turned = words.turn.map_or(scale, |[angle, x, y]| {
                scale.pre_concat(Transform::from_rotate_at(angle, x, y))
            });
            (outlines(words), turned)
        }
    };
    let Some(path) = path else { return };
    if let Some((colour, opacity)) = piece.fill {
        let mut paint = with(colour);
        if let tiny_skia::Shader::SolidColor(colour) = &mut paint.shader {
            colour.apply_opacity(opacity);
        }
        picture.fill_path(&path, &paint, FillRule::Winding, transform, None);
    }
    if let Some(Pen {
        colour,
        width,
        dash,
    }) = &piece.stroke
    {
        let stroke = Stroke {
            width: *width,
            line_join: LineJoin::Round,
            dash: StrokeDash::new(dash.clone(), 0.0),
            ..Stroke::default()
        };
        picture.stroke_path(&path, &with(*colour), &stroke, transform, None);
    }
}

/// The outlines of words, where they stand.
fn outlines(words: &Words) -> Option<Path> {
    let face = words.face()?;
    let mut pen = Outlines {
        path: PathBuilder::new(),
        unit: words.em / f32::from(face.units_per_em()),
        at: words.at,
    };
    for (_, glyph, advance) in words.glyphs(face) {
        face.outline_glyph(glyph, &mut pen);
        pen.at.0 += advance;
    }
    pen.path.finish()
}

/// Draws letters, whose ordinates count upwards in units of the font.
struct Outlines {
    path: PathBuilder,
    unit: f32,
    at: (f32, f32),
}

impl Outlines {
    fn on_sheet(&self, x: f32, y: f32) -> (f32, f32) {
        (self.at.0 + self.unit * x, self.at.1 - self.unit * y)
    }
}

impl OutlineBuilder for Outlines {
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

fn through(points: &[(f32, f32)], is_closed: bool) -> Option<Path> {
    let mut path = PathBuilder::new();
    for (k, (x, y)) in points.iter().enumerate() {
        match k {
            0 => path.move_to(*x, *y),
            _ => path.line_to(*x, *y),
        }
    }
    if is_closed {
        path.close();
    }
    path.finish()
}

fn with(colour: [u8; 3]) -> Paint<'static> {
    let mut paint = Paint::default();
    paint.set_color(opaque(colour));
    paint
}

fn opaque([r, g, b]: [u8; 3]) -> Color {
    Color::from_rgba8(r, g, b, 255)
}
