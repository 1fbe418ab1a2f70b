//! Colours, strokes and sizes. Every colour goes with a dash or a shape of its own, so that
//! nothing is told by colour alone.

use std::fmt;

/// Red, green, blue.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Colour(pub(crate) u8, pub(crate) u8, pub(crate) u8);

impl fmt::Display for Colour {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "#{:02x}{:02x}{:02x}", self.0, self.1, self.2)
    }
}

/// A colour mixed with what lies below.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Fill(Colour, f64);

pub(crate) const fn fill(colour: Colour, share: f64) -> Fill {
    Fill(colour, share)
}

impl Fill {
    /// Whether words on it are written in the colour of the paper.
    pub(crate) fn is_strong(self) -> bool {
        self.1 > 0.9 && self.0 != PAPER
    }
}

impl From<Colour> for Fill {
    fn from(colour: Colour) -> Self {
        Self(colour, 1.0)
    }
}

impl fmt::Display for Fill {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, " fill=\"{}\"", self.0)?;
        match self.1 < 1.0 {
            true => write!(f, " fill-opacity=\"{}\"", self.1),
            false => Ok(()),
        }
    }
}

/// Size of the sheet in its own units.
pub(crate) const WIDTH: i32 = 2400;
/// Height of the sheet in its own units.
pub(crate) const HEIGHT: i32 = 1500;
/// Width and height of the sheet.
pub(crate) const SHEET: (i32, i32) = (WIDTH, HEIGHT);

pub(crate) const INK: Colour = Colour(32, 36, 42);
pub(crate) const QUIET: Colour = Colour(98, 104, 112);
pub(crate) const GRID: Colour = Colour(224, 227, 231);
pub(crate) const PAPER: Colour = Colour(255, 255, 255);

/// Ember: hot things, the cold-start curve's rival.
pub(crate) const EMBER: Colour = Colour(196, 78, 12);
/// Lake: the strip as a whole, the main curve.
pub(crate) const LAKE: Colour = Colour(24, 84, 148);
/// Moss: contacts.
pub(crate) const MOSS: Colour = Colour(22, 128, 98);
/// Plum: limits and windings.
pub(crate) const PLUM: Colour = Colour(134, 38, 104);
/// Clay: terminals.
pub(crate) const CLAY: Colour = Colour(132, 104, 62);

/// Em size of text.
pub(crate) const TITLE: f64 = 46.0;
/// Em size under the title.
pub(crate) const SUBTITLE: f64 = 31.0;
/// Em size of axes and labels.
pub(crate) const BODY: f64 = 31.0;
/// Em size of keys and notes.
pub(crate) const SMALL: f64 = 27.0;

/// How a line is broken: lengths drawn and skipped in turn; empty for an unbroken line.
pub(crate) type Dash = &'static [f64];

pub(crate) const SOLID: Dash = &[];
pub(crate) const DASHED: Dash = &[26.0, 14.0];
pub(crate) const DOTTED: Dash = &[5.0, 12.0];
pub(crate) const DASH_DOT: Dash = &[26.0, 11.0, 5.0, 11.0];
pub(crate) const TWO_DOTS: Dash = &[26.0, 11.0, 5.0, 11.0, 5.0, 11.0];
pub(crate) const SPARSE: Dash = &[5.0, 26.0];
pub(crate) const LONG: Dash = &[52.0, 16.0];

/// Colour, width and dash of a line.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Stroke {
    pub(crate) colour: Colour,
    pub(crate) width: u32,
    pub(crate) dash: Dash,
}

pub(crate) const fn stroke(colour: Colour, width: u32, dash: Dash) -> Stroke {
    Stroke {
        colour,
        width,
        dash,
    }
}

/// Strokes of the moments of a run, in order.
pub(crate) const MOMENTS: [Stroke; 6] = [
    stroke(QUIET, 5, SOLID),
    stroke(LAKE, 6, LONG),
    stroke(EMBER, 8, SOLID),
    stroke(PLUM, 6, DASH_DOT),
    stroke(MOSS, 6, DASHED),
    stroke(CLAY, 6, DOTTED),
];
