//! Known quantities and the steps made with them.

use super::ByHandError;
use super::expression::Expression;
use super::formulas::Formula;
use super::record::{Beside, Block, Chapter, Quantity, Step, Values};
use super::unit::Unit;

/// Quantities known so far, and the chapters written so far.
#[derive(Debug, Default)]
pub(super) struct Ledger {
    known: Vec<Quantity>,
    chapters: Vec<Chapter>,
}

impl Ledger {
    /// Start a chapter.
    pub(super) fn chapter(&mut self, heading: &str) {
        self.chapters.push(Chapter {
            heading: heading.to_owned(),
            blocks: Vec::new(),
        });
    }

    /// A paragraph.
    pub(super) fn text(&mut self, text: impl Into<String>) {
        self.block(Block::Text(text.into()));
    }

    /// A table of given values.
    pub(super) fn values(&mut self, values: Values) {
        self.block(Block::Values(values));
    }

    /// A quantity given from elsewhere.
    pub(super) fn give(&mut self, symbol: &str, value_si: f64, unit: Unit) {
        self.known.retain(|q| q.symbol != symbol);
        self.known.push(Quantity {
            symbol: symbol.to_owned(),
            value_si,
            unit,
        });
    }

    /// A quantity known by now, SI.
    pub(super) fn value(&self, symbol: &str) -> Option<f64> {
        self.known
            .iter()
            .find(|q| q.symbol == symbol)
            .map(|q| q.value_si)
    }

    /// A step by a formula of the list, some of its symbols written otherwise: (from, to).
    pub(super) fn by(
        &mut self,
        what: &str,
        (symbol, unit): (&str, Unit),
        formula: &Formula,
        names: &[(&str, &str)],
    ) -> Result<f64, ByHandError> {
        let wrong = || ByHandError::Formula(formula.text.to_owned());
        let tree = Expression::read(formula.text).ok_or_else(wrong)?;
        self.write(what, (symbol, unit), tree.renamed(names), formula.source)
    }

    /// A step by a formula made for this strip.
    pub(super) fn step(
        &mut self,
        what: &str,
        (symbol, unit): (&str, Unit),
        formula: &str,
        source: &str,
    ) -> Result<f64, ByHandError> {
        let wrong = || ByHandError::Formula(formula.to_owned());
        let tree = Expression::read(formula).ok_or_else(wrong)?;
        self.write(what, (symbol, unit), tree, source)
    }

    fn write(
        &mut self,
        what: &str,
        (symbol, unit): (&str, Unit),
        tree: Expression,
        source: &str,
    ) -> Result<f64, ByHandError> {
        let missing = || ByHandError::Formula(format!("{symbol} = {tree:?}"));
        let value_si = tree.evaluate(&|s| self.value(s)).ok_or_else(missing)?;
        let inputs = tree
            .symbols()
            .iter()
            .filter_map(|s| self.known.iter().find(|q| q.symbol == *s))
            .cloned()
            .collect();
        self.give(symbol, value_si, unit);
        let result = Quantity {
            symbol: symbol.to_owned(),
            value_si,
            unit,
        };
        self.block(Block::Step(Step {
            what: what.to_owned(),
            formula: tree,
            inputs,
            result,
            source: source.to_owned(),
            beside: None,
        }));
        Ok(value_si)
    }

    /// The full model's number beside the last step; nothing where the model has none.
    pub(super) fn beside(
        &mut self,
        what: &str,
        value_si: Option<f64>,
        from_si: f64,
        why: impl Into<String>,
    ) {
        let Some(value_si) = value_si.filter(|v| v.is_finite()) else {
            return;
        };
        let last = self.chapters.last_mut().and_then(|c| c.blocks.last_mut());
        if let Some(Block::Step(step)) = last {
            step.beside = Some(Beside {
                what: what.to_owned(),
                value_si,
                from_si,
                why: why.into(),
            });
        }
    }

    /// Everything written.
    pub(super) fn finish(self) -> Vec<Chapter> {
        self.chapters
    }

    fn block(&mut self, block: Block) {
        if self.chapters.is_empty() {
            self.chapter("");
        }
        if let Some(chapter) = self.chapters.last_mut() {
            chapter.blocks.push(block);
        }
    }
}
