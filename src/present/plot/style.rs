//! Colours, strokes and sizes. Every colour goes with a dash or a shape of its own, so that
//! nothing is told by colour alone.

use plotters::style::RGBColor;

/// Size of the sheet in its own units.
pub(super) const WIDTH: i32 = 2400;
/// Height of the sheet in its own units.
pub(super) const HEIGHT: i32 = 1500;
/// Width and height of the sheet.
pub(super) const SHEET: (i32, i32) = (WIDTH, HEIGHT);

pub(super) const INK: RGBColor = RGBColor(32, 36, 42);
pub(super) const QUIET: RGBColor = RGBColor(98, 104, 112);
pub(super) const GRID: RGBColor = RGBColor(224, 227, 231);
pub(super) const PAPER: RGBColor = RGBColor(255, 255, 255);

/// Ember: hot things, the cold-start curve's rival.
pub(super) const EMBER: RGBColor = RGBColor(196, 78, 12);
/// Lake: the strip as a whole, the main curve.
pub(super) const LAKE: RGBColor = RGBColor(24, 84, 148);
/// Moss: contacts.
pub(super) const MOSS: RGBColor = RGBColor(22, 128, 98);
/// Plum: limits and windings.
pub(super) const PLUM: RGBColor = RGBColor(134, 38, 104);
/// Clay: terminals.
pub(super) const CLAY: RGBColor = RGBColor(132, 104, 62);

/// Em size of text.
pub(super) const TITLE: f64 = 46.0;
/// Em size under the title.
pub(super) const SUBTITLE: f64 = 31.0;
/// Em size of axes and labels.
pub(super) const BODY: f64 = 31.0;
/// Em size of keys and notes.
pub(super) const SMALL: f64 = 27.0;

/// How a line is broken: lengths drawn and skipped in turn; empty for an unbroken line.
pub(super) type Dash = &'static [f64];

pub(super) const SOLID: Dash = &[];
pub(super) const DASHED: Dash = &[26.0, 14.0];
pub(super) const DOTTED: Dash = &[5.0, 12.0];
pub(super) const DASH_DOT: Dash = &[26.0, 11.0, 5.0, 11.0];
pub(super) const LONG: Dash = &[52.0, 16.0];

/// Colour, width and dash of a line.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stroke {
    pub(super) colour: RGBColor,
    pub(super) width: u32,
    pub(super) dash: Dash,
}

pub(super) const fn stroke(colour: RGBColor, width: u32, dash: Dash) -> Stroke {
    Stroke {
        colour,
        width,
        dash,
    }
}
