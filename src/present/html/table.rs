//! A table with headers on both sides.

use super::escape;

/// Rows up to which a table is kept on one sheet of paper.
const SHORT: usize = 16;

/// A table: a caption, a row of headings, and rows whose first cell is their heading.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Table {
    caption: String,
    headings: Vec<String>,
    rows: Vec<Vec<String>>,
    of_text: bool,
}

impl Table {
    /// An empty table. `headings` name the columns; empty: no row of headings.
    pub fn new(caption: &str, headings: &[&str]) -> Self {
        Self {
            caption: caption.to_owned(),
            headings: headings.iter().map(|h| (*h).to_owned()).collect(),
            ..Self::default()
        }
    }

    /// Cells are text, set to the left; otherwise they are numbers, set to the right.
    #[must_use]
    pub fn of_text(mut self) -> Self {
        self.of_text = true;
        self
    }

    /// One row more; the first cell is its heading.
    #[must_use]
    pub fn row<T: Into<String>>(mut self, cells: impl IntoIterator<Item = T>) -> Self {
        self.rows.push(cells.into_iter().map(Into::into).collect());
        self
    }

    /// Whether it has no row.
    pub fn is_empty(&self) -> bool {
        self.rows.is_empty()
    }

    /// The table as markup. Shorter rows are filled up with empty cells.
    pub fn html(&self) -> String {
        let widest = self.rows.iter().map(Vec::len).max().unwrap_or(0);
        let columns = widest.max(self.headings.len());
        let class = if self.of_text { " class=\"words\"" } else { "" };
        let short = if self.rows.len() <= SHORT {
            " short"
        } else {
            ""
        };
        let mut out = format!("<div class=\"wide{short}\"><table{class}>\n");
        if !self.caption.is_empty() {
            out += &format!("<caption>{}</caption>\n", escape(&self.caption));
        }
        if !self.headings.is_empty() {
            out += "<thead><tr>";
            for k in 0..columns {
                let heading = self.headings.get(k).map_or("", String::as_str);
                out += &format!("<th scope=\"col\">{}</th>", escape(heading));
            }
            out += "</tr></thead>\n";
        }
        out += "<tbody>\n";
        for row in &self.rows {
            out += "<tr>";
            for k in 0..columns {
                let cell = escape(row.get(k).map_or("", String::as_str));
                out += &match k {
                    0 => format!("<th scope=\"row\">{cell}</th>"),
                    _ => format!("<td>{cell}</td>"),
                };
            }
            out += "</tr>\n";
        }
        out + "</tbody>\n</table></div>\n"
    }
}
