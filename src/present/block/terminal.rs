//! Blocks on a terminal of any width.

use super::wrap::{width, wrapped};
use super::{Block, terminal_table};
use crate::answer::Place;
use crate::present::number::percent;

/// Where less than this is left for values, they stand below their names.
const VALUES: usize = 24;

/// Letters of a bar.
const BAR: usize = 10;

/// A place to print to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Screen {
    columns: usize,
    is_styled: bool,
}

impl Screen {
    /// 100 columns without any style: what a file or a pipe gets.
    pub const PLAIN: Self = Self::new(100, false);

    /// So many columns (at least 40, at most 160), with bold and colour where `is_styled`.
    pub const fn new(columns: usize, is_styled: bool) -> Self {
        let columns = match columns {
            0..40 => 40,
            161.. => 160,
            columns => columns,
        };
        Self { columns, is_styled }
    }

    /// Its columns.
    pub fn columns(self) -> usize {
        self.columns
    }

    /// Each line of `text` in as many as it needs, the later ones as far in as the first.
    pub fn folded(self, text: &str) -> String {
        let fold = |line: &str| {
            let indent = &line[..line.len() - line.trim_start().len()];
            let room = self.columns.saturating_sub(indent.len());
            let end = &line[line.trim_end().len()..];
            let lines = wrapped(line.trim(), room).into_iter();
            let lines: Vec<String> = lines.map(|l| format!("{indent}{l}")).collect();
            lines.join("\n") + end
        };
        text.split('\n').map(fold).collect::<Vec<_>>().join("\n")
    }
}

/// How something is said; never the only sign of what it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Style {
    Plain,
    Bold,
    Urgent,
    Heed,
}

/// `blocks` as text.
pub fn terminal(blocks: &[Block], screen: Screen) -> String {
    let mut out = Lines {
        screen,
        indent: 0,
        is_inside: false,
        lines: Vec::new(),
    };
    out.blocks(blocks);
    out.lines.join("\n") + "\n"
}

/// Text under construction.
pub(super) struct Lines {
    screen: Screen,
    pub(super) indent: usize,
    /// Whether an answer is being told.
    pub(super) is_inside: bool,
    lines: Vec<String>,
}

impl Lines {
    fn blocks(&mut self, blocks: &[Block]) {
        for block in blocks {
            self.block(block);
        }
    }

    fn block(&mut self, block: &Block) {
        match block {
            Block::Title(text, below) => {
                self.blank();
                self.indent = 0;
                self.say("", text, Style::Bold);
                if !below.is_empty() {
                    self.say("", below, Style::Plain);
                }
                self.lines.push(String::new());
            }
            Block::Heading(text) => self.heading(text),
            Block::Subheading(text) => self.say("  ", text, Style::Bold),
            Block::Answer(question, inside) => {
                self.heading(question);
                let mut rest = &inside[..];
                if let [Block::Sentence(said), more @ ..] = rest {
                    self.indented(said, Style::Bold);
                    rest = more;
                }
                self.is_inside = true;
                self.blocks(rest);
                self.is_inside = false;
            }
            Block::Brief(question, inside) => {
                self.indent = 0;
                let (first, rest) = match &inside[..] {
                    [Block::Sentence(said), rest @ ..] => (said.as_str(), rest),
                    rest => ("", rest),
                };
                let said = format!("{question}  {first}");
                for (k, line) in wrapped(&said, self.screen.columns - 2).iter().enumerate() {
                    self.line(
                        &format!("{}{line}", if k == 0 { "" } else { "  " }),
                        Style::Bold,
                    );
                }
                self.indent = 2;
                self.blocks(rest);
            }
            Block::Pair(left, right) => {
                self.blocks(left);
                self.blocks(right);
            }
            Block::Shares(shares) => self.shares(shares),
            Block::Form(fields) => {
                let known = fields.iter().filter(|f| !f.value.is_empty());
                let facts: Vec<(String, String)> =
                    known.map(|f| (f.name.clone(), f.value.clone())).collect();
                self.facts(&facts);
            }
            Block::Sentence(text) | Block::Note(text) | Block::Hint(text) => {
                self.indented(text, Style::Plain);
            }
            Block::Facts(facts) => self.facts(facts),
            Block::Table(table) => terminal_table::print(self, table),
            Block::Cautions(place, said) => {
                let style = match place {
                    Place::Top => Style::Urgent,
                    _ => Style::Heed,
                };
                said.iter().for_each(|text| self.say("! ", text, style));
            }
            Block::Warnings(said) => {
                if !said.is_empty() {
                    self.heading(word!("Where not to trust a number blindly"));
                }
                said.iter()
                    .for_each(|text| self.say("* ", text, Style::Plain));
            }
            Block::Steps(steps) => {
                for (k, step) in steps.iter().enumerate() {
                    self.say(&format!("  {}. ", k + 1), step, Style::Plain);
                }
            }
            Block::List(points) => points
                .iter()
                .for_each(|point| self.say("  - ", point, Style::Plain)),
            Block::Formula(lines, _) => lines
                .iter()
                .for_each(|line| self.indented(line, Style::Plain)),
            Block::Figure(..) | Block::Room(_) | Block::NewSheet | Block::Contents => {}
        }
    }

    fn heading(&mut self, text: &str) {
        self.blank();
        self.say("", text, Style::Bold);
        self.indent = 2;
    }

    /// An empty line, unless there is one or nothing stands above.
    pub(super) fn blank(&mut self) {
        if self.lines.last().is_some_and(|line| !line.is_empty()) {
            self.lines.push(String::new());
        }
    }

    /// Columns to the right of the indent.
    pub(super) fn room(&self) -> usize {
        self.screen.columns - self.indent
    }

    pub(super) fn indented(&mut self, text: &str, style: Style) {
        self.say(&" ".repeat(self.indent), text, style);
    }

    /// `text` after `lead`, continued under its first word.
    pub(super) fn say(&mut self, lead: &str, text: &str, style: Style) {
        let below = " ".repeat(width(lead));
        let room = self.screen.columns - width(lead);
        for (k, line) in wrapped(text, room).iter().enumerate() {
            let lead = if k == 0 { lead } else { &below };
            self.line(&format!("{lead}{line}"), style);
        }
    }

    /// A line that fits as it is.
    pub(super) fn line(&mut self, line: &str, style: Style) {
        let line = line.trim_end();
        let code = match style {
            _ if !self.screen.is_styled => "",
            Style::Plain => "",
            Style::Bold => "1",
            Style::Urgent => "1;31",
            Style::Heed => "33",
        };
        self.lines.push(match code {
            "" => line.to_owned(),
            code => format!("\x1b[{code}m{line}\x1b[0m"),
        });
    }

    fn shares(&mut self, shares: &[(String, f64)]) {
        let names = shares
            .iter()
            .map(|(name, _)| width(name))
            .max()
            .unwrap_or(0);
        for (name, share) in shares {
            let gap = " ".repeat(names + 2 - width(name));
            let bar = bar(*share, BAR);
            self.indented(
                &format!("{name}{gap}{bar} {}", percent(*share)),
                Style::Plain,
            );
        }
    }

    fn facts(&mut self, facts: &[(String, String)]) {
        let names = facts.iter().map(|(name, _)| width(name)).max().unwrap_or(0);
        let is_narrow = names + 2 + VALUES > self.room();
        for (name, value) in facts {
            if is_narrow {
                self.indented(&format!("{name}:"), Style::Plain);
                self.say(&" ".repeat(self.indent + 2), value, Style::Plain);
            } else {
                let gap = " ".repeat(names + 2 - width(name));
                let lead = format!("{}{name}{gap}", " ".repeat(self.indent));
                self.say(&lead, value, Style::Plain);
            }
        }
    }
}

/// A share as a bar of letters.
fn bar(share: f64, letters: usize) -> String {
    let share = if share.is_finite() {
        share.clamp(0.0, 1.0)
    } else {
        0.0
    };
    let full = (share * letters as f64).round() as usize;
    format!(
        "[{}{}]",
        "#".repeat(full),
        ".".repeat(letters - full.min(letters))
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::present::block::Table;

    #[test]
    fn folded_lines_stay_as_far_in_as_they_began() {
        let text = "\nOne question at a time, and no more than that.\n  (16 A, 13; or nothing where nobody knows)\n> ";
        let folded = Screen::new(40, false).folded(text);
        assert_eq!(
            folded,
            "\nOne question at a time, and no more than\nthat.\n  (16 A, 13; or nothing where nobody\n  knows)\n> "
        );
    }

    /// Where a table has no room, a case is a list of its cells.
    #[test]
    fn a_cell_without_a_heading_stands_alone() {
        let far = "a_word_that_is_far_too_long_for_so_few_columns";
        let table = Table::new("")
            .text("Wanted", ["wait"])
            .text("", ["met"])
            .text("By", [far]);
        let text = terminal(&[table.into()], Screen::new(40, false));
        assert!(text.contains("met\n") && !text.contains(": met"), "{text}");
        assert!(text.contains("By:"), "{text}");
    }

    #[test]
    fn bars_have_one_length() {
        for share in [-1.0, 0.0, 0.31, 1.0, 7.0, f64::NAN] {
            assert_eq!(bar(share, 10).len(), 12, "{share}");
        }
        assert_eq!(bar(0.5, 10), "[#####.....]");
    }
}
