//! Evidence that does not go together.

use super::record::Contradiction;

/// How much worse the best guess explains two items together than the best guesses explain each, in natural
/// logarithms, before they are called contradictory: a slip of the pen is about as probable then.
const GAP: f64 = 5.0;

/// How well the best guesses explain single items, and pairs of them.
#[derive(Debug, Clone, Default)]
pub struct Bests {
    /// For each item the best, and for each pair in order.
    alone: Vec<f64>,
    together: Vec<f64>,
}

impl Bests {
    /// Nothing noted yet.
    pub fn new() -> Bests {
        Bests::default()
    }

    /// Notes what a guess makes of the items.
    pub fn note(&mut self, items: &[f64]) {
        let n = items.len();
        if n > self.alone.len() {
            self.alone = vec![f64::NEG_INFINITY; n];
            self.together = vec![f64::NEG_INFINITY; n * n];
        }
        for (i, one) in items.iter().enumerate() {
            self.alone[i] = self.alone[i].max(*one);
            for (j, other) in items.iter().enumerate().skip(i + 1) {
                let pair = &mut self.together[i * n + j];
                *pair = pair.max(one + other);
            }
        }
    }

    /// The better of both, item by item.
    pub fn and(mut self, other: &Bests) -> Bests {
        if self.alone.len() < other.alone.len() {
            return other.clone();
        }
        if self.alone.len() == other.alone.len() {
            for (a, b) in self.alone.iter_mut().zip(&other.alone) {
                *a = a.max(*b);
            }
            for (a, b) in self.together.iter_mut().zip(&other.together) {
                *a = a.max(*b);
            }
        }
        self
    }

    /// Pairs of items that no guess explains together.
    pub fn contradictions(&self, labels: &[String]) -> Vec<Contradiction> {
        let n = self.alone.len();
        let mut found = Vec::new();
        for (i, one) in labels.iter().enumerate().take(n) {
            for (j, other) in labels.iter().enumerate().take(n).skip(i + 1) {
                let gap = self.alone[i] + self.alone[j] - self.together[i * n + j];
                if gap > GAP && gap.is_finite() {
                    found.push(Contradiction {
                        one: one.clone(),
                        other: other.clone(),
                        sentence: format!(
                            "No part of this family, in any state or place, explains \"{one}\" and \"{other}\" together: \
                             check both before you trust the verdict."
                        ),
                    });
                }
            }
        }
        found
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_items_that_no_guess_explains_together_are_named() {
        let mut bests = Bests::new();
        bests.note(&[0.0, -9.0, -1.0]);
        bests.note(&[-9.0, 0.0, -1.0]);
        let labels = ["one", "two", "three"].map(String::from);
        let found = bests.and(&Bests::new()).contradictions(&labels);
        assert_eq!(found.len(), 1);
        assert_eq!(
            (found[0].one.as_str(), found[0].other.as_str()),
            ("one", "two")
        );
    }
}
