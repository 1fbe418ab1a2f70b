//! Weighted quantiles.

use super::record::Range;

/// Numbers with weights, sorted.
pub struct Weighted(Vec<(f64, f64)>);

impl Weighted {
    /// Of numbers with weights; what is not a number is left out.
    pub fn new(values: impl Iterator<Item = (f64, f64)>) -> Weighted {
        let mut all: Vec<(f64, f64)> = values.filter(|(x, w)| !x.is_nan() && *w > 0.0).collect();
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        Weighted(all)
    }

    /// Of equal weights.
    pub fn equal(values: impl IntoIterator<Item = f64>) -> Weighted {
        Weighted::new(values.into_iter().map(|x| (x, 1.0)))
    }

    /// The number below which a share of the weight lies.
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

    /// Median and 90 % interval; `None` without numbers.
    pub fn range(&self) -> Option<Range> {
        (!self.0.is_empty()).then(|| Range {
            low: self.at(0.05),
            median: self.at(0.5),
            high: self.at(0.95),
        })
    }
}
