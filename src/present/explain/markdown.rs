//! A computation by hand as Markdown: formulas in lines of text, readable as they are.

use super::plain::lines;
use super::symbol::{in_a_line, number};
use super::words::{
    CAUTIONS, COMPARED, HOW_TO_READ, compared, difference, hand_value, model_value, name,
};
use crate::study::by_hand::{Block, Explanation, Step, Values};

/// The explanation as Markdown.
pub fn explanation_markdown(explanation: &Explanation) -> String {
    let mut out = format!("# {}, worked by hand\n\n", safe(&explanation.title));
    for caution in CAUTIONS {
        out += &format!("> **!** {caution}\n>\n");
    }
    out += &format!("\n{}\n\n{HOW_TO_READ}\n", safe(explanation.shows.trim()));
    for (k, chapter) in explanation.chapters.iter().enumerate() {
        out += &format!("\n## {}  {}\n", k + 1, chapter.heading);
        for block in &chapter.blocks {
            out += "\n";
            match block {
                Block::Text(text) => out += &format!("{text}\n"),
                Block::Values(values) => out += &table_of(values),
                Block::Step(step) => out += &written(step),
            }
        }
    }
    out += &summary(explanation);
    out += "\n## Sources of the material data\n\n";
    for source in &explanation.sources {
        out += &format!("- {}\n", safe(source));
    }
    out
}

fn written(step: &Step) -> String {
    let mut out = format!("**{}** ({})\n\n```text\n", step.what, step.source);
    for line in lines(step) {
        out += &format!("{line}\n");
    }
    out += "```\n";
    if let Some(beside) = &step.beside {
        out += &format!(
            "\nFull model: {} ({}); by hand {}. {}\n",
            model_value(step, beside),
            lower_first(&beside.what),
            difference_words(step),
            beside.why
        );
    }
    out
}

fn difference_words(step: &Step) -> String {
    match difference(step).as_str() {
        "none" => "the same".to_owned(),
        other => other.to_owned(),
    }
}

pub(super) fn lower_first(text: &str) -> String {
    let mut chars = text.chars();
    match chars.next() {
        Some(first) => first.to_lowercase().chain(chars).collect(),
        None => String::new(),
    }
}

fn table_of(values: &Values) -> String {
    let mut out = format!("{}:\n\n| layer |", values.caption);
    for (words, symbol, unit) in &values.columns {
        out += &format!(" {words} {}, {} |", in_a_line(symbol), unit.symbol);
    }
    out += "\n| --- |";
    out += &" ---: |".repeat(values.columns.len());
    out += "\n";
    for (name, cells) in &values.rows {
        out += &format!("| {} |", safe(name));
        for (cell, (_, _, unit)) in cells.iter().zip(&values.columns) {
            out += &format!(" {} |", number(unit.shown(*cell), false).0);
        }
        out += "\n";
    }
    out
}

fn summary(explanation: &Explanation) -> String {
    let mut out = format!("\n## {COMPARED}\n\n| quantity | by hand | full model | difference |\n");
    out += "| --- | ---: | ---: | ---: |\n";
    for (step, beside) in compared(explanation) {
        out += &format!(
            "| {} {} | {} | {} | {} |\n",
            name(step),
            in_a_line(&step.result.symbol),
            hand_value(step),
            model_value(step, beside),
            difference(step)
        );
    }
    out
}

/// Text from a file, with the characters that Markdown would take for its own put out of action.
fn safe(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        if matches!(
            c,
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '>' | '#' | '|' | '&'
        ) {
            out.push('\\');
        }
        if !c.is_control() || c == '\n' {
            out.push(c);
        }
    }
    out
}
