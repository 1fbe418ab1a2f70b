//! Evidence that does not go together.

use super::posterior::Posterior;
use super::record::Contradiction;

/// How much worse the best guess explains two items together than the best guesses explain each, in natural
/// logarithms, before they are called contradictory: a slip of the pen is about as probable then.
const GAP: f64 = 5.0;
/// What an item weighs that was not looked at because the guess was hopeless already.
const UNSEEN: f64 = -49.0;

/// Pairs of items that no guess explains together.
pub fn contradictions(posterior: &Posterior, labels: &[String]) -> Vec<Contradiction> {
    let possible: Vec<usize> = (0..posterior.guesses.len())
        .filter(|i| posterior.weighed[*i].items.len() == labels.len())
        .filter(|i| posterior.weighed[*i].items.iter().all(|l| *l > UNSEEN))
        .collect();
    let best = |f: &dyn Fn(&[f64]) -> f64| {
        possible
            .iter()
            .map(|i| f(&posterior.weighed[*i].items))
            .fold(f64::NEG_INFINITY, f64::max)
    };
    let alone: Vec<f64> = (0..labels.len()).map(|k| best(&|items| items[k])).collect();
    let mut found = Vec::new();
    for one in 0..labels.len() {
        for other in one + 1..labels.len() {
            let together = best(&|items| items[one] + items[other]);
            let gap = alone[one] + alone[other] - together;
            if gap > GAP && gap.is_finite() {
                found.push(Contradiction {
                    one: labels[one].clone(),
                    other: labels[other].clone(),
                    sentence: format!(
                        "No part of this family, in any state or place, explains \"{}\" and \"{}\" together: check \
                         both before you trust the verdict.",
                        labels[one], labels[other]
                    ),
                });
            }
        }
    }
    found
}
