//! Text, lines and marks as SVG.

use super::area::{Area, Point};
use super::style::{Colour, Fill, PAPER, SOLID, Stroke, stroke};
use crate::present::html::escape;
use std::fmt::{self, Write};

/// Which point of a text its position means.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Anchor {
    Left,
    Centre,
    Right,
}

/// Elements of an SVG, one after the other.
#[derive(Default)]
pub(crate) struct Canvas {
    svg: String,
}

/// What `draw` draws, as elements of an SVG.
pub(crate) fn drawn(draw: impl FnOnce(&mut Canvas)) -> String {
    let mut canvas = Canvas::default();
    draw(&mut canvas);
    canvas.svg
}

/// A tenth of a unit is less than can be seen.
fn tenths(v: f64) -> f64 {
    // No zero is negative.
    (10.0 * v).round() / 10.0 + 0.0
}

/// Points nearer to each other than this look like one.
const THIN: f64 = 3.0;

impl Canvas {
    fn element(&mut self, element: fmt::Arguments<'_>) {
        // Writing to a string does not fail.
        let _ = self.svg.write_fmt(element);
    }

    /// What is drawn already.
    pub(crate) fn put(&mut self, drawn: &str) {
        self.svg += drawn;
    }

    /// What is drawn meanwhile stands in a group.
    pub(crate) fn group(&mut self, attributes: &str, draw: impl FnOnce(&mut Self)) {
        self.element(format_args!("<g {attributes}>"));
        draw(self);
        self.svg += "</g>";
    }

    /// White paper.
    pub(crate) fn paper(&mut self, (width, height): (i32, i32)) {
        let (right, bottom) = (f64::from(width), f64::from(height));
        self.rectangle(Area::new(0.0, 0.0, right, bottom), PAPER);
    }

    /// Text at its vertical middle.
    pub(crate) fn text(&mut self, text: &str, at: Point, em: f64, colour: Colour, anchor: Anchor) {
        self.write(text, at, em, colour, anchor, "");
    }

    /// Text in bold.
    pub(crate) fn bold(&mut self, text: &str, at: Point, em: f64, colour: Colour, anchor: Anchor) {
        self.write(text, at, em, colour, anchor, " font-weight=\"bold\"");
    }

    /// Text that reads upwards.
    pub(crate) fn upwards(
        &mut self,
        text: &str,
        at: Point,
        em: f64,
        colour: Colour,
        anchor: Anchor,
    ) {
        let (x, y) = (tenths(at.0), tenths(at.1));
        let turned = format!(" transform=\"rotate(-90 {x} {y})\"");
        self.write(text, at, em, colour, anchor, &turned);
    }

    fn write(
        &mut self,
        text: &str,
        (x, y): Point,
        em: f64,
        colour: Colour,
        anchor: Anchor,
        more: &str,
    ) {
        if text.is_empty() {
            return;
        }
        let anchor = match anchor {
            Anchor::Left => "start",
            Anchor::Centre => "middle",
            Anchor::Right => "end",
        };
        // Numbers and words alike look centred a little above the middle of the x-height.
        self.element(format_args!(
            "<text x=\"{}\" y=\"{}\" dy=\"0.37em\" text-anchor=\"{anchor}\" font-size=\"{em}\" \
             fill=\"{colour}\"{more}>{}</text>",
            tenths(x),
            tenths(y),
            escape(text)
        ));
    }

    /// A line through points; breaks where a point is not finite.
    pub(crate) fn line(&mut self, points: &[Point], stroke: Stroke) {
        for piece in points.split(|p| !is_finite(p)) {
            let mut kept: Vec<Point> = Vec::new();
            for (k, p) in piece.iter().enumerate() {
                let far = |q: &Point| (p.0 - q.0).abs() + (p.1 - q.1).abs() >= THIN;
                if kept.last().is_none_or(far) || k + 1 == piece.len() {
                    kept.push(*p);
                }
            }
            if kept.is_empty() {
                continue;
            }
            let Stroke { colour, width, .. } = stroke;
            self.element(format_args!(
                "<polyline fill=\"none\" stroke=\"{colour}\" stroke-width=\"{width}\""
            ));
            if !stroke.dash.is_empty() {
                let lengths: Vec<String> = stroke.dash.iter().map(f64::to_string).collect();
                self.element(format_args!(" stroke-dasharray=\"{}\"", lengths.join(" ")));
            }
            self.points(&kept);
        }
    }

    /// An unbroken thin line between two points.
    pub(crate) fn rule(&mut self, from: Point, to: Point, colour: Colour, width: u32) {
        self.line(&[from, to], stroke(colour, width, SOLID));
    }

    pub(crate) fn rectangle(&mut self, area: Area, fill: impl Into<Fill>) {
        self.element(format_args!(
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"{}/>",
            tenths(area.left),
            tenths(area.top),
            tenths(area.width()),
            tenths(area.height()),
            fill.into()
        ));
    }

    /// The border of a box, as wide as asked for.
    pub(crate) fn outline(&mut self, area: Area, colour: Colour, width: u32) {
        self.line(&area.outline(), stroke(colour, width, SOLID));
    }

    pub(crate) fn disc(&mut self, at: Point, radius: i32, colour: Colour) {
        self.element(format_args!(
            "<circle cx=\"{}\" cy=\"{}\" r=\"{radius}\" fill=\"{colour}\"/>",
            tenths(at.0),
            tenths(at.1)
        ));
    }

    /// A filled polygon; points that are not finite are left out.
    pub(crate) fn polygon(&mut self, points: &[Point], fill: impl Into<Fill>) {
        let points: Vec<Point> = points.iter().filter(|p| is_finite(p)).copied().collect();
        if points.len() > 2 {
            self.element(format_args!("<polygon{}", fill.into()));
            self.points(&points);
        }
    }

    fn points(&mut self, points: &[Point]) {
        self.svg += " points=\"";
        for (k, (x, y)) in points.iter().enumerate() {
            let space = if k > 0 { " " } else { "" };
            self.element(format_args!("{space}{},{}", tenths(*x), tenths(*y)));
        }
        self.svg += "\"/>";
    }
}

fn is_finite(p: &Point) -> bool {
    p.0.is_finite() && p.1.is_finite()
}
