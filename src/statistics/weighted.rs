//! Numbers with weights: their quantiles, how many they are worth, and a resample of them.

/// Numbers with weights, sorted.
///
/// ```
/// use relatch::internals::statistics::weighted::Weighted;
/// let numbers = Weighted::new([(3.0, 1.0), (1.0, 8.0), (2.0, 1.0)]);
/// assert_eq!(numbers.at(0.5), 1.0);
/// assert_eq!(numbers.at(0.85), 2.0);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Weighted(Vec<(f64, f64)>);

impl Weighted {
    /// Of numbers with weights; what is not a number, and what has no weight, is left out.
    pub fn new(values: impl IntoIterator<Item = (f64, f64)>) -> Weighted {
        let mut all: Vec<(f64, f64)> = values
            .into_iter()
            .filter(|(x, w)| !x.is_nan() && *w > 0.0)
            .collect();
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        Weighted(all)
    }

    /// Of equal weights.
    pub fn equal(values: impl IntoIterator<Item = f64>) -> Weighted {
        Weighted::new(values.into_iter().map(|x| (x, 1.0)))
    }

    /// Whether there is none.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The shortest interval that holds a share of the weight; `None` when there is no number.
    pub fn shortest(&self, share: f64) -> Option<(f64, f64)> {
        let total: f64 = self.0.iter().map(|p| p.1).sum();
        let mut best: Option<(f64, f64)> = None;
        let (mut inside, mut to) = (0.0, 0);
        for (from, (low, weight)) in self.0.iter().enumerate() {
            while to < self.0.len() && inside < share * total {
                inside += self.0[to].1;
                to += 1;
            }
            if inside < share * total {
                break;
            }
            let high = self.0[to.max(from + 1) - 1].0;
            if best.is_none_or(|(l, h)| high - low < h - l) {
                best = Some((*low, high));
            }
            inside -= weight;
        }
        best
    }

    /// The least number that has a share of the weight at or below it; not a number when there is
    /// none.
    pub fn at(&self, share: f64) -> f64 {
        let total: f64 = self.0.iter().map(|p| p.1).sum();
        let mut sum = 0.0;
        for (x, w) in &self.0 {
            sum += w;
            if sum >= share * total {
                return *x;
            }
        }
        self.0.last().map_or(f64::NAN, |p| p.0)
    }
}

/// How many equal weights these are worth, `(sum w)^2 / sum w^2` (L. Kish, Survey Sampling, 1965).
pub fn effective(weights: &[f64]) -> f64 {
    let sum: f64 = weights.iter().sum();
    let squares: f64 = weights.iter().map(|w| w * w).sum();
    if squares > 0.0 {
        sum * sum / squares
    } else {
        0.0
    }
}

/// Systematic resample: `count` positions in order, each as often as its weight asks for; `offset`
/// within (0, 1) shifts them all. Empty when nothing has weight.
pub fn systematic(weights: &[f64], count: usize, offset: f64) -> Vec<usize> {
    let total: f64 = weights.iter().sum();
    let mut out = Vec::with_capacity(count);
    if !(total > 0.0) {
        return out;
    }
    let mut sum = 0.0;
    for (i, weight) in weights.iter().enumerate() {
        sum += weight / total * count as f64;
        while out.len() < count && out.len() as f64 + offset < sum {
            out.push(i);
        }
    }
    // What rounding has left over goes to the last that has weight.
    if let Some(last) = weights.iter().rposition(|w| *w > 0.0) {
        out.resize(count, last);
    }
    out
}
