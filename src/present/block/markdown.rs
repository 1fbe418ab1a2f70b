//! Blocks as Markdown that reads well as it is.

use super::{Block, Field, Table};
use crate::present::number::percent;

/// `blocks` as Markdown.
pub fn markdown(blocks: &[Block]) -> String {
    let mut parts: Vec<String> = blocks.iter().map(block).collect();
    parts.retain(|part| !part.is_empty());
    parts.join("\n\n") + "\n"
}

fn block(block: &Block) -> String {
    match block {
        Block::Title(text, below) => format!("# {}\n\n{}", safe(text), safe(below))
            .trim_end()
            .to_owned(),
        Block::Heading(text) => format!("## {}", safe(text)),
        Block::Subheading(text) => format!("### {}", safe(text)),
        Block::Answer(question, inside) | Block::Brief(question, inside) => {
            format!("## {}\n\n{}", safe(question), markdown(inside).trim_end())
        }
        Block::Pair(left, right) => markdown(&[&left[..], right].concat()).trim_end().to_owned(),
        Block::Shares(shares) => {
            let share =
                |(name, share): &(String, f64)| format!("- {}: {}", safe(name), percent(*share));
            shares.iter().map(share).collect::<Vec<_>>().join("\n")
        }
        Block::Form(fields) => {
            let field = |f: &Field| format!("- {}: {}", safe(&f.name), safe(&f.value));
            fields.iter().map(field).collect::<Vec<_>>().join("\n")
        }
        Block::Sentence(text) | Block::Note(text) => safe(text),
        Block::Facts(facts) => {
            let facts = facts
                .iter()
                .map(|(name, value)| format!("- {}: {}", safe(name), safe(value)));
            facts.collect::<Vec<_>>().join("\n")
        }
        Block::Table(table) => of_table(table),
        Block::Cautions(_, said) => each(said, "> **!** ", "\n>\n"),
        Block::Warnings(said) => each(said, word!("* Warning: "), "\n"),
        Block::Steps(steps) => each(steps, "1. ", "\n"),
        Block::List(points) => each(points, "- ", "\n"),
        Block::Figure(_, caption) => say!("Figure: {}", safe(caption)),
        Block::Formula(lines, _) => format!("```text\n{}\n```", lines.join("\n")),
        Block::Hint(_) | Block::Room(_) | Block::NewSheet | Block::Contents => String::new(),
    }
}

fn each(items: &[String], lead: &str, between: &str) -> String {
    let lines: Vec<String> = items
        .iter()
        .map(|item| format!("{lead}{}", safe(item)))
        .collect();
    lines.join(between)
}

fn of_table(table: &Table) -> String {
    let columns = table.shown();
    let row = |cells: Vec<String>| format!("| {} |\n", cells.join(" | "));
    let mut out = match table.caption.as_str() {
        "" => String::new(),
        caption => format!("{}:\n\n", safe(caption)),
    };
    out += &row(columns.iter().map(|c| safe(&c.heading)).collect());
    let marks = columns
        .iter()
        .map(|c| if c.is_text { "---" } else { "---:" });
    out += &row(marks.map(str::to_owned).collect());
    for k in 0..table.rows() {
        let cell = |c: &&super::table::Column| c.cells.get(k).map_or(String::new(), |c| safe(c));
        out += &row(columns.iter().map(cell).collect());
    }
    for note in table.notes() {
        out += &format!("\n{}\n", safe(&note));
    }
    out.trim_end().to_owned()
}

/// Text with the characters that Markdown would take for its own put out of action.
fn safe(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut before = ' ';
    let mut rest = text.trim().chars().peekable();
    while let Some(c) = rest.next() {
        let is_between = |c: Option<&char>| c.is_some_and(|c| c.is_alphanumeric());
        let is_active = match c {
            '\\' | '`' | '*' | '[' | ']' | '<' | '>' | '|' | '&' => true,
            '_' => !(before.is_alphanumeric() && is_between(rest.peek())),
            '#' => out.is_empty(),
            _ => false,
        };
        if is_active {
            out.push('\\');
        }
        match c {
            '\n' | '\t' => out.push(' '),
            c if c.is_control() => {}
            c => out.push(c),
        }
        before = c;
    }
    out
}
