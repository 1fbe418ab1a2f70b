//! Lines of at most 100 columns: headings and wrapped sentences.

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

    pub(super) fn finish(self) -> String {
        self.lines.join("\n") + "\n"
    }

    /// A line as it is.
    pub(super) fn push(&mut self, line: String) {
        self.lines.push(harmless(line.trim_end()).into_owned());
    }
}
