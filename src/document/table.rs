//! One table of a file: keys are asked for one by one; what nobody asked for is unknown.

use super::{Asked, Document};
use crate::diagnostic::{Problem, nearest};
use std::cell::{Cell, RefCell};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// A table being read.
#[derive(Debug)]
pub struct TableReader<'d> {
    document: &'d Document<'d>,
    table: &'d DeTable<'d>,
    span: Range<usize>,
    path: String,
    asked: RefCell<Vec<&'static str>>,
    /// Missing keys with their problems, held back until it is known whether one is only misspelt.
    absent: RefCell<Vec<(Vec<String>, Problem)>>,
    finished: Cell<bool>,
}

impl<'d> TableReader<'d> {
    pub(super) fn new<'t: 'd>(
        document: &'d Document<'t>,
        table: &'d DeTable<'t>,
        span: Range<usize>,
        path: String,
    ) -> TableReader<'d> {
        TableReader {
            document,
            table,
            span,
            path,
            asked: RefCell::new(Vec::new()),
            absent: RefCell::new(Vec::new()),
            finished: Cell::new(false),
        }
    }

    /// The file it belongs to.
    pub fn document(&self) -> &'d Document<'d> {
        self.document
    }

    /// Where its header or braces stand.
    pub fn span(&self) -> Range<usize> {
        self.span.clone()
    }

    /// Dotted path, empty for the file itself.
    pub fn path(&self) -> &str {
        &self.path
    }

    /// The head of a list of tables inside it: `[[load.step]]`.
    pub fn head_of(&self, key: &str) -> String {
        format!("[[{}]]", self.plain_path_of(key))
    }

    /// Dotted path of one of its keys, without places in lists.
    pub(super) fn plain_path_of(&self, key: &str) -> String {
        without_indices(&self.path_of(key))
    }

    /// Add a problem.
    pub fn report(&self, problem: Problem) {
        self.document.report(problem);
    }

    /// Dotted path of one of its keys.
    pub fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.path)
        }
    }

    /// `[strip]`, `[[strip.layer]] no. 2`, or "the file".
    pub fn name(&self) -> String {
        if self.path.is_empty() {
            return "the file".to_owned();
        }
        let index = self.path.strip_suffix(']').and_then(|p| p.rsplit_once('['));
        match index.and_then(|(_, i)| i.parse::<usize>().ok()) {
            Some(i) => format!("[[{}]] no. {}", without_indices(&self.path), i + 1),
            None => format!("[{}]", self.path),
        }
    }

    pub(super) fn get(&self, key: &'static str) -> Option<&'d Spanned<DeValue<'d>>> {
        self.ask(key, || None);
        self.asked.borrow_mut().push(key);
        self.table.get(key)
    }

    /// Whether a key is there.
    pub fn has(&self, key: &'static str) -> bool {
        self.ask(key, || None);
        self.asked.borrow_mut().push(key);
        self.table.contains_key(key)
    }

    /// Whether the value of a key is a text.
    pub fn is_text(&self, key: &'static str) -> bool {
        self.table.get(key).is_some_and(|v| v.get_ref().is_str())
    }

    /// The text of a key, without judging it.
    pub fn word(&self, key: &'static str) -> Option<&'d str> {
        self.get(key)?.get_ref().as_str().map(str::trim)
    }

    /// Where the value of a key stands; the table itself when it is missing.
    pub fn span_of(&self, key: &str) -> Range<usize> {
        self.table.get(key).map_or(self.span.clone(), Spanned::span)
    }

    /// Report a missing key, with a line as it could stand.
    pub fn missing(&self, key: &str, example: &str) {
        let problem = Problem::new(self.span.clone(), format!("{} lacks `{key}`", self.name()))
            .label("needed here")
            .help(format!("add a line: `{key} = {example}`"));
        self.lacks(&[key], problem);
    }

    /// Hold a problem back that says that one of some keys is missing, until it is known whether
    /// one of them is only misspelt.
    pub fn lacks(&self, keys: &[&str], problem: Problem) {
        if self.finished.get() {
            self.report(problem);
        } else {
            let keys = keys.iter().map(|k| (*k).to_owned()).collect();
            self.absent.borrow_mut().push((keys, problem));
        }
    }

    pub(super) fn wrong_kind(&self, value: &Spanned<DeValue<'_>>, wanted: &str, example: &str) {
        let found = match value.get_ref() {
            DeValue::String(_) => "a text",
            DeValue::Integer(_) | DeValue::Float(_) => "a bare number",
            DeValue::Boolean(_) => "true or false",
            DeValue::Datetime(_) => "a date or time of day",
            DeValue::Array(_) => "a list",
            DeValue::Table(_) => "a table",
        };
        self.report(
            Problem::new(value.span(), format!("{wanted} belongs here"))
                .label(format!("found {found}"))
                .help(format!("for example `{example}`")),
        );
    }

    /// A table, optional.
    pub fn table(&self, key: &'static str) -> Option<TableReader<'d>> {
        self.ask(key, || Some(Asked::Table));
        let value = self.get(key)?;
        match value.get_ref() {
            DeValue::Table(t) => Some(TableReader::new(
                self.document,
                t,
                value.span(),
                self.path_of(key),
            )),
            DeValue::Array(items) if items.iter().any(|i| i.get_ref().is_table()) => {
                let path = self.path_of(key);
                self.report(
                    Problem::new(value.span(), format!("there is only one `{path}`"))
                        .label("double brackets make a list of tables")
                        .help(format!("write its head with single brackets: `[{path}]`")),
                );
                None
            }
            _ => {
                self.wrong_kind(value, "a table", &format!("[{}]", self.path_of(key)));
                None
            }
        }
    }

    /// A table, required.
    pub fn required_table(&self, key: &'static str) -> Option<TableReader<'d>> {
        if self.get(key).is_none() {
            let path = self.path_of(key);
            let problem = Problem::new(
                self.span.clone(),
                format!("{} lacks the table [{path}]", self.name()),
            )
            .label("needed")
            .help(format!(
                "add `[{path}]`; `relatch new latch` prints a whole starter file"
            ));
            self.lacks(&[key], problem);
            return None;
        }
        self.table(key)
    }

    /// An array of tables (`[[key]]`), empty when missing.
    pub fn tables(&self, key: &'static str) -> Vec<TableReader<'d>> {
        self.ask(key, || Some(Asked::Tables));
        let Some(value) = self.get(key) else {
            return Vec::new();
        };
        let DeValue::Array(array) = value.get_ref() else {
            let head = self.head_of(key);
            if value.get_ref().is_table() {
                let path = self.path_of(key);
                self.report(
                    Problem::new(value.span(), format!("`{path}` is a list of tables"))
                        .label("single brackets make one table")
                        .help(format!("write each head with double brackets: `{head}`")),
                );
            } else {
                self.wrong_kind(value, "a list of tables", &head);
            }
            return Vec::new();
        };
        if array.is_empty() {
            self.report(
                Problem::new(value.span(), format!("`{}` is empty", self.path_of(key)))
                    .help("leave it out, or give it entries"),
            );
        }
        let mut list = Vec::new();
        for (i, item) in array.iter().enumerate() {
            match item.get_ref() {
                DeValue::Table(t) => {
                    let path = format!("{}[{i}]", self.path_of(key));
                    list.push(TableReader::new(self.document, t, item.span(), path));
                }
                _ => self.wrong_kind(item, "a table", &self.head_of(key)),
            }
        }
        list
    }

    /// Report what is missing, and every key that nobody asked for with the nearest known one. A
    /// missing key that is only misspelt is reported once, where it stands.
    pub fn finish(&self) {
        self.finished.set(true);
        let asked = self.asked.borrow();
        let mut known: Vec<&str> = asked.to_vec();
        known.sort_unstable();
        known.dedup();
        let mut meant = Vec::new();
        for (key, _) in self.table.iter() {
            if asked.iter().any(|a| a == key.get_ref()) {
                continue;
            }
            // A missing key is the likeliest meaning.
            let absent = self.absent.borrow();
            let near = nearest(
                key.get_ref(),
                absent.iter().flat_map(|(k, _)| k).map(String::as_str),
            )
            .or_else(|| nearest(key.get_ref(), known.iter().copied()));
            let problem = Problem::new(
                key.span(),
                format!("{} has no key `{}`", self.name(), key.get_ref()),
            )
            .label("unknown key");
            self.report(match near {
                Some(near) => {
                    meant.push(near.to_owned());
                    problem.help(format!("did you mean `{near}`?"))
                }
                None => problem.help(format!("known keys here: {}", known.join(", "))),
            });
        }
        for (keys, problem) in self.absent.take() {
            if !keys.iter().any(|k| meant.contains(k)) {
                self.report(problem);
            }
        }
    }
}

/// `load.step` of `load.step[0]`.
fn without_indices(path: &str) -> String {
    path.split('.')
        .map(|step| step.split('[').next().unwrap_or(step))
        .collect::<Vec<_>>()
        .join(".")
}
