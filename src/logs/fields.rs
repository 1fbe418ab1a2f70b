//! Turns one line into values.

use super::account::{Account, Oddity, RowFault};
use super::encoding::{shown, text};
use super::layout::{Column, Layout};
use super::moment::{Moments, TimeFault};
use super::number::{Cell, cell};
use super::options::{CurrentKind, Options};
use super::row::Current;
use super::split::{Delimiter, split};
use super::timeline::Incoming;
use super::unit;
use crate::quantity::Dimension;
use std::ops::Range;

/// The end of the range of a signed 16-bit counter, with which instruments say 'no value'.
const NO_VALUE: f64 = -32_768.0;
/// Counts at which 16-bit converters stick.
const CLIPPED: [f64; 2] = [32_767.0, 65_535.0];

/// Reads lines into rows.
pub(super) struct Fields {
    pub moments: Moments,
    ranges: Vec<Range<usize>>,
    needed: usize,
    /// The unit met last behind a number or in the unit column, and its factor.
    unit: (Vec<u8>, Option<f64>),
    before_a: f64,
}

impl Fields {
    pub fn new(layout: &Layout) -> Self {
        let mut fields = Fields {
            moments: Moments::new(layout),
            ranges: Vec::new(),
            needed: 0,
            unit: (Vec::new(), None),
            before_a: 0.0,
        };
        fields.needs(layout);
        fields
    }

    /// The columns have changed.
    pub fn needs(&mut self, layout: &Layout) {
        let all = [
            layout.time.as_ref(),
            layout.time_of_day.as_ref(),
            Some(&layout.current),
        ];
        self.needed = Column::largest_index(&all) + 1;
    }

    /// Reads a line.
    pub fn read(
        &mut self,
        line: &[u8],
        place: (u64, u64),
        layout: &Layout,
        options: &Options,
        account: &mut Account,
    ) -> Result<Incoming, RowFault> {
        if !split(line, layout.delimiter, &mut self.ranges) {
            return Err(RowFault::OpenQuote);
        }
        while self.ranges.last().is_some_and(|f| f.is_empty()) && self.ranges.len() > self.needed {
            self.ranges.pop();
        }
        let found = self.ranges.len();
        let more = found > layout.width && layout.delimiter != Delimiter::Blanks;
        if found < self.needed || more {
            return Err(RowFault::Fields {
                found,
                expected: layout.width,
            });
        }
        let (line_number, number) = place;
        let time = self.field(line, layout.time.as_ref());
        let of_day = self.field(line, layout.time_of_day.as_ref());
        let raw_s = self
            .moments
            .read(time, of_day, number - 1)
            .map_err(|fault| match fault {
                TimeFault::Unreadable if time.is_empty() || of_day.is_empty() => {
                    RowFault::Time(short(time))
                }
                TimeFault::Unreadable => RowFault::Time(short(&[time, b" ", of_day].concat())),
                TimeFault::NoSuchDay => RowFault::NoSuchDay(short(time)),
            })?;
        let current = self.current(line, line_number, layout, options, account)?;
        Ok(Incoming {
            line: line_number,
            number,
            raw_s,
            current,
            after_missing: false,
            ambient_k: self.ambient(line, line_number, layout, account),
        })
    }

    fn field<'l>(&self, line: &'l [u8], column: Option<&Column>) -> &'l [u8] {
        match column.and_then(|c| self.ranges.get(c.index)) {
            Some(range) => &line[range.clone()],
            None => &[],
        }
    }

    fn current(
        &mut self,
        line: &[u8],
        line_number: u64,
        layout: &Layout,
        options: &Options,
        account: &mut Account,
    ) -> Result<Current, RowFault> {
        let by_row = match layout.unit_column.and_then(|i| self.ranges.get(i)) {
            Some(range) => self.factor(&line[range.clone()]),
            None => None,
        };
        let bytes = self.field(line, Some(&layout.current));
        let raw = match cell(bytes, layout.current.mark) {
            Cell::Value(v, _) if v == NO_VALUE => return Err(RowFault::NoCurrent),
            Cell::Value(v, []) => (v, by_row.unwrap_or(layout.current.scale)),
            Cell::Value(v, b"%") if options.amperes_per_unit.is_some() => (v, layout.current.scale),
            Cell::Value(v, rest) => match self.factor(rest) {
                Some(factor) => (v, factor),
                None => return Err(RowFault::Current(short(bytes))),
            },
            Cell::Nothing => return Err(RowFault::NoCurrent),
            Cell::OverRange => return Err(RowFault::OverRange),
            Cell::TwoWays => return Err(RowFault::TwoWays(short(bytes))),
            Cell::Unreadable => return Err(RowFault::Current(short(bytes))),
        };
        let value = raw.0 * raw.1 - options.offset_a;
        if value.is_nan() || value.abs() > options.largest_current_a {
            return Err(RowFault::TooLarge(short(bytes)));
        }
        if CLIPPED.contains(&raw.0.abs()) {
            account.odd(Oddity::Clipped, line_number, value);
        }
        if value < 0.0 && layout.kind != CurrentKind::Samples {
            account.odd(Oddity::Negative, line_number, value);
        }
        let other = if layout.current.mark == b',' {
            b'.'
        } else {
            b','
        };
        if bytes.contains(&other) && !bytes.contains(&layout.current.mark) && raw.0.fract() != 0.0 {
            account.odd(Oddity::DecimalMark, line_number, value);
        }
        let value = value.abs();
        let (small, big) = (value.min(self.before_a), value.max(self.before_a));
        if big > 500.0 && (big / small / 1000.0 - 1.0).abs() < 0.1 {
            account.odd(Oddity::Thousandfold, line_number, value);
        }
        self.before_a = value;
        let mut bound = |column: Option<&Column>| {
            let bytes = self.field(line, column);
            let column = column?;
            let v = match cell(bytes, column.mark) {
                Cell::Value(v, []) => v * by_row.unwrap_or(column.scale),
                Cell::Value(v, b"%") if options.amperes_per_unit.is_some() => v * column.scale,
                Cell::Value(v, rest) => v * self.factor(rest)?,
                _ => return None,
            };
            let v = (v - options.offset_a).abs();
            (v <= options.largest_current_a).then_some(v)
        };
        let (min, max) = (
            bound(layout.minimum.as_ref()),
            bound(layout.maximum.as_ref()),
        );
        Ok(Current { value, min, max })
    }

    /// Amperes for one of a unit.
    fn factor(&mut self, bytes: &[u8]) -> Option<f64> {
        if self.unit.0 != bytes {
            let unit = unit::read(&text(bytes)).filter(|u| u.dimension == Dimension::Current);
            self.unit = (
                bytes.get(..bytes.len().min(40))?.to_vec(),
                unit.map(|u| u.scale),
            );
        }
        self.unit.1
    }

    fn ambient(
        &self,
        line: &[u8],
        line_number: u64,
        layout: &Layout,
        account: &mut Account,
    ) -> Option<f64> {
        let column = layout.ambient.as_ref()?;
        let kelvin = match cell(self.field(line, Some(column)), column.mark) {
            Cell::Value(v, _) if v == NO_VALUE => return None,
            Cell::Value(v, []) => v * column.scale + column.zero,
            Cell::Value(v, rest) => {
                let unit =
                    unit::read(&text(rest)).filter(|u| u.dimension == Dimension::Temperature)?;
                v * unit.scale + unit.zero
            }
            _ => return None,
        };
        if (213.15..=423.15).contains(&kelvin) {
            return Some(kelvin);
        }
        account.odd(Oddity::Ambient, line_number, kelvin);
        None
    }
}

/// A field for a message.
fn short(bytes: &[u8]) -> String {
    shown(&text(bytes.get(..400).unwrap_or(bytes)), 40)
}
