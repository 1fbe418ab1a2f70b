//! What a panel holds.

use super::style::{Colour, Fill, SMALL, Stroke};
use super::{Datum, Shape};

/// A label and how much it matters: those with a small number find their place first, and from
/// [`Name::MAY_GO`] on they are left out where there is none.
#[derive(Clone)]
pub(crate) struct Name {
    pub(crate) text: String,
    pub(crate) priority: u8,
}

impl Name {
    pub(crate) const MARK: u8 = 1;
    pub(crate) const CURVE: u8 = 2;
    pub(crate) const LEVEL: u8 = 3;
    pub(crate) const MAY_GO: u8 = 5;

    pub(crate) fn new(text: impl Into<String>, priority: u8) -> Option<Self> {
        let text = text.into();
        (!text.trim().is_empty()).then_some(Self { text, priority })
    }
}

/// A line through points; it breaks where one is not a number.
#[derive(Clone)]
pub(crate) struct Line {
    pub(crate) points: Vec<Datum>,
    pub(crate) stroke: Stroke,
    /// Radius of a dot on each point, and of a triangle in the lane of what never comes; 0 for
    /// none.
    pub(crate) dots: i32,
    /// Words beside points.
    pub(crate) numbers: Vec<(Datum, Name)>,
    /// Whether it ends in the head of an arrow.
    pub(crate) is_arrow: bool,
    pub(crate) name: Option<Name>,
}

impl Line {
    pub(crate) fn new(points: Vec<Datum>, stroke: Stroke) -> Self {
        Self {
            points,
            stroke,
            dots: 0,
            numbers: Vec::new(),
            is_arrow: false,
            name: None,
        }
    }

    pub(crate) fn named(mut self, text: impl Into<String>) -> Self {
        self.name = Name::new(text, Name::CURVE);
        self
    }

    /// Writes a number beside each point that has one.
    pub(crate) fn numbered(mut self, text: impl Fn(f64) -> String) -> Self {
        let finite = self.points.iter().filter(|p| p.1.is_finite());
        self.numbers = finite
            .filter_map(|p| Some((*p, Name::new(text(p.1), Name::MARK)?)))
            .collect();
        self
    }

    pub(crate) fn dotted(mut self, radius: i32) -> Self {
        self.dots = radius;
        self
    }
}

/// A point with bars for its error.
#[derive(Clone)]
pub(crate) struct Mark {
    pub(crate) at: Datum,
    pub(crate) shape: Shape,
    pub(crate) colour: Colour,
    /// Ends of the bar along the horizontal axis.
    pub(crate) across: Option<[f64; 2]>,
    /// Ends of the bar along the vertical axis.
    pub(crate) along: Option<[f64; 2]>,
    pub(crate) name: Option<Name>,
}

impl Mark {
    pub(crate) fn new(at: Datum, shape: Shape, colour: Colour) -> Self {
        Self {
            at,
            shape,
            colour,
            across: None,
            along: None,
            name: None,
        }
    }

    pub(crate) fn named(mut self, text: impl Into<String>) -> Self {
        self.name = Name::new(text, Name::MARK);
        self
    }
}

/// A box between two corners; the first of the words that fits stands in it.
#[derive(Clone)]
pub(crate) struct Bar {
    pub(crate) corners: [Datum; 2],
    pub(crate) fill: Option<Fill>,
    pub(crate) border: Option<Stroke>,
    pub(crate) words: Vec<&'static str>,
    /// Labels may lie on it.
    pub(crate) is_ground: bool,
}

impl Bar {
    pub(crate) fn new(corners: [Datum; 2], fill: Fill) -> Self {
        Self {
            corners,
            fill: Some(fill),
            border: None,
            words: Vec::new(),
            is_ground: false,
        }
    }

    pub(crate) fn ground(corners: [Datum; 2], fill: Fill) -> Self {
        Self {
            is_ground: true,
            ..Self::new(corners, fill)
        }
    }
}

/// On which side of its place a text stands.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Side {
    Above,
    Left,
    Right,
}

/// What a panel holds, drawn in order.
pub(crate) enum Item {
    Line(Line),
    /// A line across at a height.
    Level {
        y: f64,
        stroke: Stroke,
        name: Option<Name>,
    },
    /// A line upwards; its name is `written` along it, or stands beside it.
    Upright {
        x: f64,
        stroke: Stroke,
        name: Option<Name>,
        is_written: bool,
    },
    /// Between two lines, with an upper edge; named inside where it is high enough, else in the
    /// key.
    Band {
        low: Vec<Datum>,
        high: Vec<Datum>,
        fill: Fill,
        edge: Option<Stroke>,
        name: Option<Name>,
    },
    Bar(Bar),
    Mark(Mark),
    /// Small dots.
    Cloud(Vec<Datum>, Colour),
    /// Words at a place.
    Words {
        at: Datum,
        text: String,
        em: f64,
        colour: Colour,
        side: Side,
    },
}

impl From<Line> for Item {
    fn from(line: Line) -> Self {
        Self::Line(line)
    }
}

impl From<Mark> for Item {
    fn from(mark: Mark) -> Self {
        Self::Mark(mark)
    }
}

impl From<Bar> for Item {
    fn from(bar: Bar) -> Self {
        Self::Bar(bar)
    }
}

impl Item {
    /// A named line across; without words a line alone.
    pub(crate) fn level(y: f64, stroke: Stroke, text: impl Into<String>) -> Self {
        Self::Level {
            y,
            stroke,
            name: Name::new(text, Name::LEVEL),
        }
    }

    /// An upright with its words along it.
    pub(crate) fn written(x: f64, stroke: Stroke, text: impl Into<String>) -> Self {
        Self::Upright {
            x,
            stroke,
            name: Name::new(text, 0),
            is_written: true,
        }
    }

    /// An upright named beside it; without words a line alone.
    pub(crate) fn upright(x: f64, stroke: Stroke, text: impl Into<String>) -> Self {
        Self::Upright {
            x,
            stroke,
            name: Name::new(text, Name::LEVEL),
            is_written: false,
        }
    }

    /// Between two lines, without a name.
    pub(crate) fn band(low: Vec<Datum>, high: Vec<Datum>, fill: Fill) -> Self {
        Self::Band {
            low,
            high,
            fill,
            edge: None,
            name: None,
        }
    }

    pub(crate) fn small(at: Datum, text: impl Into<String>, colour: Colour, side: Side) -> Self {
        Self::Words {
            at,
            text: text.into(),
            em: SMALL,
            colour,
            side,
        }
    }
}
