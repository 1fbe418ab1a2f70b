//! Numbers of a scenario by the path at which they stand in its file: for studies that change them.

use super::Scenario;
use super::rows::{Differ, Number, Row, TABLES, Table, Value};
use crate::document::Bounds;
use crate::quantity::Dimension;

/// A number of a scenario in which units may differ, by where it stands in the file.
///
/// ```
/// use relatch::internals::scenario::{self, Place};
/// let text = scenario::starter("latch").expect("a starter");
/// let mut s = scenario::read_text("starter", text)?;
/// let width = Place::find("strip.width").expect("a place");
/// *width.of(&mut s).expect("it has a width") *= 1.01;
/// # Ok::<(), scenario::ReadError>(())
/// ```
#[derive(Debug, Clone, Copy)]
pub struct Place {
    table: &'static Table,
    row: &'static Row,
    number: Number,
    index: usize,
}

impl PartialEq for Place {
    fn eq(&self, other: &Place) -> bool {
        (self.table.path, self.row.key, self.index)
            == (other.table.path, other.row.key, other.index)
    }
}

/// The places of every table, the first of a list each.
fn firsts() -> impl Iterator<Item = Place> {
    TABLES.iter().flat_map(|table| {
        table.rows().filter_map(move |row| match row.value {
            Value::Number(number) if number.differ != Differ::No => Some(Place {
                table,
                row,
                number,
                index: 0,
            }),
            _ => None,
        })
    })
}

impl Place {
    /// Every number that this scenario has, in the order of the file.
    pub fn all(scenario: &Scenario) -> Vec<Place> {
        let mut own = scenario.clone();
        firsts()
            .flat_map(|p| (0..(p.table.count)(scenario)).map(move |index| Place { index, ..p }))
            .filter(|p| p.of(&mut own).is_some())
            .collect()
    }

    /// The place of a path, `strip.layer[1].thickness` for a layer; it need not be there in every
    /// scenario.
    pub fn find(path: &str) -> Option<Place> {
        let (table, key) = path.rsplit_once('.')?;
        let entry = table.strip_suffix(']').and_then(|t| t.rsplit_once('['));
        let (table, index) = match entry {
            Some((table, index)) => (table, Some(index.parse().ok()?)),
            None => (table, None),
        };
        firsts()
            .find(|p| p.table.path == table && p.row.key == key && p.table.list == index.is_some())
            .map(|p| Place {
                index: index.unwrap_or(0),
                ..p
            })
    }

    /// Dotted path, as in the file.
    pub fn path(self) -> String {
        if self.table.list {
            format!("{}[{}].{}", self.table.path, self.index, self.row.key)
        } else {
            self.family()
        }
    }

    /// The path without the number of a layer.
    pub fn family(self) -> String {
        format!("{}.{}", self.table.path, self.row.key)
    }

    /// Kind of quantity.
    pub fn dimension(self) -> Dimension {
        self.number.dimension
    }

    /// What the number may be.
    pub fn bounds(self) -> Bounds {
        self.number.bounds
    }

    /// Whether units that differ in this number can be computed side by side.
    pub fn is_served_beside(self) -> bool {
        self.number.differ == Differ::Beside
    }

    /// The number, to be changed; `None` where the scenario does not have it.
    pub fn of(self, scenario: &mut Scenario) -> Option<&mut f64> {
        self.number.of(scenario, self.index)
    }
}
