//! A table of a file read by its rows.

use super::{Need, Number, Row, Slot, Table, Value, number_of};
use crate::document::{Bounds, Read, TableReader, example_within};
use crate::scenario::Scenario;

/// A table being read, what is known of its keys, and which entry of a list it is.
pub(in crate::scenario) struct Fields<'t, 'd> {
    /// The table.
    pub t: &'t TableReader<'d>,
    table: &'static Table,
    index: usize,
}

impl Table {
    /// Puts the defaults of a table that is not there into a scenario.
    pub(in crate::scenario) fn defaults(&self, s: &mut Scenario) -> bool {
        self.rows()
            .fold(true, |well, row| match (row.value, row.need) {
                (
                    Value::Number(Number {
                        slot: Slot::Here(at),
                        ..
                    }),
                    Need::Or(default),
                ) => store(at(s, 0), Some(default)) && well,
                _ => well,
            })
    }
}

impl<'t, 'd> Fields<'t, 'd> {
    /// A table with its rows.
    pub(in crate::scenario) fn new(t: &'t TableReader<'d>, table: &'static Table) -> Self {
        Fields { t, table, index: 0 }
    }

    /// The entry of a list of tables with this number.
    pub(in crate::scenario) fn entry(
        t: &'t TableReader<'d>,
        table: &'static Table,
        index: usize,
    ) -> Self {
        Fields { t, table, index }
    }

    /// Read every key that has a place of its own into the scenario; false after a problem.
    pub(in crate::scenario) fn read(&self, s: &mut Scenario) -> bool {
        let mut whole = true;
        for row in self.table.rows() {
            whole &= self.read_row(row, s);
        }
        whole
    }

    /// Read one key into the scenario; false after a problem.
    pub(in crate::scenario) fn read_key(&self, key: &str, s: &mut Scenario) -> bool {
        self.table.row(key).is_some_and(|row| self.read_row(row, s))
    }

    /// Ask for every key, so that none of them is unknown.
    pub(in crate::scenario) fn ask_all(&self) {
        for row in self.table.rows() {
            self.t.has(row.key);
        }
    }

    fn read_row(&self, row: &'static Row, s: &mut Scenario) -> bool {
        let (t, key) = (self.t, row.key);
        match row.value {
            Value::Number(n) => self.read_number(row, n, s),
            Value::Words(words) => {
                if !t.has(key) {
                    return self.lacks(row, &format!("\"{}\"", words.first().map_or("", |w| w.0)));
                }
                let set = t.choice(key, words).map(|read| read.value);
                set.inspect(|set| set(s, self.index)).is_some()
            }
            Value::Flag(at, default) => {
                let flag = match t.has(key) {
                    true => t.boolean(key).map(|read| read.value),
                    false => Some(default),
                };
                store(at(s, self.index), flag)
            }
            Value::List(dimension, bounds, at) => {
                !t.has(key) || store(at(s, self.index), t.quantities(key, dimension, bounds))
            }
            Value::Texts(at) => !t.has(key) || store(at(s, self.index), t.texts(key)),
            Value::Text(_) | Value::Whole(_) | Value::WholeOr(..) | Value::Pairs(_) => true,
        }
    }

    fn read_number(&self, row: &'static Row, n: Number, s: &mut Scenario) -> bool {
        let (t, k) = (self.t, self.index);
        match n.slot {
            Slot::ByHand => true,
            Slot::Maybe(at) => {
                if at(s, k).is_none() || !t.has(row.key) {
                    return true;
                }
                let read = self.value(row.key, n, n.bounds);
                store(at(s, k), read.map(Some))
            }
            Slot::Here(at) => {
                if at(s, k).is_none() {
                    return true;
                }
                let mut bounds = n.bounds;
                let default = match row.need {
                    Need::Or(default) => Some(default),
                    Need::As(path) => number_of(path, s),
                    Need::UpTo(path) => {
                        let most = number_of(path, s);
                        match most {
                            Some(most) => bounds = bounds.up_to(most),
                            // What it is held to has a problem of its own.
                            None => {
                                t.has(row.key);
                                return false;
                            }
                        }
                        most
                    }
                    _ => None,
                };
                if t.has(row.key) {
                    return store(at(s, k), self.value(row.key, n, bounds));
                }
                match default {
                    Some(default) => store(at(s, k), Some(default)),
                    None => self.lacks(row, &example_within(n.dimension, n.bounds)),
                }
            }
        }
    }

    /// A missing key is reported where it is needed; whether the table may go without it.
    fn lacks(&self, row: &Row, usual: &str) -> bool {
        match row.need {
            Need::Needed => self.t.missing(row.key, usual),
            Need::Like(example) => self.t.missing(row.key, example),
            Need::Unless(other) if !self.t.has(other) => self.t.missing(row.key, usual),
            _ => return true,
        }
        false
    }

    fn value(&self, key: &'static str, n: Number, bounds: Bounds) -> Option<f64> {
        if let Some((word, means)) = n.word
            && self
                .t
                .word(key)
                .is_some_and(|w| w.eq_ignore_ascii_case(word))
        {
            return Some(means);
        }
        self.t.optional(key, n.dimension, bounds).map(|r| r.value)
    }

    fn row_of(&self, key: &'static str) -> Option<(&'static Row, Number)> {
        let row = self.table.row(key)?;
        match row.value {
            Value::Number(n) => Some((row, n)),
            _ => None,
        }
    }

    /// The number of a key, if it is there.
    pub(in crate::scenario) fn number(&self, key: &'static str) -> Option<Read<f64>> {
        let (_, n) = self.row_of(key)?;
        self.t.optional(key, n.dimension, n.bounds)
    }

    /// The number of a key that must be there.
    pub(in crate::scenario) fn needed(&self, key: &'static str) -> Option<Read<f64>> {
        let (row, n) = self.row_of(key)?;
        if !self.t.has(key) {
            let usual = example_within(n.dimension, n.bounds);
            let example = if let Need::Like(like) = row.need {
                like
            } else {
                &usual
            };
            self.t.missing(key, example);
            return None;
        }
        self.number(key)
    }

    /// The number of a key, its default where it is missing; `None` only after a problem.
    pub(in crate::scenario) fn number_or_default(&self, key: &'static str) -> Option<f64> {
        let (row, n) = self.row_of(key)?;
        match row.need {
            Need::Or(default) if !self.t.has(key) => Some(default),
            _ => self.value(key, n, n.bounds),
        }
    }

    /// `Some(None)`: the key is not there; `None`: there, but with a problem.
    pub(in crate::scenario) fn maybe(&self, key: &'static str) -> Option<Option<f64>> {
        let (_, n) = self.row_of(key)?;
        match self.t.has(key) {
            true => self.value(key, n, n.bounds).map(Some),
            false => Some(None),
        }
    }

    /// What one of a key's words means here, if it is there.
    pub(in crate::scenario) fn choice<T: Copy>(
        &self,
        key: &'static str,
        meanings: &[T],
    ) -> Option<Read<T>> {
        let Value::Words(words) = self.table.row(key)?.value else {
            return None;
        };
        let words: Vec<(&str, T)> = words
            .iter()
            .zip(meanings)
            .map(|((word, _), meaning)| (*word, *meaning))
            .collect();
        self.t.choice(key, &words)
    }

    /// The pairs of a key, if it is there.
    pub(in crate::scenario) fn pairs(
        &self,
        key: &'static str,
    ) -> Option<Vec<(Read<f64>, Read<f64>)>> {
        match self.table.row(key)?.value {
            Value::Pairs([a, b]) => self.t.pairs(key, (a.0, b.0), (a.1, b.1)),
            _ => None,
        }
    }

    /// The text of a key that must be there.
    pub(in crate::scenario) fn text(&self, key: &'static str) -> Option<Read<String>> {
        match self.table.row(key)?.value {
            Value::Text(example) => self.t.required_text(key, example),
            _ => None,
        }
    }

    /// The text of a key, if it is there.
    pub(in crate::scenario) fn text_if_any(&self, key: &'static str) -> Option<Read<String>> {
        match self.table.row(key)?.value {
            Value::Text(example) => self.t.text(key, example),
            _ => None,
        }
    }
}

fn store<T>(place: Option<&mut T>, value: Option<T>) -> bool {
    match (place, value) {
        (Some(place), Some(value)) => {
            *place = value;
            true
        }
        _ => false,
    }
}
