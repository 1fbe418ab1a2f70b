//! A polynomial for what the engine says of a part, through some hundred parts.
//!
//! Along every tolerance it has the order 4, through its middle, its ends at five standard
//! deviations and halfway; two tolerances together add the product of both, through the corner
//! halfway up.

use super::FailuresError;
use super::part::{Made, Parts, REACH};
use super::shelf::{Shelf, kept};
use crate::predict::parallel;

/// Where each input is asked, in standard deviations from its middle: its lower end and half of it,
/// half of the upper.
type Places = [f64; 4];

/// The polynomial.
pub struct Response {
    middle: Made,
    places: Vec<Places>,
    /// What each term adds: inputs by place, then pairs.
    terms: Vec<Vec<f64>>,
    start: Vec<f64>,
    /// Parts that the engine was asked for.
    pub asked: usize,
}

impl Response {
    /// Asks the engine.
    ///
    /// # Errors
    /// As [`Parts::part`].
    pub fn new(
        parts: &Parts<'_>,
        middle: Made,
        shelf: &dyn Shelf,
        done: &mut (dyn FnMut(f64) + Send),
    ) -> Result<Response, FailuresError> {
        let list = &parts.inputs.list;
        let places: Vec<Places> = list
            .iter()
            .map(|i| {
                let [low, high] = [-REACH, REACH].map(|s| (i.at(s) - i.nominal) / i.deviation);
                [low, 0.5 * low, 0.5 * high, high]
            })
            .collect();
        let mut points: Vec<Vec<f64>> = Vec::new();
        let moved = |moves: &[(usize, f64)]| {
            let mut values = parts.middle();
            for (k, place) in moves {
                values[*k] += place * list[*k].deviation;
            }
            values
        };
        for (k, p) in places.iter().enumerate() {
            points.extend(p.map(|place| moved(&[(k, place)])));
        }
        for k in 0..list.len() {
            for j in 0..k {
                points.push(moved(&[(k, places[k][2]), (j, places[j][2])]));
            }
        }
        let all = points.len() as f64;
        let told = &mut |n: usize| done(n as f64 / all);
        let numbered: Vec<(usize, Vec<f64>)> = points.into_iter().enumerate().collect();
        let found: Vec<Result<Vec<f64>, FailuresError>> = parallel::map(
            &numbered,
            |(n, values)| {
                kept(shelf, &format!("part-{n:06}"), || {
                    Ok(numbers(&parts.part(values)?))
                })
            },
            told,
        );
        let mut start = numbers(&middle);
        let mut terms = Vec::with_capacity(found.len());
        for part in found {
            let mut moved: Vec<f64> = part?;
            moved.iter_mut().zip(&start).for_each(|(m, s)| *m -= s);
            terms.push(moved);
        }
        let mut next = 4 * list.len();
        for k in 0..list.len() {
            for j in 0..k {
                let size = places[k][2] * places[j][2];
                for n in 0..start.len() {
                    let alone = terms[4 * k + 2][n] + terms[4 * j + 2][n];
                    terms[next][n] = (terms[next][n] - alone) / size;
                }
                next += 1;
            }
        }
        start.shrink_to_fit();
        Ok(Response {
            middle,
            places,
            terms,
            start,
            asked: numbered.len() + 1,
        })
    }

    /// The unit at these scores, the tolerances first.
    pub fn unit(&self, parts: &Parts<'_>, scores: &[f64]) -> Made {
        let list = &parts.inputs.list;
        let off: Vec<f64> = list
            .iter()
            .zip(scores)
            .map(|(i, s)| (i.at(*s) - i.nominal) / i.deviation)
            .collect();
        let mut sum = self.start.clone();
        let mut add = |term: usize, factor: f64| {
            if factor != 0.0 {
                let moved = self.terms[term].iter();
                sum.iter_mut()
                    .zip(moved)
                    .for_each(|(s, m)| *s += factor * m);
            }
        };
        for (k, places) in self.places.iter().enumerate() {
            for (n, factor) in along(places, off[k]).into_iter().enumerate() {
                add(4 * k + n, factor);
            }
        }
        let mut next = 4 * list.len();
        for k in 0..list.len() {
            for j in 0..k {
                add(next, off[k] * off[j]);
                next += 1;
            }
        }
        let mut made = self.middle.clone();
        put(&mut made, &sum);
        let drawn = scores.get(list.len()..).unwrap_or(&[]);
        made.constants = parts.draws.at_scores(&made.constants, drawn);
        made
    }
}

/// Lagrange's factors of the four places at `x`; the fifth is the middle, at which they all vanish.
fn along(places: &Places, x: f64) -> Places {
    let mut factors = [0.0; 4];
    for (n, factor) in factors.iter_mut().enumerate() {
        let own = places[n];
        let others = places.iter().enumerate().filter(|(m, _)| *m != n);
        *factor = others.fold(x / own, |f, (_, p)| f * (x - p) / (own - p));
    }
    factors
}

/// What the engine said of a part, number by number.
fn numbers(of: &Made) -> Vec<f64> {
    let mut map = of.map.clone();
    let mut all: Vec<f64> = map.lists().flat_map(|list| list.iter().copied()).collect();
    let c = &of.constants;
    all.extend([
        c.film_ohm,
        c.constriction_ohm,
        c.start_loss,
        c.start_contact_loss,
    ]);
    all
}

fn put(to: &mut Made, numbers: &[f64]) {
    let mut rest = numbers.iter().copied();
    for list in to.map.lists() {
        list.iter_mut().zip(&mut rest).for_each(|(v, n)| *v = n);
    }
    let c = &mut to.constants;
    let last = [
        &mut c.film_ohm,
        &mut c.constriction_ohm,
        &mut c.start_loss,
        &mut c.start_contact_loss,
    ];
    last.into_iter().zip(rest).for_each(|(v, n)| *v = n);
}

#[cfg(test)]
mod tests {
    #[test]
    fn along_one_input_an_order_of_four_is_met_exactly() {
        let places = [-3.0, -1.5, 2.0, 4.0];
        let of = |x: f64| x * (1.0 + x * (0.3 - x * (0.2 + 0.01 * x)));
        for x in [-4.0, 0.0, 0.7, 2.0, 4.5] {
            let factors = super::along(&places, x);
            let sum: f64 = places.iter().zip(factors).map(|(p, f)| f * of(*p)).sum();
            assert!((sum - of(x)).abs() < 1e-12, "{x}");
        }
    }
}
