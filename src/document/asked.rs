//! What a reader asks of a file: every key with the forms that it takes there. A schema is made of
//! it.

use super::{Bounds, TableReader};
use crate::quantity::Dimension;
use std::collections::BTreeMap;

/// What may stand behind a key.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Asked {
    /// A number with its unit.
    Quantity(Dimension, Bounds),
    /// A text, such as this one.
    Text(String),
    /// One of these words.
    Word(Vec<String>),
    /// True or false.
    Flag,
    /// A whole number up to this one.
    Whole(u32),
    /// A list.
    List,
    /// A table.
    Table,
    /// A list of tables.
    Tables,
}

/// Forms of each key by its path, places in lists left out.
pub(crate) type AskedKeys = BTreeMap<String, Vec<Asked>>;

impl TableReader<'_> {
    /// Notes that a key was asked for, and in which form where that is known.
    pub(super) fn ask(&self, key: &str, form: impl FnOnce() -> Option<Asked>) {
        let Some(asked) = &self.document().asked else {
            return;
        };
        let mut asked = asked.borrow_mut();
        let forms = asked.entry(self.plain_path_of(key)).or_default();
        forms.extend(form().filter(|form| !forms.contains(form)));
    }
}
