//! Sentences that both renderings share.

use super::symbol::value;
use crate::study::by_hand::{Beside, Explanation, Step};

/// Before everything else: these sheets are taken into a class room.
pub(super) const CAUTIONS: [&str; 4] = [
    "Bench or classroom: 24 V at most, guard the hot strip, no mains boards, never unattended. The strip and \
     its terminals get hotter than 60 °C.",
    "A deliberate overload needs a low-voltage source of its own, a time limit and ventilation.",
    "These are numbers to learn from. They decide nothing about equipment in use: there the maker's curve, \
     local rules and qualified people do.",
    "Never bridge a protector, and never fit a higher rating to stop it from tripping.",
];

/// How the sheet is to be read.
pub(super) const HOW_TO_READ: &str = "Each step shows the formula, the same formula with the numbers of this \
    scenario, and the result. Numbers are shown with four digits and carried on unrounded. Where the full model \
    computes the same quantity, its number stands beside the result, with the difference and the reason for it. \
    Differences of temperatures count from the temperature of the flat strip.";

/// Head of the table of comparisons.
pub(super) const COMPARED: &str = "By hand and by the full model";

/// `+3.2 %`, `−35 %`, `none`; a dash where there is none to state.
pub(super) fn difference(step: &Step) -> String {
    match step.difference_percent() {
        None => "–".to_owned(),
        Some(d) if d.abs() < 0.005 => "none".to_owned(),
        Some(d) if d.abs() < 1.0 => signed(format!("{d:+.2} %")),
        Some(d) if d.abs() < 10.0 => signed(format!("{d:+.1} %")),
        Some(d) => signed(format!("{d:+.0} %")),
    }
}

fn signed(text: String) -> String {
    text.replace('-', "−")
}

/// The name of a step without its explanation.
pub(super) fn name(step: &Step) -> &str {
    let end = step.what.find([':', '(']).unwrap_or(step.what.len());
    step.what[..end].trim_end()
}

/// The full model's number with its unit.
pub(super) fn model_value(step: &Step, beside: &Beside) -> String {
    value(beside.value_si, step.result.unit, true)
}

/// The hand's number with its unit.
pub(super) fn hand_value(step: &Step) -> String {
    value(step.result.value_si, step.result.unit, true)
}

/// Steps that have the full model's number beside them.
pub(super) fn compared(explanation: &Explanation) -> impl Iterator<Item = (&Step, &Beside)> {
    explanation
        .steps()
        .filter_map(|s| s.beside.as_ref().map(|b| (s, b)))
}
