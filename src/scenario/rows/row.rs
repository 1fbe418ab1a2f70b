//! What is known of one key of a scenario file. Reading, messages, paths, the report's inputs and
//! the schema for editors are all read off these rows.

use crate::document::Bounds;
use crate::quantity::Dimension;
use crate::scenario::Scenario;

/// A place in a scenario; the number counts the entries of a list of tables.
pub(in crate::scenario) type At<T> = for<'s> fn(&'s mut Scenario, usize) -> Option<&'s mut T>;
/// Puts a word's meaning into a scenario.
pub(in crate::scenario) type Set = fn(&mut Scenario, usize);

/// One key.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Row {
    /// The key, as written.
    pub key: &'static str,
    /// What it says, for editors and reports: no sentence.
    pub about: &'static str,
    /// What holds where it is missing.
    pub need: Need,
    /// What may stand behind it.
    pub value: Value,
}

/// What holds where a key is missing.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Need {
    /// It must be there.
    Needed,
    /// It must be there; how such a line may end.
    Like(&'static str),
    /// It must be there, unless this other key of its table is.
    Unless(&'static str),
    /// Nothing: it says something more, or code of its own decides.
    May,
    /// This number.
    Or(f64),
    /// The number of this path.
    As(&'static str),
    /// The number of this path, which is also the most it may be.
    UpTo(&'static str),
}

/// What may stand behind a key.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Value {
    /// A number with a unit, or a fraction.
    Number(Number),
    /// One of these words.
    Words(&'static [(&'static str, Set)]),
    /// Any text; the example is how it may look.
    Text(&'static str),
    /// True or false, and which of them unless given.
    Flag(At<bool>, bool),
    /// A whole number from 1.
    Whole(u32),
    /// A whole number from 1, or a word.
    WholeOr(u32, &'static str),
    /// Any texts.
    Texts(At<Vec<String>>),
    /// A list of numbers.
    List(Dimension, Bounds, At<Vec<f64>>),
    /// A list of pairs of numbers.
    Pairs([(Dimension, Bounds); 2]),
}

/// A number, where it goes, and how units may differ in it.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Number {
    /// Kind of quantity.
    pub dimension: Dimension,
    /// What it may be, SI.
    pub bounds: Bounds,
    /// Its place in the scenario.
    pub slot: Slot,
    /// Whether units may differ in it.
    pub differ: Differ,
    /// A word that may stand for it, and its meaning.
    pub word: Option<(&'static str, f64)>,
}

/// The place of a number.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Slot {
    /// Always there, unless it belongs to a kind of part that this one is not.
    Here(At<f64>),
    /// There only where the file says so.
    Maybe(At<Option<f64>>),
    /// Code of its own reads it.
    ByHand,
}

/// Whether units of a population may differ in a number.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Differ {
    /// No.
    No,
    /// Yes; such units are computed one by one.
    Alone,
    /// Yes; such units can be computed side by side.
    Beside,
}

/// A table, or one entry of a list of tables.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Table {
    /// Dotted path without numbers: `strip.layer`.
    pub path: &'static str,
    /// What it says.
    pub about: &'static str,
    /// Whether it is a list of tables.
    pub list: bool,
    /// Whether the table around it must have it.
    pub needed: bool,
    /// How many the scenario has.
    pub count: fn(&Scenario) -> usize,
    /// Its keys; what several tables share stands once.
    pub rows: &'static [&'static [Row]],
}

impl Table {
    /// Every key in turn.
    pub(crate) fn rows(&self) -> impl Iterator<Item = &'static Row> + use<> {
        self.rows.iter().flat_map(|rows| rows.iter())
    }

    /// The row of a key.
    pub(crate) fn row(&self, key: &str) -> Option<&'static Row> {
        self.rows().find(|row| row.key == key)
    }
}

impl Number {
    /// The number in a scenario, if it has one there.
    pub(crate) fn of<'s>(&self, scenario: &'s mut Scenario, index: usize) -> Option<&'s mut f64> {
        let number = match self.slot {
            Slot::Here(at) => at(scenario, index),
            Slot::Maybe(at) => at(scenario, index).and_then(Option::as_mut),
            Slot::ByHand => None,
        };
        number.filter(|n| n.is_finite())
    }
}

/// The row of a number.
pub(in crate::scenario) const fn number(
    key: &'static str,
    about: &'static str,
    dimension: Dimension,
    bounds: Bounds,
    need: Need,
    slot: Slot,
) -> Row {
    Row {
        key,
        about,
        need,
        value: Value::Number(Number {
            dimension,
            bounds,
            slot,
            differ: Differ::No,
            word: None,
        }),
    }
}

/// The row of a choice of words.
pub(in crate::scenario) const fn words(
    key: &'static str,
    about: &'static str,
    need: Need,
    words: &'static [(&'static str, Set)],
) -> Row {
    Row {
        key,
        about,
        need,
        value: Value::Words(words),
    }
}

/// The row of anything else.
pub(in crate::scenario) const fn other(
    key: &'static str,
    about: &'static str,
    need: Need,
    value: Value,
) -> Row {
    Row {
        key,
        about,
        need,
        value,
    }
}

impl Row {
    /// Units may differ in it, and are then computed so.
    pub(in crate::scenario) const fn differs(mut self, differ: Differ) -> Row {
        if let Value::Number(number) = &mut self.value {
            number.differ = differ;
        }
        self
    }

    /// Units may differ in it and can be computed side by side.
    pub(in crate::scenario) const fn beside(self) -> Row {
        self.differs(Differ::Beside)
    }

    /// Units may differ in it and are computed one by one.
    pub(in crate::scenario) const fn alone(self) -> Row {
        self.differs(Differ::Alone)
    }

    /// A word may stand for the number.
    pub(in crate::scenario) const fn or_word(mut self, word: &'static str, means: f64) -> Row {
        if let Value::Number(number) = &mut self.value {
            number.word = Some((word, means));
        }
        self
    }
}

/// A number that every scenario has: `here!(strip.length_m)`.
macro_rules! here {
    ($($field:ident).+) => {
        Slot::Here(|s, _| Some(&mut s.$($field).+))
    };
}

/// A number of a table that may be missing: `inside!(winding.resistance_ohm)`.
macro_rules! inside {
    ($table:ident . $($field:ident).+) => {
        Slot::Here(|s, _| s.$table.as_mut().map(|t| &mut t.$($field).+))
    };
}

/// A number that may be missing, of a table that may be missing.
macro_rules! maybe_inside {
    ($table:ident . $($field:ident).+) => {
        Slot::Maybe(|s, _| s.$table.as_mut().map(|t| &mut t.$($field).+))
    };
}

/// A number of one kind of something: `of!(cooling.convection => Convection::Gap { gap_m })`.
macro_rules! of {
    ($($place:ident).+ => $kind:path { $field:ident }) => {
        Slot::Here(|s, _| match &mut s.$($place).+ {
            $kind { $field, .. } => Some($field),
            _ => None,
        })
    };
}

/// The same where the kind is a record: `kind!(release.mechanism => Mechanism::Latch, preload_n)`.
macro_rules! kind {
    ($($place:ident).+ => $kind:path, $field:ident) => {
        Slot::Here(|s, _| match &mut s.$($place).+ {
            $kind(it) => Some(&mut it.$field),
            _ => None,
        })
    };
}

pub(in crate::scenario) use {here, inside, kind, maybe_inside, of};
