//! Log-log panels side by side in the style of the program's figures: direct labels, dashes and
//! marks as well as colours, a compiled-in font whose text becomes paths.
#![allow(dead_code)]

use plotters::coord::Shift;
use plotters::prelude::*;
use plotters::style::text_anchor::{HPos, Pos, VPos};
use plotters::style::{FontFamily, FontStyle, FontTransform, register_font};
use resvg::tiny_skia::{Pixmap, Transform};
use resvg::usvg::{Options, Tree, WriteOptions, fontdb};
use std::sync::Arc;

const FONT: &str = "DejaVu Sans";
const SIZE: (u32, u32) = (2400, 1180);
const BODY: f64 = 31.0;

pub const INK: RGBColor = RGBColor(32, 36, 42);
pub const QUIET: RGBColor = RGBColor(98, 104, 112);
pub const GRID: RGBColor = RGBColor(224, 227, 231);
pub const EMBER: RGBColor = RGBColor(196, 78, 12);
pub const LAKE: RGBColor = RGBColor(24, 84, 148);
pub const PLUM: RGBColor = RGBColor(134, 38, 104);

/// Lengths drawn and skipped in turn.
pub type Dash = &'static [f64];
pub const SOLID: Dash = &[];
pub const DASHED: Dash = &[26.0, 14.0];
pub const DOTTED: Dash = &[5.0, 12.0];

/// What stands at a point.
#[derive(Clone, Copy, PartialEq)]
pub enum Mark {
    None,
    Disc,
    Square,
    Triangle,
}

/// One curve.
pub struct Series {
    name: &'static str,
    points: Vec<(f64, f64)>,
    colour: RGBColor,
    dash: Dash,
    mark: Mark,
    /// Place of its name: along the curve from 0 to 1, and shift on the sheet.
    label: (f64, f64, f64),
}

impl Series {
    pub fn new(
        name: &'static str,
        points: Vec<(f64, f64)>,
        colour: RGBColor,
        dash: Dash,
        mark: Mark,
    ) -> Series {
        Series {
            name,
            points,
            colour,
            dash,
            mark,
            label: (0.5, 24.0, -24.0),
        }
    }

    /// Where the name stands.
    pub fn labelled(mut self, part: f64, right: f64, down: f64) -> Series {
        self.label = (part, right, down);
        self
    }
}

/// One panel; both axes logarithmic.
pub struct Panel {
    pub title: &'static str,
    /// Title, low, high.
    pub x: (&'static str, f64, f64),
    /// Low, high.
    pub y: (f64, f64),
    pub series: Vec<Series>,
}

type Area<'a> = DrawingArea<SVGBackend<'a>, Shift>;

fn text(area: &Area<'_>, words: &str, at: (f64, f64), em: f64, look: (RGBColor, HPos, bool, bool)) {
    let (colour, side, is_bold, is_upwards) = look;
    let weight = if is_bold {
        FontStyle::Bold
    } else {
        FontStyle::Normal
    };
    let mut style = TextStyle::from((FontFamily::Name(FONT), em * 1.24, weight))
        .color(&colour)
        .pos(Pos::new(side, VPos::Center));
    if is_upwards {
        style = style.transform(FontTransform::Rotate270);
    }
    area.draw_text(words, &style, pixel(at)).expect("text");
}

fn pixel(p: (f64, f64)) -> (i32, i32) {
    (p.0.round() as i32, p.1.round() as i32)
}

fn line(area: &Area<'_>, points: &[(f64, f64)], colour: RGBColor, width: u32, dash: Dash) {
    let mut pieces: Vec<Vec<(f64, f64)>> = vec![vec![points[0]]];
    let (mut left, mut k) = (dash.first().copied().unwrap_or(f64::INFINITY), 0);
    for pair in points.windows(2) {
        let (mut a, b) = (pair[0], pair[1]);
        loop {
            let far = (b.0 - a.0).hypot(b.1 - a.1);
            let step = left.min(far);
            let part = if far > 0.0 { step / far } else { 1.0 };
            a = (a.0 + part * (b.0 - a.0), a.1 + part * (b.1 - a.1));
            if k % 2 == 0 {
                pieces.last_mut().expect("a piece").push(a);
            }
            left -= step;
            if left > 0.0 {
                break;
            }
            k += 1;
            left = dash[k % dash.len()];
            if k % 2 == 0 {
                pieces.push(vec![a]);
            }
        }
    }
    for piece in pieces {
        let piece: Vec<(i32, i32)> = piece.into_iter().map(pixel).collect();
        area.draw(&PathElement::new(piece, colour.stroke_width(width)))
            .expect("line");
    }
}

fn mark(area: &Area<'_>, at: (f64, f64), mark: Mark, colour: RGBColor) {
    let (x, y) = pixel(at);
    match mark {
        Mark::None => Ok(()),
        Mark::Disc => area.draw(&Circle::new((x, y), 11, colour.filled())),
        Mark::Square => area.draw(&Rectangle::new(
            [(x - 10, y - 10), (x + 10, y + 10)],
            colour.filled(),
        )),
        Mark::Triangle => area.draw(&Polygon::new(
            vec![(x, y - 13), (x + 12, y + 9), (x - 12, y + 9)],
            colour.filled(),
        )),
    }
    .expect("mark");
}

/// Powers of ten as people write them.
fn power(exponent: i32) -> String {
    let digits = ["⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹"];
    match exponent {
        0..=3 => format!("{}", 10i32.pow(exponent as u32)),
        _ => {
            let raised: String = exponent
                .abs()
                .to_string()
                .bytes()
                .map(|b| digits[usize::from(b - b'0')])
                .collect();
            format!("10{}{raised}", if exponent < 0 { "⁻" } else { "" })
        }
    }
}

fn draw_panel(area: &Area<'_>, panel: &Panel, left: f64, right: f64) {
    let (top, bottom) = (260.0, 1040.0);
    let (name, x_low, x_high) = panel.x;
    let (y_low, y_high) = panel.y;
    let at = |p: (f64, f64)| {
        (
            left + (p.0 / x_low).ln() / (x_high / x_low).ln() * (right - left),
            bottom - (p.1 / y_low).ln() / (y_high / y_low).ln() * (bottom - top),
        )
    };
    let plain = |side| (INK, side, false, false);
    for e in -14..=0 {
        let value = 10f64.powi(e);
        if value < y_low * 0.99 || value > y_high * 1.01 {
            continue;
        }
        let y = at((x_low, value)).1;
        line(area, &[(left, y), (right, y)], GRID, 2, SOLID);
        if e % 2 == 0 || y_high / y_low < 1e8 {
            text(area, &power(e), (left - 14.0, y), BODY, plain(HPos::Right));
        }
    }
    for e in 0..4 {
        for m in [1.0, 2.0, 5.0] {
            let value = m * 10f64.powi(e);
            if value < x_low * 0.99 || value > x_high * 1.01 {
                continue;
            }
            let x = at((value, y_low)).0;
            line(area, &[(x, top), (x, bottom)], GRID, 2, SOLID);
            let words = format!("{value}");
            text(area, &words, (x, bottom + 32.0), BODY, plain(HPos::Center));
        }
    }
    let frame = [
        (left, top),
        (right, top),
        (right, bottom),
        (left, bottom),
        (left, top),
    ];
    line(area, &frame, QUIET, 2, SOLID);
    text(
        area,
        panel.title,
        (left, top - 36.0),
        BODY,
        (INK, HPos::Left, true, false),
    );
    let middle = 0.5 * (left + right);
    text(
        area,
        name,
        (middle, bottom + 84.0),
        BODY,
        plain(HPos::Center),
    );
    let upright = 0.5 * (top + bottom);
    let look = (INK, HPos::Center, false, true);
    text(area, "Relative error", (left - 130.0, upright), BODY, look);
    for s in &panel.series {
        let points: Vec<(f64, f64)> = s
            .points
            .iter()
            .filter(|p| p.1 >= y_low && p.1 <= y_high && p.0 >= x_low && p.0 <= x_high)
            .map(|p| at(*p))
            .collect();
        line(area, &points, s.colour, 6, s.dash);
        for p in &points {
            mark(area, *p, s.mark, s.colour);
        }
        let (part, shift_x, shift_y) = s.label;
        let k = part * (points.len() - 1) as f64;
        let (a, b) = (points[k.floor() as usize], points[k.ceil() as usize]);
        let f = k.fract();
        let spot = (
            a.0 + f * (b.0 - a.0) + shift_x,
            a.1 + f * (b.1 - a.1) + shift_y,
        );
        text(
            area,
            s.name,
            spot,
            BODY,
            (s.colour, HPos::Left, false, false),
        );
    }
}

fn options() -> Options<'static> {
    let mut fonts = fontdb::Database::new();
    fonts.load_font_data(dejavu::sans::regular().to_vec());
    fonts.load_font_data(dejavu::sans::bold().to_vec());
    Options {
        font_family: FONT.to_owned(),
        fontdb: Arc::new(fonts),
        ..Options::default()
    }
}

/// The finished figure as SVG.
pub fn draw(title: &str, subtitle: &str, description: &str, panels: &[Panel; 2]) -> String {
    let fonts = [
        (FontStyle::Normal, dejavu::sans::regular()),
        (FontStyle::Bold, dejavu::sans::bold()),
    ];
    for (weight, font) in fonts {
        assert!(register_font(FONT, weight, font).is_ok());
    }
    let mut raw = String::new();
    {
        let area = SVGBackend::with_string(&mut raw, SIZE).into_drawing_area();
        area.fill(&WHITE).expect("paper");
        text(
            &area,
            title,
            (60.0, 64.0),
            46.0,
            (INK, HPos::Left, true, false),
        );
        text(
            &area,
            subtitle,
            (60.0, 128.0),
            BODY,
            (QUIET, HPos::Left, false, false),
        );
        draw_panel(&area, &panels[0], 210.0, 1150.0);
        draw_panel(&area, &panels[1], 1420.0, 2350.0);
        area.present().expect("present");
    }
    let raw = raw.replacen("<svg ", "<svg stroke-linejoin=\"round\" ", 1);
    let tree = Tree::from_str(&raw, &options()).expect("svg");
    let paths = tree.to_string(&WriteOptions {
        coordinates_precision: 2,
        transforms_precision: 4,
        ..WriteOptions::default()
    });
    let start = paths.find("<svg").expect("root");
    let body = start + paths[start..].find('>').expect("root") + 1;
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" width=\"{}\" height=\"{}\" \
         viewBox=\"0 0 {} {}\"><title>{title}</title><desc>{description}</desc>{}\n",
        SIZE.0 * 2 / 5,
        SIZE.1 * 2 / 5,
        SIZE.0,
        SIZE.1,
        &paths[body..],
    )
}

/// The same as PNG.
pub fn png(svg: &str) -> Vec<u8> {
    let tree = Tree::from_str(svg, &options()).expect("svg");
    let scale = 1600.0 / tree.size().width();
    let height = (tree.size().height() * scale).round() as u32;
    let mut pixmap = Pixmap::new(1600, height).expect("memory");
    resvg::render(
        &tree,
        Transform::from_scale(scale, scale),
        &mut pixmap.as_mut(),
    );
    pixmap.encode_png().expect("png")
}
