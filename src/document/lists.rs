//! Lists of a table: numbers, pairs of numbers, or anything.

use super::bounds_text::example_within;
use super::{Asked, Bounds, Read, TableReader};
use crate::diagnostic::Problem;
use crate::quantity::Dimension;
use toml::Spanned;
use toml::de::DeValue;

impl<'d> TableReader<'d> {
    /// The items of an array, `None` when missing or not an array.
    pub fn items(&self, key: &'static str, example: &str) -> Option<Vec<&'d Spanned<DeValue<'d>>>> {
        self.ask(key, || Some(Asked::List));
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

    /// A list of texts, optional.
    pub fn texts(&self, key: &'static str) -> Option<Vec<String>> {
        let text = |item: &&Spanned<DeValue<'_>>| match item.get_ref() {
            DeValue::String(text) => Some(text.to_string()),
            _ => {
                self.wrong_kind(item, "a text", "\"text\"");
                None
            }
        };
        let items = self.items(key, "[\"text\"]")?;
        items.iter().map(text).collect()
    }

    /// A list of quantities, optional.
    pub fn quantities(
        &self,
        key: &'static str,
        dimension: Dimension,
        bounds: Bounds,
    ) -> Option<Vec<f64>> {
        let example = format!("[{}]", example_within(dimension, bounds));
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
            example_within(dimensions.0, bounds.0),
            example_within(dimensions.1, bounds.1)
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
}
