//! One table of a file: keys are asked for one by one; what nobody asked for is unknown.

use super::{Bounds, Document, Noted, Read};
use crate::diagnostic::{Problem, nearest};
use crate::quantity::{Dimension, Quantity, format_number, format_si};
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
    absent: RefCell<Vec<(String, Problem)>>,
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

    /// Add a problem.
    pub fn report(&self, problem: Problem) {
        self.document.report(problem);
    }

    fn path_of(&self, key: &str) -> String {
        if self.path.is_empty() {
            key.to_owned()
        } else {
            format!("{}.{key}", self.path)
        }
    }

    /// `[strip]`, or "the file".
    fn name(&self) -> String {
        if self.path.is_empty() {
            "the file".to_owned()
        } else {
            format!("[{}]", self.path)
        }
    }

    fn get(&self, key: &'static str) -> Option<&'d Spanned<DeValue<'d>>> {
        self.asked.borrow_mut().push(key);
        self.table.get(key)
    }

    /// Whether a key is there.
    pub fn has(&self, key: &'static str) -> bool {
        self.asked.borrow_mut().push(key);
        self.table.contains_key(key)
    }

    /// Whether the value of a key is a text.
    pub fn is_text(&self, key: &'static str) -> bool {
        self.table.get(key).is_some_and(|v| v.get_ref().is_str())
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
        self.lacks(key, problem);
    }

    /// Hold a problem about a missing key back until the table is finished.
    fn lacks(&self, key: &str, problem: Problem) {
        if self.finished.get() {
            self.report(problem);
        } else {
            self.absent.borrow_mut().push((key.to_owned(), problem));
        }
    }

    fn wrong_kind(&self, value: &Spanned<DeValue<'_>>, wanted: &str, example: &str) {
        let found = value.get_ref().type_str();
        self.report(
            Problem::new(value.span(), format!("{wanted} belongs here"))
                .label(format!(
                    "found {} {found}",
                    if found.starts_with(['a', 'i']) {
                        "an"
                    } else {
                        "a"
                    }
                ))
                .help(format!("for example `{example}`")),
        );
    }

    /// A quantity with its unit, optional.
    pub fn optional(
        &self,
        key: &'static str,
        dimension: Dimension,
        bounds: Bounds,
    ) -> Option<Read<f64>> {
        let value = self.get(key)?;
        self.quantity_in(&self.path_of(key), value, dimension, 0, bounds)
    }

    /// A quantity with its unit, required.
    pub fn required(
        &self,
        key: &'static str,
        dimension: Dimension,
        bounds: Bounds,
    ) -> Option<Read<f64>> {
        if self.get(key).is_none() {
            let example = example_of(dimension);
            self.missing(key, &example);
            return None;
        }
        self.optional(key, dimension, bounds)
    }

    /// A quantity with its unit, or a default where the key is missing; `None` only after a problem.
    pub fn or(
        &self,
        key: &'static str,
        dimension: Dimension,
        bounds: Bounds,
        default: f64,
    ) -> Option<f64> {
        if self.get(key).is_none() {
            return Some(default);
        }
        self.optional(key, dimension, bounds).map(|r| r.value)
    }

    /// One value as a quantity (`per_kelvin`: divided by that power of kelvin).
    pub fn quantity_in(
        &self,
        path: &str,
        value: &Spanned<DeValue<'_>>,
        dimension: Dimension,
        per_kelvin: u8,
        bounds: Bounds,
    ) -> Option<Read<f64>> {
        let span = value.span();
        let quantity = match value.get_ref() {
            DeValue::String(text) => match Quantity::read_per_kelvin(text, dimension, per_kelvin) {
                Ok(q) => q,
                Err(e) => {
                    let whole = format!("{} belongs here", dimension.name());
                    self.report(Problem::new(span, whole).label(e.found()).help(e.help()));
                    return None;
                }
            },
            DeValue::Integer(_) | DeValue::Float(_) if dimension == Dimension::Fraction => {
                Quantity {
                    value_si: self.bare_number(value)?,
                    standard_uncertainty_si: None,
                }
            }
            DeValue::Integer(_) | DeValue::Float(_) => {
                let bare = self.document.excerpt(value.span()).trim().to_owned();
                // The unit of the example is the one such numbers usually have.
                let unit = dimension
                    .example()
                    .split_once(' ')
                    .map_or("", |(_, unit)| unit);
                self.report(
                    Problem::new(span, format!("{} needs a unit", dimension.name()))
                        .label("a bare number")
                        .help(format!("write it as text with a unit: `\"{bare} {unit}\"`")),
                );
                return None;
            }
            _ => {
                self.wrong_kind(value, dimension.name(), &example_of(dimension));
                return None;
            }
        };
        let v = quantity.value_si;
        if !bounds.allows(v) {
            self.report(out_of_bounds(span, v, dimension, bounds));
            return None;
        }
        if let Some(standard_uncertainty_si) = quantity.standard_uncertainty_si {
            self.document.note_tolerance(Noted {
                path: path.to_owned(),
                value_si: v,
                standard_uncertainty_si,
            });
        }
        Some(Read { value: v, span })
    }

    fn bare_number(&self, value: &Spanned<DeValue<'_>>) -> Option<f64> {
        let text = self.document.excerpt(value.span()).trim().replace('_', "");
        match text.parse::<f64>() {
            Ok(v) if v.is_finite() => Some(v),
            _ => {
                self.report(
                    Problem::new(value.span(), "a finite number belongs here")
                        .label(format!("found `{text}`"))
                        .help("write a number such as `0.6`"),
                );
                None
            }
        }
    }

    /// A plain number without unit (or a percentage as text), optional.
    pub fn fraction(&self, key: &'static str, bounds: Bounds) -> Option<Read<f64>> {
        self.optional(key, Dimension::Fraction, bounds)
    }

    /// A text, optional.
    pub fn text(&self, key: &'static str, example: &str) -> Option<Read<String>> {
        let value = self.get(key)?;
        match value.get_ref() {
            DeValue::String(s) => Some(Read {
                value: s.to_string(),
                span: value.span(),
            }),
            _ => {
                self.wrong_kind(value, "a text", example);
                None
            }
        }
    }

    /// A text, required.
    pub fn required_text(&self, key: &'static str, example: &str) -> Option<Read<String>> {
        if self.get(key).is_none() {
            self.missing(key, example);
            return None;
        }
        self.text(key, example)
    }

    /// True or false, optional.
    pub fn boolean(&self, key: &'static str) -> Option<Read<bool>> {
        let value = self.get(key)?;
        match value.get_ref() {
            DeValue::Boolean(b) => Some(Read {
                value: *b,
                span: value.span(),
            }),
            _ => {
                self.wrong_kind(value, "true or false", "true");
                None
            }
        }
    }

    /// A whole number, optional.
    pub fn whole(&self, key: &'static str, most: u32) -> Option<Read<u32>> {
        let value = self.get(key)?;
        if let DeValue::Integer(i) = value.get_ref()
            && let Ok(v) = u32::from_str_radix(i.as_str(), i.radix())
            && (1..=most).contains(&v)
        {
            return Some(Read {
                value: v,
                span: value.span(),
            });
        }
        self.report(
            Problem::new(
                value.span(),
                format!("a whole number from 1 to {most} belongs here"),
            )
            .label(format!("found `{}`", self.document.excerpt(value.span()))),
        );
        None
    }

    /// One of several words, optional. `None` after a problem or when it is missing.
    pub fn choice<T: Copy>(&self, key: &'static str, choices: &[(&str, T)]) -> Option<Read<T>> {
        let read = self.text(key, &format!("\"{}\"", choices.first().map_or("", |c| c.0)))?;
        if let Some((_, value)) = choices
            .iter()
            .find(|(word, _)| word.eq_ignore_ascii_case(read.value.trim()))
        {
            return Some(Read {
                value: *value,
                span: read.span,
            });
        }
        let words: Vec<String> = choices.iter().map(|(w, _)| format!("\"{w}\"")).collect();
        let mut problem = Problem::new(read.span, format!("`{key}` does not know this word"))
            .label("unknown")
            .help(format!("allowed: {}", words.join(", ")));
        if let Some(near) = nearest(&read.value, choices.iter().map(|c| c.0)) {
            problem = problem.help(format!("did you mean \"{near}\"?"));
        }
        self.report(problem);
        None
    }

    /// One of several words, or a default where the key is missing; `None` only after a problem.
    pub fn choice_or<T: Copy>(
        &self,
        key: &'static str,
        choices: &[(&str, T)],
        default: T,
    ) -> Option<T> {
        if self.has(key) {
            self.choice(key, choices).map(|r| r.value)
        } else {
            Some(default)
        }
    }

    /// A table, optional.
    pub fn table(&self, key: &'static str) -> Option<TableReader<'d>> {
        let value = self.get(key)?;
        match value.get_ref() {
            DeValue::Table(t) => Some(TableReader::new(
                self.document,
                t,
                value.span(),
                self.path_of(key),
            )),
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
            self.lacks(key, problem);
            return None;
        }
        self.table(key)
    }

    /// An array of tables (`[[key]]`), empty when missing.
    pub fn tables(&self, key: &'static str) -> Vec<TableReader<'d>> {
        let Some(value) = self.get(key) else {
            return Vec::new();
        };
        let DeValue::Array(array) = value.get_ref() else {
            self.wrong_kind(
                value,
                "a list of tables",
                &format!("[[{}]]", self.path_of(key)),
            );
            return Vec::new();
        };
        let mut list = Vec::new();
        for (i, item) in array.iter().enumerate() {
            match item.get_ref() {
                DeValue::Table(t) => {
                    let path = format!("{}[{i}]", self.path_of(key));
                    list.push(TableReader::new(self.document, t, item.span(), path));
                }
                _ => self.wrong_kind(item, "a table", &format!("[[{}]]", self.path_of(key))),
            }
        }
        list
    }

    /// The items of an array, `None` when missing or not an array.
    pub fn items(&self, key: &'static str, example: &str) -> Option<Vec<&'d Spanned<DeValue<'d>>>> {
        let value = self.get(key)?;
        self.items_of(value, example)
    }

    /// The items of a value that should be an array.
    pub fn items_of(
        &self,
        value: &'d Spanned<DeValue<'d>>,
        example: &str,
    ) -> Option<Vec<&'d Spanned<DeValue<'d>>>> {
        match value.get_ref() {
            DeValue::Array(array) => Some(array.iter().collect()),
            _ => {
                self.wrong_kind(value, "a list", example);
                None
            }
        }
    }

    /// A list of quantities, optional.
    pub fn quantities(
        &self,
        key: &'static str,
        dimension: Dimension,
        bounds: Bounds,
    ) -> Option<Vec<f64>> {
        let example = format!("[{}]", example_of(dimension));
        let items = self.items(key, &example)?;
        let path = self.path_of(key);
        let read: Vec<Option<Read<f64>>> = items
            .iter()
            .enumerate()
            .map(|(i, v)| self.quantity_in(&format!("{path}[{i}]"), v, dimension, 0, bounds))
            .collect();
        read.into_iter().map(|r| r.map(|r| r.value)).collect()
    }

    /// A list of pairs of quantities, optional: a table against time or temperature.
    pub fn pairs(
        &self,
        key: &'static str,
        dimensions: (Dimension, Dimension),
        bounds: (Bounds, Bounds),
    ) -> Option<Vec<(Read<f64>, Read<f64>)>> {
        let example = format!(
            "[[{}, {}]]",
            example_of(dimensions.0),
            example_of(dimensions.1)
        );
        let items = self.items(key, &example)?;
        let path = self.path_of(key);
        let mut whole = true;
        let mut list = Vec::new();
        for (i, item) in items.iter().enumerate() {
            let pair = match item.get_ref() {
                DeValue::Array(a) if a.len() == 2 => a.iter().collect::<Vec<_>>(),
                _ => {
                    self.wrong_kind(item, "a pair", &example);
                    whole = false;
                    continue;
                }
            };
            let first = self.quantity_in(
                &format!("{path}[{i}][0]"),
                pair[0],
                dimensions.0,
                0,
                bounds.0,
            );
            let second = self.quantity_in(
                &format!("{path}[{i}][1]"),
                pair[1],
                dimensions.1,
                0,
                bounds.1,
            );
            match (first, second) {
                (Some(a), Some(b)) => list.push((a, b)),
                _ => whole = false,
            }
        }
        if whole && list.is_empty() {
            self.report(
                Problem::new(self.span_of(key), format!("`{key}` is empty"))
                    .help(format!("for example `{example}`")),
            );
            return None;
        }
        whole.then_some(list)
    }

    /// Report what is missing, and every key that nobody asked for with the nearest known one. A missing
    /// key that is only misspelt is reported once, where it stands.
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
            let near = nearest(key.get_ref(), absent.iter().map(|(k, _)| k.as_str()))
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
        for (key, problem) in self.absent.take() {
            if !meant.contains(&key) {
                self.report(problem);
            }
        }
    }
}

fn example_of(dimension: Dimension) -> String {
    if dimension == Dimension::Fraction {
        dimension.example().to_owned()
    } else {
        format!("\"{}\"", dimension.example())
    }
}

fn out_of_bounds(span: Range<usize>, v: f64, dimension: Dimension, bounds: Bounds) -> Problem {
    let (least, most) = bounds.ends();
    let show = |x: f64| {
        if dimension == Dimension::Fraction {
            format_number(x)
        } else {
            format_si(x, dimension)
        }
    };
    let message = if v == 0.0 && !bounds.zero_allowed() {
        format!("{} above zero belongs here", dimension.name())
    } else if v < least {
        if least == 0.0 {
            format!("{} cannot be negative here", dimension.name())
        } else {
            format!(
                "{} of at least {} belongs here",
                dimension.name(),
                show(least)
            )
        }
    } else {
        format!(
            "{} of at most {} belongs here",
            dimension.name(),
            show(most)
        )
    };
    let mut problem = Problem::new(span, message).label(format!("this is {}", show(v)));
    let far_off = v > most || (v < least && least != 0.0) || v == 0.0;
    if far_off && !bounds.hint().is_empty() {
        problem = problem.help(bounds.hint());
    }
    problem
}
