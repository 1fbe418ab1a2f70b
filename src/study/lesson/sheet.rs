//! One pupil's sheet: what is given, what is asked, and whether that can be handed out.

use super::graph::Graph;
use super::level::minutes_of;
use super::{Bench, Plan};
use crate::study::by_hand::{Explanation, Quantity, Step};

/// Digits with which a pupil is given a number and carries it on.
const DIGITS: usize = 4;
/// How much rounding every number on the way may move an answer, as a part of it. A sheet that it
/// moves more asks for the logarithm of next to nothing, and nobody could mark it.
pub const MOST_BY_ROUNDING: f64 = 0.005;
/// Fewest steps of a lesson.
const FEWEST: usize = 3;
/// Answers of two sheets are at least so far apart, as a part of them.
const APART: f64 = 0.002;

/// A step that is asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Task {
    /// The step, worked.
    pub step: Step,
    /// How much rounding to four digits on the way moves its result, as a part of it (of the rise
    /// above the flat strip, for a temperature).
    pub by_rounding: f64,
}

/// A sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// From 1.
    pub number: usize,
    /// Numbers in which it differs from the scenario, as path and value.
    pub settings: Vec<(String, String)>,
    /// Everything worked by hand, beside the full model.
    pub explanation: Explanation,
    /// What the steps need and no step before them computes, in the order in which it is needed.
    pub given: Vec<Quantity>,
    /// What is asked, in order.
    pub tasks: Vec<Task>,
    /// What is plotted.
    pub graph: Graph,
    /// What is measured, in a measuring lesson.
    pub bench: Option<Bench>,
    /// Which task it is all for.
    goal: usize,
}

impl Sheet {
    /// The sheet of an explanation; `None` where its steps are too few, have no numbers, or hang on
    /// how somebody rounds.
    pub(super) fn posed(
        plan: &Plan,
        explanation: Explanation,
        graph: Graph,
        settings: Vec<(String, String)>,
    ) -> Option<Sheet> {
        let mut left_min = plan.for_work_min();
        let mut asked: Vec<&str> = Vec::new();
        for symbol in plan.level.wanted() {
            let step = explanation.step(symbol);
            if let Some(needs) = step.map(minutes_of).filter(|needs| *needs <= left_min) {
                left_min -= needs;
                asked.push(symbol);
            }
        }
        let steps = explanation.steps();
        let steps: Vec<&Step> = steps
            .filter(|s| asked.contains(&s.result.symbol.as_str()))
            .collect();
        let (given, graph_given) = (needed(&steps, &[]), graph.steps());
        let moved = by_rounding(&explanation, &given, &steps)?;
        let tasks: Vec<Task> = steps
            .iter()
            .zip(moved)
            .map(|(step, by_rounding)| Task {
                step: (*step).clone(),
                by_rounding,
            })
            .collect();
        let is_well = |t: &Task| t.by_rounding <= MOST_BY_ROUNDING;
        if tasks.len() < FEWEST || !tasks.iter().all(is_well) {
            return None;
        }
        let goal = plan.level.wanted().iter().find(|s| asked.contains(s))?;
        let goal = tasks.iter().position(|t| t.step.result.symbol == **goal)?;
        let level = graph.level.clone();
        let asks = |q: &Quantity| steps.iter().any(|s| s.result.symbol == q.symbol);
        let level = level.into_iter().filter(|q| !asks(q)).collect();
        let given = [given, needed(&graph_given, &steps), level].concat();
        let mut known: Vec<Quantity> = Vec::new();
        for quantity in given.into_iter().filter(|q| q.symbol != graph.x_symbol) {
            if !known.iter().any(|k| k.symbol == quantity.symbol) {
                known.push(quantity);
            }
        }
        Some(Sheet {
            number: 0,
            settings,
            explanation,
            given: known,
            tasks,
            graph,
            bench: None,
            goal,
        })
    }

    /// The step that the lesson is for.
    pub fn goal(&self) -> &Step {
        &self.tasks[self.goal].step
    }

    /// Whether neither the numbers nor what comes out can be taken from a neighbour.
    pub(super) fn differs_from(&self, other: &Sheet) -> bool {
        let (a, b) = (&self.goal().result, &other.goal().result);
        let from = a.unit.zero;
        let apart = (a.value_si - b.value_si).abs() > APART * (a.value_si - from).abs();
        self.settings != other.settings && a.symbol == b.symbol && apart
    }
}

/// Quantities that `steps` use before they are computed, by these or by `before`.
fn needed(steps: &[&Step], before: &[&Step]) -> Vec<Quantity> {
    let mut computed: Vec<&str> = before.iter().map(|s| s.result.symbol.as_str()).collect();
    let mut given: Vec<Quantity> = Vec::new();
    for step in steps {
        for input in &step.inputs {
            let is_known = computed.contains(&input.symbol.as_str())
                || given.iter().any(|g| g.symbol == input.symbol);
            if !is_known {
                given.push(input.clone());
            }
        }
        computed.push(&step.result.symbol);
    }
    given
}

/// How much each result moves when every number is rounded where it is written down; `None` where
/// one is no number.
fn by_rounding(of: &Explanation, given: &[Quantity], steps: &[&Step]) -> Option<Vec<f64>> {
    let flat = of.quantities().into_iter().find(|q| q.symbol == "T_flat");
    let flat_k = flat.map_or(0.0, |q| q.value_si);
    let mut written: Vec<(&str, f64)> = given.iter().map(|q| (&*q.symbol, rounded(q))).collect();
    let mut moved = Vec::new();
    for step in steps {
        let value = |symbol: &str| written.iter().find(|(s, _)| *s == symbol).map(|(_, v)| *v);
        let result = Quantity {
            value_si: step.formula.evaluate(&value)?,
            ..step.result.clone()
        };
        let exact = step.result.value_si;
        let from = if step.result.unit.zero == 0.0 {
            0.0
        } else {
            flat_k
        };
        let share = ((result.value_si - exact) / (exact - from)).abs();
        if !share.is_finite() || exact == from {
            return None;
        }
        moved.push(share);
        written.push((&step.result.symbol, rounded(&result)));
    }
    Some(moved)
}

/// A value as it is written down, SI.
fn rounded(quantity: &Quantity) -> f64 {
    let shown = quantity.unit.shown(quantity.value_si);
    let written = format!("{shown:.*e}", DIGITS - 1).parse().unwrap_or(shown);
    quantity.unit.si(written)
}
