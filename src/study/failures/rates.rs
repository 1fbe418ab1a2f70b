//! Rates from weighed units.

use super::{Failure, SavedRecord, YearRecord};
use crate::statistics::importance::{Mixture, RareShare, difference};
use crate::statistics::marginal::Marginal;

/// A unit that was drawn: its weight, and its worst margin of each way up to each year, m.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    /// Weight.
    pub weight: f64,
    /// Margins by way and year.
    pub worst: [Vec<f64>; 3],
}

impl Drawn {
    /// Its numbers one after the other.
    pub fn to_numbers(&self) -> Vec<f64> {
        let margins = self.worst.iter().flatten().copied();
        std::iter::once(self.weight).chain(margins).collect()
    }

    /// Units from their numbers, with so many rows of years.
    pub fn of_numbers(numbers: &[f64], years: usize) -> Vec<Drawn> {
        let unit = |own: &[f64]| Drawn {
            weight: own[0],
            worst: [0, 1, 2].map(|way| own[1 + way * years..1 + (way + 1) * years].to_vec()),
        };
        numbers.chunks_exact(1 + 3 * years).map(unit).collect()
    }
}

/// Everything that rates are made of.
pub struct Rates<'a> {
    /// Where the units were drawn from.
    pub mixture: &'a Mixture,
    /// The units, in order.
    pub units: &'a [Drawn],
    /// Years of the margins, 0 first.
    pub years: &'a [f64],
    /// How wrong the margins of each way may be, m.
    pub off_m: [f64; 3],
}

impl Rates<'_> {
    fn terms(&self, way: usize, event: impl Fn(&[f64]) -> bool) -> impl Iterator<Item = f64> {
        let units = self.units.iter();
        units.map(move |u| if event(&u.worst[way]) { u.weight } else { 0.0 })
    }

    /// A share, with what wrong margins make of it in its interval.
    fn share(&self, way: usize, event: impl Fn(&[f64], f64) -> bool) -> RareShare {
        let of = |off_m: f64| {
            let terms = self.terms(way, |worst| event(worst, off_m));
            self.mixture.share(terms, self.units.len() as u64)
        };
        let off_m = self.off_m[way];
        let (middle, ends) = (of(0.0), [of(off_m), of(-off_m)]);
        let all = ends.iter().chain([&middle]);
        RareShare {
            share: middle.share,
            low: all.clone().map(|s| s.low).fold(1.0, f64::min),
            high: all.map(|s| s.high).fold(0.0, f64::max),
        }
    }

    /// Failures year by year.
    pub fn by_year(&self, failure: Failure) -> Vec<YearRecord> {
        let way = failure as usize;
        let mut before: Option<(f64, f64)> = None;
        let mut rows = Vec::with_capacity(self.years.len());
        for (k, years) in self.years.iter().enumerate() {
            let failed = self.share(way, |worst, off| worst[k] >= off);
            let span = before.map(|(year, _)| years - year);
            let per_year = span.map(|span| {
                let new = self.share(way, |w, off| w[k] >= off && w[k - 1] < off);
                RareShare {
                    share: new.share / span,
                    low: new.low / span,
                    high: new.high.min(failed.high) / span,
                }
            });
            let left = before.map(|(_, failed)| 1.0 - failed);
            rows.push(YearRecord {
                years: *years,
                failed,
                per_year,
                hazard_per_year: per_year
                    .zip(left)
                    .and_then(|(p, left)| (left > 1e-9).then_some(p.share / left)),
            });
            before = Some((*years, failed.share));
        }
        // What has failed by a year has failed by the next one too.
        for k in 1..rows.len() {
            rows[k].failed.low = rows[k].failed.low.max(rows[k - 1].failed.low);
        }
        for k in (1..rows.len()).rev() {
            rows[k - 1].failed.high = rows[k - 1].failed.high.min(rows[k].failed.high);
        }
        rows
    }

    /// What half the spread of each number saves of the failures within the years, the most first.
    /// `scores` of a unit by its number.
    pub fn saved(
        &self,
        failure: Failure,
        names: &[String],
        marginals: &[&Marginal],
        scores: impl Fn(u64) -> Vec<f64>,
    ) -> Vec<SavedRecord> {
        let way = failure as usize;
        let last = self.years.len() - 1;
        let mut terms: Vec<Vec<f64>> = vec![Vec::new(); names.len()];
        for (n, unit) in self.units.iter().enumerate() {
            if unit.worst[way][last] < 0.0 {
                continue;
            }
            for ((term, marginal), z) in terms.iter_mut().zip(marginals).zip(scores(n as u64)) {
                term.push(unit.weight * (1.0 - marginal.halved(z)));
            }
        }
        let mut all: Vec<SavedRecord> = names
            .iter()
            .zip(terms)
            .map(|(path, terms)| SavedRecord {
                path: path.clone(),
                saved: difference(terms.into_iter(), self.units.len() as u64),
            })
            .collect();
        all.sort_by(|a, b| b.saved.share.total_cmp(&a.saved.share));
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A published life table: of 90 units 4, 21, 30, 25, 8 and 2 fail in six intervals; printed are the
    /// share failed, the failures and the hazard of each interval ("Weibull Analysis", a course on
    /// reliability, chapter IV, scribd.com/doc/200372607; seen as the text of the stored page).
    #[test]
    fn a_published_life_table() {
        let fail = [4, 21, 30, 25, 8, 2];
        let years: Vec<f64> = (0..=6).map(f64::from).collect();
        let unit = |at: usize| {
            let margin = |k: usize| if k > at { 1.0 } else { -1.0 };
            let own: Vec<f64> = (0..=6).map(margin).collect();
            let never = vec![f64::NEG_INFINITY; 7];
            Drawn {
                weight: 1.0,
                worst: [own, never.clone(), never],
            }
        };
        let units: Vec<Drawn> = (fail.iter().enumerate())
            .flat_map(|(at, count)| vec![unit(at); *count])
            .collect();
        let rates = Rates {
            mixture: &Mixture::new(1, Vec::new()),
            units: &units,
            years: &years,
            off_m: [0.0; 3],
        };
        let rows = rates.by_year(Failure::LeavesLimitsLate);
        let failed = [0.044, 0.278, 0.611, 0.889, 0.978, 1.000];
        let a_year = [0.044, 0.233, 0.333, 0.278, 0.089, 0.022];
        let hazard = [0.044, 0.244, 0.462, 0.714, 0.800, 1.000];
        for (k, row) in rows[1..].iter().enumerate() {
            let printed = |x: f64| (x * 1e3).round() / 1e3;
            assert_eq!(printed(row.failed.share), failed[k], "{k}");
            assert_eq!(
                printed(row.per_year.expect("a year").share),
                a_year[k],
                "{k}"
            );
            assert_eq!(
                printed(row.hazard_per_year.expect("some left")),
                hazard[k],
                "{k}"
            );
        }
    }
}
