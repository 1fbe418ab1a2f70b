//! Lines of at most 100 columns: headings, wrapped sentences, small tables.

use crate::present::block::{harmless, width, wrapped};

const WIDTH: usize = 98;

/// Text under construction.
#[derive(Debug, Default)]
pub(super) struct Page {
    lines: Vec<String>,
}

impl Page {
    pub(super) fn blank(&mut self) {
        self.lines.push(String::new());
    }

    /// A heading with an empty line before it.
    pub(super) fn heading(&mut self, text: &str) {
        if self.lines.last().is_some_and(|line| !line.is_empty()) {
            self.blank();
        }
        self.push(text.to_owned());
    }

    /// A sentence after `lead`, continued under its first word.
    pub(super) fn wrap(&mut self, lead: &str, text: &str) {
        let below = " ".repeat(width(lead));
        for (k, line) in wrapped(text, WIDTH.saturating_sub(width(lead)).max(24))
            .iter()
            .enumerate()
        {
            let lead = if k == 0 { lead } else { &below };
            self.push(format!("{lead}{line}"));
        }
    }

    /// A name and its value in two columns, the value wrapped.
    pub(super) fn item(&mut self, name: &str, value: &str) {
        self.wrap(&format!("  {name:<26}"), value);
    }

    /// A table with one quantity a row: name, then cells aligned to the right.
    pub(super) fn table(&mut self, rows: &[(&str, Vec<String>)]) {
        let columns = rows.iter().map(|(_, cells)| cells.len()).max().unwrap_or(0);
        let name_width = rows.iter().map(|(name, _)| width(name)).max().unwrap_or(0);
        let cell_width = |k: usize| {
            let cells = rows.iter().filter_map(|(_, cells)| cells.get(k));
            cells.map(|cell| width(cell)).max().unwrap_or(0)
        };
        let widths: Vec<usize> = (0..columns).map(cell_width).collect();
        for (name, cells) in rows {
            let mut line = format!("  {}", pad_right(name, name_width));
            for (cell, cell_width) in cells.iter().zip(&widths) {
                line.push_str("   ");
                line.push_str(&" ".repeat(cell_width.saturating_sub(width(cell))));
                line.push_str(cell);
            }
            self.push(line);
        }
    }

    pub(super) fn finish(self) -> String {
        self.lines.join("\n") + "\n"
    }

    /// A line as it is.
    pub(super) fn push(&mut self, line: String) {
        self.lines.push(harmless(line.trim_end()).into_owned());
    }
}

fn pad_right(text: &str, columns: usize) -> String {
    format!("{text}{}", " ".repeat(columns.saturating_sub(width(text))))
}
