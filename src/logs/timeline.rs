//! Puts rows on a time that never falls: gaps, jumps of the clock, midnights, rows met twice.

use super::account::{
    Account, BadRow, ClockJump, Duplicate, Gap, IntervalChange, JumpCause, RowFault,
};
use super::calendar;
use super::layout::{Layout, TimeForm};
use super::options::{HourJumps, Options};
use super::row::{Current, Row};
use std::collections::VecDeque;

const DAY_S: f64 = 86_400.0;
const HOUR_S: f64 = 3600.0;
/// Rows remembered to tell a block met twice from a clock set back.
const REMEMBERED: usize = 1024;
/// Intervals that must agree before the usual one is changed.
const AGREEING: u32 = 20;

/// A row with the time as its clock has it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Incoming {
    pub line: u64,
    pub number: u64,
    pub raw_s: f64,
    pub current: Current,
    pub ambient_k: Option<f64>,
    /// The current just before is not known.
    pub after_missing: bool,
}

/// The last row that was taken.
#[derive(Debug, Clone, Copy)]
struct Last {
    raw_s: f64,
    time_s: f64,
    current: f64,
}

#[derive(Debug, Clone, Copy, Default)]
struct Candidate {
    interval_s: f64,
    count: u32,
    line: u64,
    gaps: u64,
    gap_time_s: f64,
}

pub(super) struct Timeline {
    form: TimeForm,
    hour_jumps: HourJumps,
    /// Stamps carry their zone: no hour can jump.
    pub zoned: bool,
    /// A row without a current came before the next one.
    pub missing: bool,
    usual_s: f64,
    factor: f64,
    rows_per_stamp: u32,
    stamp: (f64, u32),
    shift_s: f64,
    first_raw_s: f64,
    last: Option<Last>,
    /// A row whose time is odd: the next row tells what it is.
    pending: Option<Incoming>,
    candidate: Candidate,
    recent: Vec<(f64, f64)>,
    recent_at: usize,
    pub out: VecDeque<Row>,
}

impl Timeline {
    pub fn new(layout: &Layout, options: &Options) -> Self {
        Timeline {
            form: layout.time_form,
            hour_jumps: options.hour_jumps,
            zoned: false,
            missing: false,
            usual_s: layout.interval_s,
            factor: options.gap_factor.max(1.1),
            rows_per_stamp: layout.rows_per_stamp,
            stamp: (f64::NAN, 0),
            shift_s: 0.0,
            first_raw_s: 0.0,
            last: None,
            pending: None,
            candidate: Candidate::default(),
            recent: Vec::new(),
            recent_at: 0,
            out: VecDeque::with_capacity(4),
        }
    }

    /// Takes the next row; rows that are ready come out in `out`.
    pub fn push(&mut self, mut row: Incoming, account: &mut Account) {
        row.after_missing = std::mem::take(&mut self.missing);
        if self.rows_per_stamp > 1 {
            row.raw_s = self.spread(row.raw_s);
        }
        if let Some(held) = self.pending.take() {
            self.decide(held, &row, account);
        }
        self.take(row, account);
    }

    /// The log has ended: nothing more tells what the held row is.
    pub fn finish(&mut self, account: &mut Account) {
        if let Some(held) = self.pending.take() {
            self.accept_held(held, account);
        }
    }

    /// Spreads rows over a stamp that is coarser than they are.
    fn spread(&mut self, raw_s: f64) -> f64 {
        let (stamp, count) = &mut self.stamp;
        if raw_s == *stamp {
            *count += 1;
        } else {
            self.stamp = (raw_s, 0);
            return raw_s;
        }
        let (n, j) = (f64::from(self.rows_per_stamp), f64::from(*count));
        // More rows than usual squeeze into the end of the stamp.
        let place = if j < n { j } else { n - 1.0 / (j - n + 2.0) };
        raw_s + place * self.usual_s
    }

    fn limit(&self) -> f64 {
        self.factor * self.usual_s
    }

    fn take(&mut self, row: Incoming, account: &mut Account) {
        let Some(last) = self.last else {
            let since_1970 = matches!(
                self.form,
                TimeForm::Number {
                    since_1970: true,
                    ..
                }
            );
            if since_1970 || matches!(self.form, TimeForm::Calendar { .. }) {
                self.shift_s = -row.raw_s;
                account.starts_at_unix_s = Some(row.raw_s);
            }
            self.first_raw_s = row.raw_s;
            account.first_time_s = row.raw_s + self.shift_s;
            self.emit(row, false, account);
            return;
        };
        let step = row.raw_s - last.raw_s;
        if step > 0.0 && step <= self.limit() {
            self.learn(step, row.line, None, account);
            self.emit(row, false, account);
        } else if step <= 0.0 && self.is_repeated(&row, &last) {
            let same_current = step < 0.0 || row.current.value == last.current;
            account.duplicates.add(Duplicate {
                line: row.line,
                same_current,
            });
        } else if step < -DAY_S / 2.0 && matches!(self.form, TimeForm::Clock { .. }) {
            self.shift_s += DAY_S;
            account.midnights += 1;
            self.last = Some(Last {
                raw_s: last.raw_s - DAY_S,
                ..last
            });
            self.take(row, account);
        } else {
            self.pending = Some(row);
        }
    }

    /// The same stamp as the row before, or time and current of a row not long ago. A steady
    /// current looks so, too, when an hour is repeated or an elapsed time begins anew: those are
    /// jumps of the clock.
    fn is_repeated(&self, row: &Incoming, last: &Last) -> bool {
        if row.raw_s == last.raw_s {
            return true;
        }
        let elapsed = !matches!(self.form, TimeForm::Calendar { .. });
        let anew = elapsed && row.raw_s <= self.first_raw_s;
        !anew
            && !self.is_hour(last.raw_s, row.raw_s)
            && self.recent.contains(&(row.raw_s, row.current.value))
    }

    /// The row after an odd one tells whether the odd one was a slip.
    fn decide(&mut self, held: Incoming, next: &Incoming, account: &mut Account) {
        let Some(last) = self.last else { return };
        let from_last = next.raw_s - last.raw_s;
        let from_held = next.raw_s - held.raw_s;
        let goes_on = from_last > 0.0 && from_last <= self.limit() + self.usual_s;
        let forward = held.raw_s > last.raw_s;
        let slip = if forward {
            from_held < 0.0 && goes_on
        } else {
            goes_on
        };
        if slip {
            account.bad_rows.add(BadRow {
                line: held.line,
                number: held.number,
                fault: RowFault::StrayTime(self.text(held.raw_s)),
            });
        } else {
            self.accept_held(held, account);
        }
    }

    fn text(&self, raw_s: f64) -> String {
        if matches!(self.form, TimeForm::Calendar { .. }) {
            calendar::stamp(raw_s)
        } else {
            format!("{} s", crate::quantity::format_number(raw_s))
        }
    }

    /// The odd row is real: a gap, or a jump of the clock.
    fn accept_held(&mut self, held: Incoming, account: &mut Account) {
        let Some(last) = self.last else { return };
        let step = held.raw_s - last.raw_s;
        let line = held.line;
        if self.is_hour(last.raw_s, held.raw_s) {
            let hour = if step > 0.0 { -HOUR_S } else { HOUR_S };
            self.shift_s += hour;
            let by_s = -hour;
            account.clock_jumps.add(ClockJump {
                line,
                by_s,
                cause: JumpCause::DaylightSaving,
            });
            self.emit(held, step + hour > self.limit(), account);
        } else if step > 0.0 {
            let gap = Gap {
                line,
                from_s: last.time_s,
                to_s: held.raw_s + self.shift_s,
            };
            account.gaps.add(gap);
            account.gap_time_s += step;
            self.learn(step, line, Some(step), account);
            self.emit(held, true, account);
        } else {
            let elapsed = !matches!(self.form, TimeForm::Calendar { .. });
            let near_zero =
                held.raw_s <= (10.0 * self.usual_s).max(60.0) && held.raw_s < 0.5 * last.raw_s;
            let cause = if elapsed && near_zero {
                JumpCause::Restart
            } else {
                JumpCause::Set
            };
            account.clock_jumps.add(ClockJump {
                line,
                by_s: step - self.usual_s,
                cause,
            });
            // What is known is the order; the usual interval stands for the rest.
            self.shift_s = last.time_s + self.usual_s - held.raw_s;
            self.emit(held, cause == JumpCause::Restart, account);
        }
    }

    /// Daylight saving: an hour, on a Sunday of spring or autumn, in the small hours.
    fn is_hour(&self, from: f64, to: f64) -> bool {
        if self.zoned
            || self.hour_jumps == HourJumps::Keep
            || !matches!(self.form, TimeForm::Calendar { .. })
        {
            return false;
        }
        let day = from.div_euclid(DAY_S);
        let (_, month, _) = calendar::civil(day as i64);
        // 1970-01-01 was a Thursday.
        let sunday = (day + 4.0).rem_euclid(7.0) == 0.0;
        let near = self.limit().max(1.0);
        let (from, to) = (from.rem_euclid(DAY_S), to - day * DAY_S);
        let at = |edge: f64, jump: f64| {
            from < edge && from >= edge - near && to >= edge + jump && to < edge + jump + near
        };
        let ahead = [HOUR_S, 2.0 * HOUR_S].iter().any(|e| at(*e, HOUR_S));
        let back = [2.0 * HOUR_S, 3.0 * HOUR_S].iter().any(|e| at(*e, -HOUR_S));
        sunday && matches!(month, 3 | 4 | 9..=11) && (ahead || back)
    }

    /// Follows a logger that was set to another interval.
    fn learn(&mut self, step: f64, line: u64, gap: Option<f64>, account: &mut Account) {
        if gap.is_none() && (step - self.usual_s).abs() <= 0.3 * self.usual_s {
            self.candidate.count = 0;
            return;
        }
        let c = &mut self.candidate;
        if c.count == 0 || (step - c.interval_s).abs() > 0.2 * c.interval_s {
            *c = Candidate {
                interval_s: step,
                line,
                ..Candidate::default()
            };
        }
        c.count += 1;
        if let Some(gap_s) = gap {
            c.gaps += 1;
            c.gap_time_s += gap_s;
        }
        if c.count < AGREEING {
            return;
        }
        // What looked like gaps was the new interval.
        let c = std::mem::take(&mut self.candidate);
        account.gaps.count = account.gaps.count.saturating_sub(c.gaps);
        account.gaps.first.retain(|g| g.line < c.line);
        account.gap_time_s -= c.gap_time_s;
        let (from_s, to_s) = (self.usual_s, c.interval_s);
        account.interval_changes.add(IntervalChange {
            line: c.line,
            from_s,
            to_s,
        });
        self.usual_s = c.interval_s;
    }

    fn emit(&mut self, row: Incoming, gap_before: bool, account: &mut Account) {
        let time_s = row.raw_s + self.shift_s;
        self.last = Some(Last {
            raw_s: row.raw_s,
            time_s,
            current: row.current.value,
        });
        let seen = (row.raw_s, row.current.value);
        if self.recent.len() < REMEMBERED {
            self.recent.push(seen);
        } else {
            self.recent[self.recent_at] = seen;
            self.recent_at = (self.recent_at + 1) % REMEMBERED;
        }
        account.rows_used += 1;
        account.last_time_s = time_s;
        account.interval_s = self.usual_s;
        let i = row.current;
        let (low, high) = account.current_range_a.unwrap_or((f64::INFINITY, 0.0));
        let highest = high.max(i.value).max(i.max.unwrap_or(0.0));
        account.current_range_a = Some((low.min(i.value), highest));
        self.out.push_back(Row {
            number: row.number,
            line: row.line,
            time_s,
            current_a: i,
            ambient_k: row.ambient_k,
            gap_before: gap_before || row.after_missing,
            interval_s: self.usual_s,
        });
    }
}
