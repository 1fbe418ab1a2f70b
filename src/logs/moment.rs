//! Reads the time of one row, in seconds on the clock of the log.

use super::calendar::{Date, DateOrder};
use super::clock;
use super::layout::{Layout, TimeForm};
use super::number::{Cell, cell};

/// Why a time was not read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum TimeFault {
    Unreadable,
    NoSuchDay,
}

/// Reads the times of a log.
pub(super) struct Moments {
    form: TimeForm,
    mark: u8,
    /// A row may lack the zone that the others have.
    pub offset_s: i32,
    /// A zone was met.
    pub zoned: bool,
    /// Dates repeat from row to row: the last one and its days.
    last: Option<(Date, i64)>,
}

impl Moments {
    pub fn new(layout: &Layout) -> Self {
        Moments {
            form: layout.time_form,
            mark: layout.time.as_ref().map_or(b'.', |c| c.mark),
            offset_s: layout.zone_s.unwrap_or(0),
            zoned: layout.zone_s.is_some(),
            last: None,
        }
    }

    /// Seconds since 1970, since midnight or since the start, as the form has it; `number` counts
    /// the rows before this one.
    pub fn read(&mut self, time: &[u8], time_of_day: &[u8], number: u64) -> Result<f64, TimeFault> {
        match self.form {
            TimeForm::Even { interval_s } => Ok(number as f64 * interval_s),
            TimeForm::Number { scale_s, .. } => match cell(time, self.mark) {
                Cell::Value(v, []) => Ok(v * scale_s),
                _ => Err(TimeFault::Unreadable),
            },
            TimeForm::Clock { minutes_first } => {
                let stamp = clock::stamp(time).ok_or(TimeFault::Unreadable)?;
                let clock = stamp
                    .clock
                    .filter(|_| stamp.date.is_none())
                    .ok_or(TimeFault::Unreadable)?;
                Ok(if minutes_first {
                    clock.as_minutes_and_seconds()
                } else {
                    clock.seconds
                })
            }
            TimeForm::Calendar { order } => self.calendar(time, time_of_day, order),
        }
    }

    fn calendar(
        &mut self,
        time: &[u8],
        time_of_day: &[u8],
        order: DateOrder,
    ) -> Result<f64, TimeFault> {
        let stamp = clock::stamp(time).ok_or(TimeFault::Unreadable)?;
        let date = stamp.date.ok_or(TimeFault::Unreadable)?;
        let days = match self.last {
            Some((last, days)) if last == date => days,
            _ => {
                let days = date.days(order).ok_or(TimeFault::NoSuchDay)?;
                self.last = Some((date, days));
                days
            }
        };
        let (clock, offset) = if time_of_day.is_empty() {
            (stamp.clock, stamp.offset_s)
        } else {
            let second = clock::stamp(time_of_day).ok_or(TimeFault::Unreadable)?;
            (
                second.clock.or(stamp.clock),
                second.offset_s.or(stamp.offset_s),
            )
        };
        if let Some(offset) = offset {
            self.offset_s = offset;
            self.zoned = true;
        }
        let of_day = clock.map_or(0.0, |c| c.seconds);
        Ok(days as f64 * 86_400.0 + of_day - f64::from(self.offset_s))
    }
}
