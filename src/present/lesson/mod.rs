//! A lesson on paper: a sheet for each pupil, and the teacher's key.

mod bench;
mod figure;
mod key;
mod sheet;

use super::block::{Block, html_page_with};
use super::explain::symbol::{in_a_line, value};
use super::words;
use crate::study::by_hand::Quantity;
use crate::study::lesson::{Lesson, Sheet};
#[cfg(feature = "page")]
pub(crate) use key::of_sheet as lesson_key_blocks;
#[cfg(feature = "page")]
pub(crate) use sheet::blocks as lesson_sheet_blocks;

/// Paper that a lesson is printed on.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Paper {
    /// 210 mm by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 in by 11 in.
    Letter,
}

impl Paper {
    fn style(self) -> String {
        let size = match self {
            Paper::A4 => "A4",
            Paper::Letter => "letter",
        };
        format!("{}@page {{ size: {size}; }}\n", include_str!("lesson.css"))
    }
}

/// The sheets, one after the other, each on paper of its own.
pub fn lesson_sheets_html(lesson: &Lesson, paper: Paper) -> String {
    let sheets = lesson.sheets.iter().enumerate();
    let sheets = sheets.flat_map(|(k, sheet)| {
        let begins = (k > 0).then_some(Block::NewSheet);
        begins.into_iter().chain(sheet::blocks(lesson, sheet))
    });
    html_page_with(&sheets.collect::<Vec<_>>(), &paper.style())
}

/// The teacher's key: every answer in a table, then every step of every sheet beside the full
/// model. `source` is what the scenario is called on the command line.
pub fn lesson_key_html(lesson: &Lesson, paper: Paper, source: &str) -> String {
    html_page_with(&key::blocks(lesson, source), &paper.style())
}

/// A quantity in a line: its name, symbol and value.
fn fact(sheet: &Sheet, quantity: &Quantity) -> (String, String) {
    let name = words::lesson::given(&sheet.explanation, &quantity.symbol);
    let symbol = in_a_line(&quantity.symbol);
    (
        format!("{name} {symbol}").trim_start().to_owned(),
        value(quantity.value_si, quantity.unit, false),
    )
}
