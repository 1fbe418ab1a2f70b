//! A computation by hand: the formulas of textbooks with the numbers of one scenario, beside the
//! full model.

mod mathml;
mod plain;
pub(in crate::present) mod symbol;

use super::block::{Block, Table, html_page, markdown};
use super::words;
use crate::answer::{Caution, Place};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::language::{Language, marked, spoken, worded};
use crate::study::by_hand::unit::unit_of;
use crate::study::by_hand::{self, Beside, Explanation, Step, Values};
pub(in crate::present) use symbol::value;
use symbol::{in_a_line, number};

/// A caution as it stands before everything else: these sheets are taken into a class room.
pub(in crate::present) fn taught(caution: Caution) -> &'static str {
    match caution {
        Caution::Teaching => {
            word!(
                "Bench or classroom: 24 V at most, guard the hot strip, no mains boards, never unattended. The strip and \
     its terminals get hotter than 60 °C."
            )
        }
        Caution::DeliberateOverload => {
            word!(
                "A deliberate overload needs a low-voltage source of its own, a time limit and ventilation."
            )
        }
        Caution::ModelEstimate => {
            word!(
                "These are numbers to learn from. They decide nothing about equipment in use: there the maker's curve, \
     local rules and qualified people do."
            )
        }
        Caution::NeverRaise => {
            word!(
                "Never bridge a protector, and never fit a higher rating to stop it from tripping."
            )
        }
        other => words::caution(other),
    }
}

/// How the sheet is to be read.
fn how_to_read() -> &'static str {
    word!(
        "Each step shows the formula, the same formula with the numbers of this \
    scenario, and the result. Numbers are shown with four digits and carried on unrounded. Where the full model \
    computes the same quantity, its number stands beside the result, with the difference and the reason for it. \
    Differences of temperatures count from the temperature of the flat strip."
    )
}

/// The explanation as one self-contained page; its formulas are MathML.
pub fn explanation_html(explanation: &Explanation) -> String {
    html_page(&blocks(explanation))
}

/// The explanation as Markdown, with formulas in lines of text.
pub fn explanation_markdown(explanation: &Explanation) -> String {
    markdown(&blocks(explanation))
}

fn blocks(explanation: &Explanation) -> Vec<Block> {
    let mut list = vec![
        Block::title(
            say!("{}, worked by hand", explanation.title),
            say!(
                "The formulas of textbooks with the numbers of one scenario, beside the full model{}",
                words::changed(&explanation.changed)
            ),
        ),
        Block::cautions(Place::Top, explanation.cautions.iter().copied().map(taught)),
        Block::sentence(&explanation.shows),
        Block::note(how_to_read()),
    ];
    for (k, chapter) in explanation.chapters.iter().enumerate() {
        let subject = words::by_hand::subject(chapter.subject);
        list.push(Block::heading(format!("{}  {subject}", k + 1)));
        for part in &chapter.blocks {
            match part {
                by_hand::Block::Remark(remark) => {
                    list.push(Block::sentence(words::by_hand::remark(
                        explanation,
                        *remark,
                    )));
                }
                by_hand::Block::Values(values) => list.push(table_of(values).into()),
                by_hand::Block::Step(step) => list.extend(written(explanation, step)),
            }
        }
    }
    list.push(Block::heading(word!("By hand and by the full model")));
    list.push(compared(explanation).into());
    list.push(Block::heading(word!("Sources of the material data")));
    list.push(Block::list(&explanation.sources));
    list
}

/// A step worked: what it is, formula and numbers, the full model beside it, its source.
pub(in crate::present) fn written(explanation: &Explanation, step: &Step) -> Vec<Block> {
    let mut list = vec![
        Block::subheading(words::by_hand::step(explanation, step)),
        Block::Formula(plain::lines(step), mathml::block(step)),
    ];
    if let Some(beside) = &step.beside {
        let difference = match difference(step).as_str() {
            "none" => word!("the same").to_owned(),
            other => other.to_owned(),
        };
        let (what, why) = words::by_hand::beside(explanation, step);
        list.push(Block::sentence(say!(
            "Full model: {} ({}); by hand {difference}. {why}",
            model_value(step, beside),
            lower_first(what)
        ; difference, why)));
    }
    list.push(Block::note(worded(&step.source)));
    list
}

fn table_of(values: &Values) -> Table {
    let names = values.rows.iter().map(|(name, _)| name);
    let at_c = values.at_k - ZERO_CELSIUS_K;
    let caption = say!("Layers at {at_c:.0} °C, from the sources named at the end"; at_c);
    let table = Table::new(caption).text(word!("layer"), names);
    let columns = values.columns.iter().enumerate();
    columns.fold(table, |table, (k, symbol)| {
        let (what, unit) = (words::by_hand::layer_column(symbol), unit_of(symbol));
        let shown = |si: &f64| number(unit.shown(*si), false).0;
        let cells = values
            .rows
            .iter()
            .filter_map(|(_, cells)| cells.get(k).map(shown));
        let heading = format!("{what} {}, {}", in_a_line(symbol), unit.symbol);
        table.numbers(heading, cells)
    })
}

fn compared(explanation: &Explanation) -> Table {
    let steps: Vec<(&Step, &Beside)> = explanation
        .steps()
        .filter_map(|s| s.beside.as_ref().map(|b| (s, b)))
        .collect();
    let named = |step: &Step| {
        format!(
            "{} {}",
            name(explanation, step),
            in_a_line(&step.result.symbol)
        )
    };
    let by_hand = |step: &Step| value(step.result.value_si, step.result.unit, true);
    Table::new(word!("Quantities that both compute"))
        .text(word!("quantity"), steps.iter().map(|(step, _)| named(step)))
        .numbers(
            word!("by hand"),
            steps.iter().map(|(step, _)| by_hand(step)),
        )
        .numbers(
            word!("full model"),
            steps.iter().map(|(step, beside)| model_value(step, beside)),
        )
        .numbers(
            word!("difference"),
            steps.iter().map(|(step, _)| difference(step)),
        )
}

/// A step to be worked: its formula alone.
#[cfg(feature = "figures")]
pub(in crate::present) fn asked(step: &Step) -> Block {
    Block::Formula(plain::asked(step), mathml::asked(step))
}

/// By hand against the full model; a dash where there is nothing to state.
fn difference(step: &Step) -> String {
    step.difference_percent()
        .map_or_else(|| "–".to_owned(), percent_apart)
}

/// `+3.2 %`, `−35 %`, `none`.
pub(in crate::present) fn percent_apart(d: f64) -> String {
    let decimals = match d.abs() {
        ..0.005 => return word!("none").to_owned(),
        ..1.0 => 2,
        ..10.0 => 1,
        _ => 0,
    };
    marked(format!("{d:+.decimals$} %")).replace('-', "−")
}

/// The name of a step without its explanation.
fn name(explanation: &Explanation, step: &Step) -> String {
    let what = words::by_hand::step(explanation, step);
    let end = what.find([':', '(']).unwrap_or(what.len());
    what[..end].trim_end().to_owned()
}

/// The full model's number with its unit.
fn model_value(step: &Step, beside: &Beside) -> String {
    value(beside.value_si, step.result.unit, true)
}

/// Within a sentence; a German noun stays large.
fn lower_first(text: &str) -> String {
    if spoken().language == Language::German {
        return text.to_owned();
    }
    let mut chars = text.chars();
    let first = chars.next().map(char::to_lowercase);
    first.into_iter().flatten().chain(chars).collect()
}
