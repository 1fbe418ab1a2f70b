//! A figure as a description (axes with units, lines, bands, bars, marks, labels with priorities)
//! that one layouter places and one drawer turns into SVG. Text stays text; PNG is made of the same
//! SVG.
//!
//! Each panel of the SVG is a group of class `panel` that carries its frame and its axes as `data-`
//! attributes, and each line in it a group of class `series` with its name, so that a page can read
//! values under a pointer.

pub(crate) mod area;
pub(crate) mod axis;
pub(crate) mod canvas;
pub(crate) mod clip;
mod draw;
mod figure;
pub(crate) mod flags;
mod font;
mod foot;
pub(crate) mod header;
mod item;
pub(crate) mod label;
mod layout;
mod names;
pub(crate) mod palette;
mod pdf;
mod pieces;
pub(crate) mod plane;
pub(crate) mod raster;
mod room;
mod shape;
pub(crate) mod sheet;
mod spot;
pub(crate) mod style;
pub(crate) mod text;
pub(crate) mod theme;
mod trail;
pub(crate) mod vector;

pub(crate) use axis::{Axis, extent};
pub(crate) use draw::spread;
pub use figure::{Figure, PlotError, Print};
pub(crate) use flags::Flag;
pub(crate) use foot::{Foot, Key, Sample};
pub(crate) use item::{Bar, Item, Line, Mark, Name, Side};
pub(crate) use shape::Shape;
pub(crate) use sheet::Sheet;
pub use sheet::Size;
pub(crate) use style::{Colour, Fill, fill};
pub use theme::Theme;

use crate::answer::Caution;
use crate::present::cautions::with_figures;
use std::sync::Arc;

/// A point in the units of a panel's axes. Upwards, infinity lies in the axis' lane for what never
/// comes, or at the top of the panel where the axis has none.
pub(crate) type Datum = (f64, f64);

/// One figure.
pub(crate) struct Chart {
    /// Name of its files without the ending.
    pub(crate) stem: &'static str,
    pub(crate) title: String,
    pub(crate) subtitle: String,
    /// Whether title and subtitle stand above the panels, or on the page around the figure alone.
    pub(crate) has_header: bool,
    /// For those who cannot see it.
    pub(crate) description: String,
    /// Side by side, each with panels one above the other.
    pub(crate) columns: Vec<Column>,
    /// The columns are pieces of one axis: they share the vertical axes, their panels hold the same
    /// items in the same order, and each of these is named once.
    pub(crate) is_split: bool,
    /// Below the panels.
    pub(crate) foot: Vec<Foot>,
    /// What must be said wherever it goes: it may travel alone.
    pub(crate) cautions: Vec<Caution>,
    pub(crate) sheet: Sheet,
}

/// Panels one above the other over one horizontal axis.
pub(crate) struct Column {
    /// Share of the width.
    pub(crate) width: f64,
    pub(crate) panels: Vec<Panel>,
    /// Moments, marked through all panels.
    pub(crate) flags: Vec<Flag>,
    /// Names at the right, each beside what it names.
    pub(crate) side: Vec<Aside>,
}

/// A frame with two axes and what is drawn in it.
pub(crate) struct Panel {
    pub(crate) caption: String,
    pub(crate) x: Axis,
    pub(crate) y: Axis,
    pub(crate) height: Height,
    pub(crate) items: Vec<Item>,
    /// The horizontal axis again at the top, in other words, and what these are.
    pub(crate) top: (Vec<(f64, String)>, &'static str),
    /// The vertical axis again at the right, in other words.
    pub(crate) right: Vec<(f64, String)>,
}

/// Height of a panel.
#[derive(Clone, Copy)]
pub(crate) enum Height {
    /// Share of what the bare ones leave.
    Share(f64),
    /// In units of the sheet, without frame or axes.
    Bare(f64),
}

/// A name beside a panel, in two lines.
pub(crate) struct Aside {
    /// What it belongs to, in the first panel.
    pub(crate) at: Datum,
    /// Whether a thin line leads to it.
    pub(crate) has_leader: bool,
    pub(crate) name: String,
    pub(crate) detail: String,
    pub(crate) colour: Colour,
    pub(crate) sample: Option<style::Stroke>,
}

impl Chart {
    pub(crate) fn new(
        stem: &'static str,
        title: impl Into<String>,
        subtitle: impl Into<String>,
        columns: Vec<Column>,
    ) -> Self {
        Self {
            stem,
            title: title.into(),
            subtitle: subtitle.into(),
            has_header: true,
            description: String::new(),
            columns,
            is_split: false,
            foot: Vec::new(),
            cautions: Vec::new(),
            sheet: Sheet::USUAL,
        }
    }

    pub(crate) fn with_foot(mut self, foot: Vec<Foot>) -> Self {
        self.foot = foot;
        self
    }

    /// Says for those who cannot see it what it shows.
    pub(crate) fn described(mut self, words: impl Into<String>) -> Option<Self> {
        self.description = words.into();
        Some(self)
    }

    /// Draws it with those of a record's cautions that go wherever it goes.
    pub(crate) fn carrying(mut self, record: &[Caution]) -> Figure {
        self.cautions = with_figures(record);
        self.drawn()
    }

    /// Draws it for a page that says the cautions itself.
    pub(crate) fn drawn(self) -> Figure {
        let (sheet, chart) = (self.sheet, Arc::new(self));
        let figure = draw::drawn(&chart, sheet);
        figure.again(Arc::new(move |sheet| Some(draw::drawn(&chart, sheet))))
    }

    /// What its axes are, with their units, each once.
    fn axes(&self) -> Vec<&str> {
        let panels = self.columns.iter().flat_map(|column| &column.panels);
        let titles = panels.flat_map(|panel| [&panel.x.title, &panel.y.title]);
        let mut axes: Vec<&str> = Vec::new();
        for title in titles.map(String::as_str).filter(|t| !t.is_empty()) {
            if !axes.contains(&title) {
                axes.push(title);
            }
        }
        axes
    }
}

impl Column {
    pub(crate) fn of(panels: Vec<Panel>) -> Self {
        Self {
            width: 1.0,
            panels,
            flags: Vec::new(),
            side: Vec::new(),
        }
    }
}

impl Panel {
    pub(crate) fn new(x: Axis, y: Axis, items: Vec<Item>) -> Self {
        Self {
            caption: String::new(),
            x,
            y,
            height: Height::Share(1.0),
            items,
            top: (Vec::new(), ""),
            right: Vec::new(),
        }
    }

    pub(crate) fn captioned(mut self, words: &str) -> Self {
        words.clone_into(&mut self.caption);
        self
    }

    pub(crate) fn high(mut self, height: Height) -> Self {
        self.height = height;
        self
    }
}
