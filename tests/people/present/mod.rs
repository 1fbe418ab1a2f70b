//! Every output renders the same record.

mod blocks;
mod csv;
mod diagnosed;
mod diagnosis;
mod explain;
mod fabricated;
mod figures;
mod files;
mod fitted;
mod gallery;
mod json;
mod languages;
mod lesson;
mod markup;
mod materials;
mod mechanism;
mod moving;
mod prints;
mod records;
mod report;
mod sheet;
mod text;
mod through_log;
mod variants;
mod widths;

/// The characteristic of an outcome on a plain page.
fn characteristic_text(outcome: &relatch::Outcome) -> String {
    use relatch::internals::present::block::{Screen, terminal};
    terminal(
        &relatch::internals::present::curve_blocks(outcome),
        Screen::PLAIN,
    )
}
