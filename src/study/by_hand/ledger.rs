//! Known quantities and the steps made with them.

use super::ByHandError;
use super::expression::Expression;
use super::formulas::Formula;
use super::record::{Beside, Block, Chapter, Quantity, Remark, Step, Subject};
use super::unit::{Unit, unit_of};

/// Quantities known so far, and the chapters written so far.
#[derive(Debug, Default)]
pub(super) struct Ledger {
    known: Vec<Quantity>,
    chapters: Vec<Chapter>,
}

type Written = Result<f64, ByHandError>;

impl Ledger {
    /// Start a chapter.
    pub(super) fn chapter(&mut self, subject: Subject) {
        let blocks = Vec::new();
        self.chapters.push(Chapter { subject, blocks });
    }

    /// A paragraph.
    pub(super) fn say(&mut self, remark: Remark) {
        self.block(Block::Remark(remark));
    }

    /// A block of the chapter begun last.
    pub(super) fn block(&mut self, block: Block) {
        if let Some(chapter) = self.chapters.last_mut() {
            chapter.blocks.push(block);
        }
    }

    /// Quantities given from elsewhere, SI.
    pub(super) fn give<const N: usize>(&mut self, given: [(&str, f64); N]) {
        for (symbol, value_si) in given {
            self.give_in(symbol, value_si, unit_of(symbol));
        }
    }

    /// A quantity given from elsewhere, with the unit in which it is written.
    pub(super) fn give_in(&mut self, symbol: &str, value_si: f64, unit: Unit) {
        self.known.retain(|q| q.symbol != symbol);
        self.known.push(Quantity {
            symbol: symbol.to_owned(),
            value_si,
            unit,
        });
    }

    /// A quantity known by now, SI.
    pub(super) fn value(&self, symbol: &str) -> Option<f64> {
        let known = self.known.iter().find(|q| q.symbol == symbol);
        known.map(|q| q.value_si)
    }

    /// A step by a formula of the list.
    pub(super) fn by(&mut self, symbol: &str, formula: &Formula) -> Written {
        self.step(symbol, formula.text, formula.source)
    }

    /// The same, some of its symbols written otherwise: (from, to).
    pub(super) fn by_with(
        &mut self,
        symbol: &str,
        formula: &Formula,
        names: &[(&str, &str)],
    ) -> Written {
        let tree = read(formula.text)?.renamed(names);
        self.write(symbol, tree, formula.source)
    }

    /// A step by a formula made for this strip.
    pub(super) fn step(&mut self, symbol: &str, formula: &str, source: &str) -> Written {
        self.write(symbol, read(formula)?, source)
    }

    fn write(&mut self, symbol: &str, tree: Expression, source: &str) -> Written {
        let step = evaluated(symbol, tree, source, &self.known)?;
        let value_si = step.result.value_si;
        self.give([(symbol, value_si)]);
        self.block(Block::Step(step));
        Ok(value_si)
    }

    /// The full model's number beside the last step; nothing where the model has none.
    pub(super) fn beside(&mut self, value_si: impl Into<Option<f64>>) {
        self.beside_from(value_si.into(), 0.0);
    }

    /// The same where the difference counts from a value other than zero.
    pub(super) fn beside_from(&mut self, value_si: Option<f64>, from_si: f64) {
        let Some(value_si) = value_si.filter(|v| v.is_finite()) else {
            return;
        };
        let last = self.chapters.last_mut().and_then(|c| c.blocks.last_mut());
        if let Some(Block::Step(step)) = last {
            step.beside = Some(Beside { value_si, from_si });
        }
    }

    /// Everything written.
    pub(super) fn finish(self) -> Vec<Chapter> {
        self.chapters
    }
}

/// A step made of known quantities.
pub(in crate::study) fn evaluated(
    symbol: &str,
    tree: Expression,
    source: &str,
    known: &[Quantity],
) -> Result<Step, ByHandError> {
    let find = |s: &str| known.iter().find(|q| q.symbol == s);
    let value_si = tree
        .evaluate(&|s| find(s).map(|q| q.value_si))
        .ok_or_else(|| ByHandError::Formula(format!("{symbol} = {tree:?}")))?;
    let inputs = tree.symbols().into_iter().filter_map(|s| find(s).cloned());
    Ok(Step {
        inputs: inputs.collect(),
        formula: tree,
        result: Quantity {
            symbol: symbol.to_owned(),
            value_si,
            unit: unit_of(symbol),
        },
        source: source.to_owned(),
        beside: None,
    })
}

fn read(formula: &str) -> Result<Expression, ByHandError> {
    Expression::read(formula).ok_or_else(|| ByHandError::Formula(formula.to_owned()))
}
