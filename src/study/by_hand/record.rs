//! What an explanation holds; rendered elsewhere.

use super::expression::Expression;
use super::unit::Unit;

/// A computation by hand, beside the full model.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Explanation {
    /// Title of the scenario.
    pub title: String,
    /// Its story.
    pub shows: String,
    /// What was set in it since it was written.
    pub changed: Vec<String>,
    /// Chapters in the order of the computation.
    pub chapters: Vec<Chapter>,
    /// Sources of the material data used.
    pub sources: Vec<String>,
}

/// One subject.
#[derive(Debug, Clone, PartialEq)]
pub struct Chapter {
    /// Heading.
    pub heading: String,
    /// Text, tables and steps in order.
    pub blocks: Vec<Block>,
}

/// Something that stands in a chapter.
#[derive(Debug, Clone, PartialEq)]
pub enum Block {
    /// A paragraph.
    Text(String),
    /// A table of values taken from elsewhere.
    Values(Values),
    /// A step of the computation.
    Step(Step),
}

/// A table of given values.
#[derive(Debug, Clone, PartialEq)]
pub struct Values {
    /// What the table holds.
    pub caption: String,
    /// Column headings: words, symbol, unit.
    pub columns: Vec<(String, String, Unit)>,
    /// Rows: name and SI values.
    pub rows: Vec<(String, Vec<f64>)>,
}

/// A quantity with its symbol and the unit in which it is written.
#[derive(Debug, Clone, PartialEq)]
pub struct Quantity {
    /// Symbol, e.g. `kappa_0`.
    pub symbol: String,
    /// Value, SI.
    pub value_si: f64,
    /// Unit in which it is written.
    pub unit: Unit,
}

/// One step: a formula, the numbers put in, the result.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What is computed.
    pub what: String,
    /// The formula.
    pub formula: Expression,
    /// The quantities in it.
    pub inputs: Vec<Quantity>,
    /// The result.
    pub result: Quantity,
    /// Where the formula comes from.
    pub source: String,
    /// The same quantity in the full model.
    pub beside: Option<Beside>,
}

/// The full model's number beside a step.
#[derive(Debug, Clone, PartialEq)]
pub struct Beside {
    /// What the number is in the full model.
    pub what: String,
    /// Value, SI.
    pub value_si: f64,
    /// SI value from which the difference counts (a temperature counts from that of the flat strip).
    pub from_si: f64,
    /// Why the two differ.
    pub why: String,
}

impl Step {
    /// By hand minus full model over full model, %; `None` without a finite number on both sides.
    pub fn difference_percent(&self) -> Option<f64> {
        let beside = self.beside.as_ref()?;
        let whole = beside.value_si - beside.from_si;
        let percent = 100.0 * (self.result.value_si - beside.value_si) / whole;
        percent.is_finite().then_some(percent)
    }
}

impl Explanation {
    /// Every step in order.
    pub fn steps(&self) -> impl Iterator<Item = &Step> {
        self.chapters
            .iter()
            .flat_map(|c| &c.blocks)
            .filter_map(|b| match b {
                Block::Step(step) => Some(step),
                Block::Text(_) | Block::Values(_) => None,
            })
    }

    /// The step whose result has this symbol.
    pub fn step(&self, symbol: &str) -> Option<&Step> {
        self.steps().find(|s| s.result.symbol == symbol)
    }
}
