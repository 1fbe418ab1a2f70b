//! A table as data.

use crate::present::number::NONE;

/// A table: named columns, the first of which names the rows.
///
/// Columns without anything in them are not shown; the reasons why cells are empty stand below,
/// once each.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Table {
    pub(super) caption: String,
    columns: Vec<Column>,
    reasons: Vec<Option<String>>,
    pub(super) is_across: bool,
    /// To be filled in by hand: empty columns are shown.
    pub(super) is_form: bool,
}

/// A column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Column {
    pub(super) heading: String,
    pub(super) cells: Vec<String>,
    pub(super) is_text: bool,
}

impl Table {
    /// An empty table; its caption may be empty.
    pub fn new(caption: impl Into<String>) -> Self {
        Self {
            caption: caption.into(),
            ..Self::default()
        }
    }

    /// Rows of text under their headings, where cells come row by row.
    pub fn of_text<const N: usize>(
        caption: impl Into<String>,
        headings: [&str; N],
        rows: impl IntoIterator<Item = [String; N]>,
    ) -> Self {
        let rows: Vec<[String; N]> = rows.into_iter().collect();
        let columns = headings.iter().enumerate();
        columns.fold(Self::new(caption), |table, (k, heading)| {
            table.text(*heading, rows.iter().map(|row| row[k].clone()))
        })
    }

    /// On a terminal, one quantity a line and the cases side by side.
    #[must_use]
    pub fn across(mut self) -> Self {
        self.is_across = true;
        self
    }

    /// Filled in by hand: columns without anything in them are shown.
    #[must_use]
    pub fn to_fill_in(mut self) -> Self {
        self.is_form = true;
        self
    }

    /// A column of numbers, with their units where they travel alone.
    #[must_use]
    pub fn numbers<C: Into<String>>(
        self,
        heading: impl Into<String>,
        cells: impl IntoIterator<Item = C>,
    ) -> Self {
        self.column(heading.into(), cells, false)
    }

    /// A column of words.
    #[must_use]
    pub fn text<C: Into<String>>(
        self,
        heading: impl Into<String>,
        cells: impl IntoIterator<Item = C>,
    ) -> Self {
        self.column(heading.into(), cells, true)
    }

    fn column<C: Into<String>>(
        mut self,
        heading: String,
        cells: impl IntoIterator<Item = C>,
        is_text: bool,
    ) -> Self {
        self.columns.push(Column {
            heading,
            cells: cells.into_iter().map(Into::into).collect(),
            is_text,
        });
        self
    }

    /// Row by row, why something is missing in it.
    #[must_use]
    pub fn reasons(mut self, reasons: impl IntoIterator<Item = Option<String>>) -> Self {
        self.reasons = reasons.into_iter().collect();
        self
    }

    /// At most so many rows, the first and the last among them.
    #[must_use]
    pub fn at_most(mut self, most: usize) -> Self {
        let kept = spread(self.rows(), most);
        let thin = |cells: &[String]| kept.iter().filter_map(|k| cells.get(*k).cloned()).collect();
        for column in &mut self.columns {
            column.cells = thin(&column.cells);
        }
        if !self.reasons.is_empty() {
            self.reasons = kept
                .iter()
                .map(|k| self.reasons.get(*k).cloned()?)
                .collect();
        }
        self
    }

    /// Number of rows.
    pub fn rows(&self) -> usize {
        self.columns
            .iter()
            .map(|c| c.cells.len())
            .max()
            .unwrap_or(0)
    }

    /// Columns that say something.
    pub(super) fn shown(&self) -> Vec<&Column> {
        let says = |c: &Column| c.cells.iter().any(|cell| !cell.is_empty() && cell != NONE);
        let columns = self.columns.iter().enumerate();
        columns
            .filter(|(k, c)| *k == 0 || self.is_form || says(c))
            .map(|(_, c)| c)
            .collect()
    }

    /// A sentence a distinct reason, naming the rows that it explains.
    pub(super) fn notes(&self) -> Vec<String> {
        let mut found: Vec<(&str, Vec<&str>)> = Vec::new();
        let names = self.columns.first().map_or(&[][..], |c| &c.cells[..]);
        for (name, reason) in names.iter().zip(&self.reasons) {
            let Some(reason) = reason else { continue };
            match found.iter_mut().find(|(known, _)| known == reason) {
                Some((_, rows)) => rows.push(name),
                None => found.push((reason, vec![name])),
            }
        }
        let told = |(reason, rows): (&str, Vec<&str>)| match rows.len() == names.len() {
            true => say!("Everywhere: {reason}"; reason),
            false => say!("At {}: {reason}", rows.join(", "); reason),
        };
        found.into_iter().map(told).collect()
    }
}

/// At most `most` of `count` places, evenly, the first and the last among them.
fn spread(count: usize, most: usize) -> Vec<usize> {
    if count <= most || most < 2 {
        return (0..count).collect();
    }
    let place = |k: usize| (k * (count - 1) + (most - 1) / 2) / (most - 1);
    (0..most).map(place).collect()
}
