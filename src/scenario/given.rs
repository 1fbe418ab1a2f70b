//! The numbers of a scenario, table by table, as its rows tell them: for whoever lists what was put
//! in.

use super::Scenario;
use super::rows::{Need, TABLES, Value, number_of};
use crate::quantity::Dimension;

/// What one table of a scenario says in numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Given {
    /// Dotted path of the table.
    pub path: &'static str,
    /// What the table says.
    pub about: &'static str,
    /// What each number says, its value in SI, and its kind.
    pub numbers: Vec<(&'static str, f64, Dimension)>,
}

/// Every table that the scenario has, in the order of the file, with its numbers; but for those
/// that are what goes without saying: no loss, the whole share, as much as another number.
pub fn given(scenario: &Scenario) -> Vec<Given> {
    let mut own = scenario.clone();
    let there = TABLES.iter().filter(|table| (table.count)(scenario) > 0);
    there
        .map(|table| {
            let mut numbers = Vec::new();
            for row in table.rows().filter(|_| !table.list) {
                let Value::Number(number) = row.value else {
                    continue;
                };
                let Some(value) = number.of(&mut own, 0).copied() else {
                    continue;
                };
                let usual = match row.need {
                    Need::Or(usual) if usual == 0.0 || usual == 1.0 => Some(usual),
                    Need::As(path) | Need::UpTo(path) => number_of(path, &mut own),
                    _ => None,
                };
                if usual != Some(value) {
                    numbers.push((row.about, value, number.dimension));
                }
            }
            Given {
                path: table.path,
                about: table.about,
                numbers,
            }
        })
        .collect()
}
