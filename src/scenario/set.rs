//! Numbers and words set in the text of a scenario, by their paths; comments and everything else
//! are kept.

use super::rows::{Row, TABLES, Table, Value};
use super::{ReadError, Scenario, read_text};
use crate::diagnostic::{Problem, Report, nearest};
use crate::physics::closing_current::ClosingCurrent;
use crate::quantity::{Dimension, Quantity};
use std::ops::Range;
use toml_edit::{Array, DocumentMut, Item, TableLike};

/// Keys that stand instead of others: setting the first takes the others out, unless they are set
/// as well.
const INSTEAD: &[(&str, &str, &[&str])] = &[
    ("surroundings", "ambient", &["ambient_points"]),
    ("surroundings", "ambient_points", &["ambient"]),
    ("machine_case", "temperature", &["temperature_points"]),
    ("machine_case", "temperature_points", &["temperature"]),
    ("before", "hot", &["steady_at"]),
    ("before", "steady_at", &["hot"]),
    ("load", "current", &["points", "step", "repeat"]),
    ("load", "points", &["current", "step"]),
    ("start_up", "current", &["points", "step", "repeat"]),
    ("start_up", "points", &["current", "step"]),
    ("history", "current", &["points", "step", "repeat", "load"]),
    ("clamped_terminal", "conductance", &["wire"]),
    ("clamped_terminal", "wire", &["conductance"]),
    ("fixed_contact", "conductance", &["wire"]),
    ("fixed_contact", "wire", &["conductance"]),
    (
        "contact",
        "resistance",
        &["metal", "force", "film_resistance"],
    ),
    ("contact", "metal", &["resistance"]),
    (
        "cooling",
        "posture",
        &["coefficient", "air_speed", "flow_length", "gap"],
    ),
    ("duty", "ambient", &["season"]),
];

/// Key under which a text says what was set in it.
const CHANGED: &str = "changed";

/// The text of a scenario with values set in it, each by the path at which it stands in the file,
/// and what it then says. Its key `changed` tells what was set. `name` stands for the text in
/// messages, `place` for the values.
///
/// # Errors
/// Every problem of the text as it was; else every problem of the values; else what no longer goes
/// together.
pub fn set(
    (name, text): (&str, &str),
    place: &str,
    values: &[(&str, &str)],
) -> Result<(String, Scenario), ReadError> {
    let scenario = read_text(name, text)?;
    if values.is_empty() {
        return Ok((text.to_owned(), scenario));
    }
    let closing = closing_too(&scenario, values);
    let values: Vec<(&str, &str)> = values.iter().copied().chain(closing).collect();
    let values = values.as_slice();
    let text = text.trim_start_matches('\u{feff}').replace("\r\n", "\n");
    let mut sheet = Sheet::new(values);
    let changed = match text.parse::<DocumentMut>() {
        Ok(document) => sheet.write(document, &text),
        Err(_) => Vec::new(),
    };
    let (Some((new, _)), true) = (changed.last(), sheet.problems.is_empty()) else {
        return Err(sheet.report(place));
    };
    match read_text(name, new) {
        Ok(scenario) => Ok((new.clone(), scenario)),
        Err(ReadError::Content(report)) => {
            let left = report.problems().iter();
            let left: Vec<Problem> = left
                .filter_map(|problem| sheet.take(problem, new, &text, &changed))
                .collect();
            Err(match sheet.problems.is_empty() {
                true => ReadError::Content(Report::new(name, &text, left)),
                false => sheet.report(place),
            })
        }
        Err(other) => Err(other),
    }
}

/// The current that it is closed onto, where the load that is set stands in its place: both were the
/// same.
fn closing_too<'v>(
    scenario: &Scenario,
    values: &[(&'v str, &'v str)],
) -> Option<(&'v str, &'v str)> {
    const CLOSING: &str = "closing.current";
    let load = values.iter().find(|(path, _)| *path == "load.current")?;
    let is_set = values.iter().any(|(path, _)| *path == CLOSING);
    let closed_a = match scenario.closing.as_ref()?.current {
        ClosingCurrent::Alternating { rms_a, .. } => rms_a,
        ClosingCurrent::Direct { current_a, .. } => current_a,
        _ => return None,
    };
    let begins_a = scenario.load.piece_after(0.0).at(0.0).0;
    let is_a_current = Quantity::read(load.1, Dimension::Current).is_ok();
    let is_the_same = is_a_current && (closed_a - begins_a).abs() <= 1e-9 * closed_a;
    (is_the_same && !is_set).then_some((CLOSING, load.1))
}

/// What kind of number stands at a path; `None`: words, or a list.
///
/// # Errors
/// A scenario has no such path; the problem spans the path alone.
pub fn kind_at(path: &str) -> Result<Option<Dimension>, Box<Problem>> {
    let target = Target::find(path).map_err(|wrong| Box::new(problem(0..path.len(), wrong)))?;
    Ok(match target.row.value {
        Value::Number(number) => Some(number.dimension),
        _ => None,
    })
}

/// What stands at a path in the text of a scenario, without quotation marks.
pub fn value_at(text: &str, path: &str) -> Option<String> {
    let document = text.parse::<DocumentMut>().ok()?;
    let target = Target::find(path).ok()?;
    let mut at = document.as_item();
    for (name, number) in &target.steps {
        at = at.get(name.as_str())?;
        if let Some(number) = number {
            at = at.get(*number)?;
        }
    }
    let value = at.get(target.row.key)?.as_value()?;
    let plain = value.as_str().map(str::to_owned);
    Some(plain.unwrap_or_else(|| value.to_string().trim().to_owned()))
}

/// What is to be set, one a line, and what is wrong with it.
struct Sheet<'v> {
    values: &'v [(&'v str, &'v str)],
    text: String,
    /// Where each value begins in the text.
    starts: Vec<usize>,
    problems: Vec<Problem>,
}

impl<'v> Sheet<'v> {
    fn new(values: &'v [(&'v str, &'v str)]) -> Sheet<'v> {
        let mut text = String::new();
        let mut starts = Vec::new();
        for (path, value) in values {
            text += &format!("{path}=");
            starts.push(text.len());
            text += &format!("{value}\n");
        }
        Sheet {
            values,
            text,
            starts,
            problems: Vec::new(),
        }
    }

    fn path(&self, k: usize) -> Range<usize> {
        let end = self.starts[k] - 1;
        end - self.values[k].0.len()..end
    }

    fn report(self, place: &str) -> ReadError {
        ReadError::Content(Report::new(place, &self.text, self.problems))
    }

    /// The text after each value that could be put in, with the number of the value; the last one
    /// says what was set.
    fn write(&mut self, mut document: DocumentMut, text: &str) -> Vec<(String, Option<usize>)> {
        let mut changed = vec![(text.to_owned(), None)];
        for k in 0..self.values.len() {
            let (path, value) = self.values[k];
            let is_again = self.values[..k].iter().any(|(before, _)| *before == path);
            let written = match is_again {
                true => Err((
                    "it is set twice".to_owned(),
                    "the second time".to_owned(),
                    None,
                )),
                false => Target::find(path).and_then(|target| {
                    target.write(&mut document, value, &|key| {
                        let path = format!("{}{key}", target.before_key(path));
                        self.values.iter().any(|(other, _)| *other == path)
                    })
                }),
            };
            match written {
                Ok(()) => changed.push((document.to_string(), Some(k))),
                Err(wrong) => self.problems.push(problem(self.path(k), wrong)),
            }
        }
        self.note(&mut document);
        changed.push((document.to_string(), None));
        changed
    }

    /// What was set, in the text itself; of a path that was set before the last counts.
    fn note(&self, document: &mut DocumentMut) {
        let mut list = Array::new();
        if let Some(old) = document.get(CHANGED).and_then(Item::as_array) {
            let is_old = |line: &str| {
                let path = line.split(" = ").next();
                !self.values.iter().any(|(new, _)| Some(*new) == path)
            };
            list.extend(
                old.iter()
                    .filter_map(|v| v.as_str())
                    .filter(|line| is_old(line)),
            );
        }
        let lines = self.values.iter();
        list.extend(lines.map(|(path, value)| format!("{path} = {}", unquoted(value))));
        document.insert(CHANGED, toml_edit::value(list));
    }

    /// Takes a problem of the text that a value makes; any other is handed back at its place in the
    /// text as it was.
    fn take(
        &mut self,
        problem: &Problem,
        text: &str,
        original: &str,
        changed: &[(String, Option<usize>)],
    ) -> Option<Problem> {
        let mut span = problem.span.clone();
        for pair in changed.windows(2).rev() {
            let (before, (after, by)) = (&pair[0].0, &pair[1]);
            let kept = alike(before.bytes(), after.bytes());
            let shorter = before.len().min(after.len()) - kept;
            let tail = alike(before.bytes().rev(), after.bytes().rev()).min(shorter);
            let new = kept..after.len() - tail;
            if let (Some(k), true) = (
                by,
                span.start < new.end.max(kept + 1) && new.start < span.end,
            ) {
                let start = self.starts[*k];
                let value = self.values[*k].1;
                let found = text
                    .get(problem.span.clone())
                    .unwrap_or("")
                    .trim_matches('"');
                let at = value.find(found).filter(|_| !found.is_empty());
                let place = match at {
                    Some(at) => start + at..start + at + found.len(),
                    None => start..start + value.len(),
                };
                self.problems.push(Problem {
                    span: place,
                    also: None,
                    ..problem.clone()
                });
                return None;
            }
            if span.start >= new.end {
                let back = |at: usize| (at + before.len()).saturating_sub(after.len());
                span = back(span.start)..back(span.end);
            }
        }
        let end = span.end.min(original.len());
        Some(Problem {
            span: span.start.min(end)..end,
            also: None,
            ..problem.clone()
        })
    }
}

fn alike(a: impl Iterator<Item = u8>, b: impl Iterator<Item = u8>) -> usize {
    a.zip(b).take_while(|(a, b)| a == b).count()
}

/// What is wrong, what is said beside it, and what to write instead.
type Wrong = (String, String, Option<String>);

fn problem(span: Range<usize>, (message, label, help): Wrong) -> Problem {
    let mut problem = Problem::new(span, message).label(label);
    problem.help.extend(help);
    problem
}

/// A key of a scenario, by its path.
struct Target {
    /// The tables on the way, with the number of an entry of a list.
    steps: Vec<(String, Option<usize>)>,
    table: &'static Table,
    row: &'static Row,
}

impl Target {
    fn find(path: &str) -> Result<Target, Wrong> {
        let mut steps: Vec<(String, Option<usize>)> = Vec::new();
        for step in path.split('.') {
            let entry = step.strip_suffix(']').and_then(|s| s.split_once('['));
            steps.push(match entry {
                Some((name, number)) => (name.to_owned(), number.parse().ok()),
                None => (step.to_owned(), None),
            });
        }
        let key = steps.pop().map_or(String::new(), |(key, _)| key);
        let names: Vec<&str> = steps.iter().map(|(name, _)| name.as_str()).collect();
        let of = names.join(".");
        let table = TABLES.iter().find(|table| table.path == of);
        let row = table.and_then(|table| Some((table, table.row(&key)?)));
        if let Some((table, row)) = row.filter(|(_, row)| row.key != CHANGED) {
            return Ok(Target { steps, table, row });
        }
        let known: Vec<String> = TABLES.iter().flat_map(paths).collect();
        let inside = table.map_or(Vec::new(), |table| paths(table).collect());
        let plain = [of.as_str(), &key].join(if of.is_empty() { "" } else { "." });
        let ends = format!(".{key}");
        let near = nearest(&plain, inside.iter().map(String::as_str))
            .or_else(|| nearest(&plain, known.iter().map(String::as_str)))
            .or_else(|| {
                known
                    .iter()
                    .find(|p| p.ends_with(&ends))
                    .map(String::as_str)
            });
        let help = match (near, table) {
            (Some(near), _) => Some(format!("did you mean `{near}`?")),
            (None, Some(_)) if !of.is_empty() => Some(format!("known here: {}", inside.join(", "))),
            _ => Some("paths are table and key, as in `strip.length`".to_owned()),
        };
        let message = format!("a scenario has no number or word `{path}`");
        Err((message, "unknown".to_owned(), help))
    }

    /// The path up to the key.
    fn before_key<'p>(&self, path: &'p str) -> &'p str {
        path.strip_suffix(self.row.key).unwrap_or(path)
    }

    /// Puts a value into a document; `is_set` knows the keys of its table that are set as well.
    fn write(
        &self,
        document: &mut DocumentMut,
        value: &str,
        is_set: &dyn Fn(&str) -> bool,
    ) -> Result<(), Wrong> {
        let mut at: &mut dyn TableLike = document.as_table_mut();
        let mut path = String::new();
        for (name, number) in &self.steps {
            path = [path.as_str(), name].join(if path.is_empty() { "" } else { "." });
            let is_list = TABLES.iter().any(|t| t.path == path && t.list);
            at = match (is_list, number) {
                (false, None) => {
                    let item = at.entry(name).or_insert_with(toml_edit::table);
                    item.as_table_like_mut().ok_or_else(|| no_entry(&path, 0))?
                }
                (false, Some(_)) => {
                    let help = format!("write it without the number, `{path}`");
                    let what = format!("there is only one [{path}]");
                    return Err((what, "one of a list".to_owned(), Some(help)));
                }
                (true, number) => entry(at.get_mut(name), &path, *number)?,
            };
        }
        for (table, key, others) in INSTEAD {
            if (*table, *key) == (self.table.path, self.row.key) {
                for other in others.iter().filter(|other| !is_set(other)) {
                    at.remove(other);
                }
            }
        }
        let mut value = written(self.row.value, unquoted(value));
        match at.get_mut(self.row.key) {
            // In place, so that comments above and beside it stay.
            Some(old) => {
                if let Some(old) = old.as_value() {
                    *value.decor_mut() = old.decor().clone();
                }
                *old = Item::Value(value);
            }
            None => drop(at.insert(self.row.key, Item::Value(value))),
        }
        Ok(())
    }
}

/// One table of a list of tables.
fn entry<'d>(
    list: Option<&'d mut Item>,
    name: &str,
    number: Option<usize>,
) -> Result<&'d mut dyn TableLike, Wrong> {
    let count = match &list {
        Some(Item::ArrayOfTables(tables)) => tables.len(),
        Some(Item::Value(toml_edit::Value::Array(tables))) => tables.len(),
        _ => 0,
    };
    let Some(number) = number.filter(|number| *number < count) else {
        return Err(no_entry(name, count));
    };
    let table: Option<&mut dyn TableLike> = match list {
        Some(Item::ArrayOfTables(tables)) => tables.get_mut(number).map(|t| t as _),
        Some(Item::Value(toml_edit::Value::Array(tables))) => {
            let table = tables.get_mut(number).and_then(|t| t.as_inline_table_mut());
            table.map(|t| t as _)
        }
        _ => None,
    };
    table.ok_or_else(|| no_entry(name, count))
}

fn no_entry(name: &str, count: usize) -> Wrong {
    let help = match count {
        0 => None,
        1 => Some(format!("write `{name}[0]`")),
        _ => Some(format!("write `{name}[0]` to `{name}[{}]`", count - 1)),
    };
    (
        format!("the scenario has {count} of `{name}`"),
        "which of them?".to_owned(),
        help,
    )
}

fn paths(table: &'static Table) -> impl Iterator<Item = String> {
    let dot = if table.path.is_empty() { "" } else { "." };
    let rows = table.rows().filter(|row| row.key != CHANGED);
    rows.map(move |row| format!("{}{dot}{}", table.path, row.key))
}

/// A text without the quotation marks that a file would have around it.
fn unquoted(text: &str) -> &str {
    let text = text.trim();
    let inner = text.strip_prefix('"').and_then(|t| t.strip_suffix('"'));
    inner.unwrap_or(text)
}

/// A value as a file has it; what does not fit its row is left to the reader of the file.
fn written(row: Value, text: &str) -> toml_edit::Value {
    let other = match row {
        Value::Flag(..) => text.parse::<bool>().ok().map(Into::into),
        Value::Whole(_) | Value::WholeOr(..) => text.parse::<i64>().ok().map(Into::into),
        Value::List(..) | Value::Pairs(_) if text.starts_with('[') => text.parse().ok(),
        Value::List(..) => Some(text.split(',').map(str::trim).collect::<Array>().into()),
        _ => None,
    };
    other.unwrap_or_else(|| text.into())
}
