//! What is known of a log while its layout is being found.

use super::columns::Columns;
use super::detect::{Probe, Shape};
use super::encoding::Encoding;
use super::header::Heading;
use super::layout::Column;
use super::number::{Cell, cell};
use super::options::Options;
use super::times::Sample;
use crate::quantity::Dimension;
use std::ops::Range;

/// First lines, their fields, and what their columns are taken for.
pub(super) struct Draft<'p> {
    pub probe: &'p Probe,
    pub shape: Shape,
    pub rows: Vec<usize>,
    pub columns: Columns,
    pub encoding: Encoding,
    pub is_header: bool,
    pub options: &'p Options,
}

impl<'p> Draft<'p> {
    pub fn heading(&self, i: usize) -> Option<&Heading> {
        self.columns.headings.get(i)
    }

    /// The fields of a column in the first rows.
    pub fn samples(&self, index: usize) -> Vec<Sample<'p>> {
        let field = |at: &usize| {
            let fields = self.probe.fields(*at, self.shape.delimiter);
            let (text, span) = self.probe.field(*at, fields.get(index)?);
            Some(Sample { text, span })
        };
        self.rows.iter().filter_map(field).collect()
    }

    /// Decimal mark of a column: that of the numbers in which it cannot be a thousands mark.
    pub fn mark(&self, index: usize) -> u8 {
        let (mut commas, mut points, mut either) = (0, 0, 0);
        for sample in self.samples(index) {
            let text = sample.text;
            let behind = |m: char| text.rfind(m).map(|at| text.len() - at - 1);
            match (behind('.'), behind(',')) {
                (Some(p), Some(c)) if p < c => points += 1,
                (Some(_), Some(_)) => commas += 1,
                (Some(_), None) => points += 1,
                (None, Some(3)) => either += 1,
                (None, Some(_)) => commas += 1,
                (None, None) => {}
            }
        }
        if commas > points || (commas == points && either > 0) {
            b','
        } else {
            b'.'
        }
    }

    pub fn column(&self, index: usize, dimension: Dimension) -> Column {
        let heading = self.heading(index);
        let unit = heading
            .and_then(|h| h.unit.clone())
            .filter(|u| u.dimension == dimension);
        Column {
            index,
            name: heading.map(|h| h.name.clone()).unwrap_or_default(),
            mark: self.mark(index),
            scale: unit.as_ref().map_or(1.0, |u| u.scale),
            zero: unit.as_ref().map_or(0.0, |u| u.zero),
            unit,
        }
    }

    pub fn numbers(&self, column: &Column) -> Vec<f64> {
        let value = |s: Sample| match cell(s.text.as_bytes(), column.mark) {
            Cell::Value(v, rest)
                if rest.is_empty() || super::unit::read(&super::encoding::text(rest)).is_some() =>
            {
                Some(v * column.scale + column.zero)
            }
            _ => None,
        };
        self.samples(column.index)
            .into_iter()
            .filter_map(value)
            .collect()
    }
}

/// Place of a line in the probe.
pub(super) fn span(probe: &Probe, at: usize) -> Range<usize> {
    let start = probe.lines[at].start;
    start..start + probe.line(at).len()
}
