//! A screen or a page as a list of blocks: made once of a record, printed by every back end.
//!
//! Whoever has a record to show writes one function that turns it into blocks, and no layout:
//!
//! ```
//! use relatch::internals::answer::Place;
//! use relatch::internals::present::block::{Block, Screen, Table, html_page, markdown, terminal};
//! let (airs, points) = ([10.0, 25.0, 40.0], [12.9, 12.2, 11.2]);
//! let blocks = [
//!     Block::title("Kiln <3>", "12 A latch, reset by hand"),
//!     Block::cautions(Place::Top, ["Find the cause before switching on again."]),
//!     Block::answer("Does it trip?", [Block::sentence("YES, 22.4 s after the load starts.")]),
//!     Block::facts([("Time constant", "12.0 s")]),
//!     Table::new("In other air").across()
//!         .numbers("Air", airs.map(|air| format!("{air} °C")))
//!         .numbers("Trip point", points.map(|point| format!("{point} A")))
//!         .into(),
//! ];
//! assert!(terminal(&blocks, Screen::PLAIN).contains("  Trip point  12.9 A  12.2 A  11.2 A\n"));
//! assert!(html_page(&blocks).contains("<h1>Kiln &lt;3&gt;</h1>"));
//! assert!(markdown(&blocks).starts_with("# Kiln \\<3\\>\n"));
//! ```
//!
//! A command prints them with the one function for that, `cli::output::show(&blocks)`, which knows
//! how wide the terminal is and whether it has colours.

mod harmless;
mod html;
mod markdown;
mod table;
mod terminal;
mod terminal_table;
pub(in crate::present) mod wrap;

pub use harmless::harmless;
pub use html::html_page;
#[cfg(feature = "figures")]
pub(in crate::present) use html::html_page_with;
pub use html::html_part;
pub use markdown::markdown;
pub use table::Table;
pub use terminal::{Screen, terminal};
pub(super) use wrap::{width, wrapped};

use super::language::translated;
use crate::answer::Place;

/// What can stand on a screen or a page. All text is plain; back ends escape it.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Block {
    /// What the whole is called, and a line below it, which may be empty.
    Title(String, String),
    /// A heading.
    Heading(String),
    /// A heading below a heading.
    Subheading(String),
    /// A question, and what answers it.
    Answer(String, Vec<Block>),
    /// The same where room is short: on a terminal question and answer share a line.
    Brief(String, Vec<Block>),
    /// What stands side by side where there is room.
    Pair(Vec<Block>, Vec<Block>),
    /// Names with a probability each, 0..1, drawn as bars.
    Shares(Vec<(String, f64)>),
    /// What is filled in by hand, as far as it is not known.
    Form(Vec<Field>),
    /// A paragraph.
    Sentence(String),
    /// A paragraph that may be read later.
    Note(String),
    /// What to type for more: a terminal shows it, where it can be typed.
    Hint(String),
    /// Names and their values.
    Facts(Vec<(String, String)>),
    /// A table.
    Table(Table),
    /// Cautions, and where they stand. Those at the top are the most urgent.
    Cautions(Place, Vec<String>),
    /// Why a number should not be trusted blindly.
    Warnings(Vec<String>),
    /// What to do, one after the other.
    Steps(Vec<String>),
    /// Points without an order.
    List(Vec<String>),
    /// A drawing (SVG with its own title and description) and the sentence below it; a terminal
    /// shows neither.
    Figure(String, String),
    /// A formula as lines of text and as MathML.
    Formula(Vec<String>, String),
    /// Room to write on paper, in lines; a terminal has none.
    Room(u8),
    /// What follows begins on a sheet of its own.
    NewSheet,
    /// Where links to the headings stand; a terminal needs none.
    Contents,
}

/// A field of a [`Block::Form`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Field {
    /// What belongs there.
    pub name: String,
    /// What is known; empty: a ruled line.
    pub value: String,
    /// What it must keep; may be empty.
    pub rule: String,
}

impl Block {
    /// [`Block::Title`].
    pub fn title(text: impl Into<String>, below: impl Into<String>) -> Self {
        Self::Title(text.into(), below.into())
    }

    /// [`Block::Heading`].
    pub fn heading(text: impl Into<String>) -> Self {
        Self::Heading(text.into())
    }

    /// [`Block::Subheading`].
    pub fn subheading(text: impl Into<String>) -> Self {
        Self::Subheading(text.into())
    }

    /// [`Block::Answer`].
    pub fn answer(question: impl Into<String>, inside: impl IntoIterator<Item = Block>) -> Self {
        Self::Answer(question.into(), inside.into_iter().collect())
    }

    /// [`Block::Brief`].
    pub fn brief(question: impl Into<String>, inside: impl IntoIterator<Item = Block>) -> Self {
        Self::Brief(question.into(), inside.into_iter().collect())
    }

    /// Lines to write on.
    pub fn lines<const N: usize>(names: [&str; N]) -> Self {
        let line = |name: &str| Field {
            name: name.into(),
            value: String::new(),
            rule: String::new(),
        };
        Self::Form(names.map(line).into())
    }

    /// [`Block::Sentence`].
    pub fn sentence(text: impl Into<String>) -> Self {
        Self::Sentence(text.into())
    }

    /// [`Block::Note`].
    pub fn note(text: impl Into<String>) -> Self {
        Self::Note(text.into())
    }

    /// [`Block::Hint`].
    pub fn hint(text: impl Into<String>) -> Self {
        Self::Hint(text.into())
    }

    /// [`Block::Facts`].
    pub fn facts<N, V>(facts: impl IntoIterator<Item = (N, V)>) -> Self
    where
        N: Into<String>,
        V: Into<String>,
    {
        let facts = facts.into_iter();
        Self::Facts(facts.map(|(n, v)| (n.into(), v.into())).collect())
    }

    /// [`Block::Cautions`]; a translation says that it is one.
    pub fn cautions<T: Into<String>>(place: Place, said: impl IntoIterator<Item = T>) -> Self {
        let mut said = texts(said);
        if let Some(last) = said.last_mut() {
            last.push_str(translated());
        }
        Self::Cautions(place, said)
    }

    /// [`Block::Warnings`].
    pub fn warnings<T: Into<String>>(said: impl IntoIterator<Item = T>) -> Self {
        Self::Warnings(texts(said))
    }

    /// [`Block::Steps`].
    pub fn steps<T: Into<String>>(steps: impl IntoIterator<Item = T>) -> Self {
        Self::Steps(texts(steps))
    }

    /// [`Block::List`].
    pub fn list<T: Into<String>>(points: impl IntoIterator<Item = T>) -> Self {
        Self::List(texts(points))
    }
}

impl From<Table> for Block {
    fn from(table: Table) -> Self {
        Self::Table(table)
    }
}

fn texts<T: Into<String>>(items: impl IntoIterator<Item = T>) -> Vec<String> {
    items.into_iter().map(Into::into).collect()
}

/// What stands over cautions where they have a box of their own.
fn heading_of(place: Place) -> &'static str {
    match place {
        Place::Top => word!("Before anything else"),
        Place::BeforeWaits | Place::BesideWaits => word!("Before the wait is over"),
        Place::Measuring => word!("Before anything is measured"),
        Place::Testing => word!("Before a trip is tested"),
        Place::End => word!("Cautions"),
    }
}
