//! Hermite's polynomials of a unit's scores, and sums over them.

use crate::solve::wide::{MOST_LANES, dispatch};

/// Most terms, and the least that one may matter to a logarithm.
const MOST_TERMS: usize = 512;
const LEAST_TERM: f64 = 1e-9;
/// Orders of an input, from 0.
const ORDERS: usize = 5;

/// Which of the polynomials of all inputs a term multiplies, [`ORDERS`] an input; that of the first
/// input of order 0, which is 1, stands for none.
pub type Term = [usize; 3];

/// Products of polynomials, and what each adds to each number of a row.
pub struct Basis {
    terms: Vec<Term>,
    /// By term, then number that was fitted; rows are filled up to whole registers.
    coefficients: Vec<f64>,
    width: usize,
    /// Which numbers were fitted, and how many there are.
    fitted: Vec<usize>,
    count: usize,
}

impl Basis {
    /// Of coefficients by number, then term; none for a number that is not known.
    pub fn new(terms: Vec<Term>, columns: &[Option<Vec<f64>>]) -> Basis {
        let known = columns.iter().enumerate();
        let known: Vec<(usize, &Vec<f64>)> = known
            .filter_map(|(n, own)| Some((n, own.as_ref()?)))
            .collect();
        let width = known.len().next_multiple_of(MOST_LANES);
        let mut coefficients = vec![0.0; width * terms.len()];
        for (lane, (_, own)) in known.iter().enumerate() {
            let to = coefficients[lane..].iter_mut().step_by(width);
            to.zip(*own).for_each(|(to, c)| *to = *c);
        }
        Basis {
            terms,
            coefficients,
            width,
            fitted: known.into_iter().map(|(n, _)| n).collect(),
            count: columns.len(),
        }
    }

    /// The numbers at some scores; NaN where one is not known.
    pub fn row(&self, scores: &[f64]) -> Vec<f64> {
        let mut products = vec![0.0; self.terms.len()];
        products_at(&self.terms, scores, &mut products);
        let mut sums = vec![0.0; self.width];
        dispatch(Sums {
            products: &products,
            coefficients: &self.coefficients,
            sums: &mut sums,
        });
        let mut row = vec![f64::NAN; self.count];
        self.fitted.iter().zip(sums).for_each(|(n, x)| row[*n] = x);
        row
    }
}

/// One, and each input by itself.
pub fn straight(inputs: usize) -> Vec<Term> {
    let alone = (0..inputs).map(|i| [i * ORDERS + 1, 0, 0]);
    std::iter::once([0; 3]).chain(alone).collect()
}

/// Products up to the fourth order together, of three inputs at most: those that may matter most,
/// where each input moves a logarithm by so much a standard deviation.
pub fn terms(sizes: &[f64]) -> Vec<Term> {
    let of = |input: usize, order: usize| input * ORDERS + order;
    let power = |input: usize, order: usize| sizes[input].powi(order as i32);
    let mut all: Vec<(f64, Term)> = vec![(f64::INFINITY, [0; 3])];
    for i in 0..sizes.len() {
        all.extend((1..ORDERS).map(|n| (power(i, n), [of(i, n), 0, 0])));
        for j in 0..i {
            for (n, m) in [(1, 1), (2, 1), (1, 2), (3, 1), (2, 2), (1, 3)] {
                all.push((power(i, n) * power(j, m), [of(i, n), of(j, m), 0]));
            }
            for k in 0..j {
                for [n, m, l] in [[1, 1, 1], [2, 1, 1], [1, 2, 1], [1, 1, 2]] {
                    let size = power(i, n) * power(j, m) * power(k, l);
                    all.push((size, [of(i, n), of(j, m), of(k, l)]));
                }
            }
        }
    }
    all.retain(|(size, _)| *size > LEAST_TERM);
    all.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(&b.1)));
    all.truncate(MOST_TERMS);
    all.into_iter().map(|(_, term)| term).collect()
}

/// Every term at these scores.
pub fn products_at(terms: &[Term], scores: &[f64], out: &mut [f64]) {
    let orders: Vec<f64> = scores
        .iter()
        .flat_map(|x| {
            let squared = x * x;
            let even = squared * (squared - 6.0) + 3.0;
            [1.0, *x, squared - 1.0, x * (squared - 3.0), even]
        })
        .collect();
    for (value, [a, b, c]) in out.iter_mut().zip(terms) {
        *value = orders[*a] * orders[*b] * orders[*c];
    }
}

/// Adds up rows of coefficients, each times its product: sums side by side in registers, several of
/// them so that none waits for the one before, always in the same order.
struct Sums<'a> {
    products: &'a [f64],
    coefficients: &'a [f64],
    sums: &'a mut [f64],
}

impl pulp::WithSimd for Sums<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: pulp::Simd>(self, _: S) {
        const AT_ONCE: usize = 4;
        let width = self.sums.len();
        for (register, sums) in self.sums.chunks_exact_mut(MOST_LANES).enumerate() {
            let mut own = [[0.0; MOST_LANES]; AT_ONCE];
            let rows = self.coefficients[register * MOST_LANES..].chunks(width);
            let mut terms = self.products.iter().zip(rows);
            for _ in 0..self.products.len().div_ceil(AT_ONCE) {
                for (own, (product, row)) in own.iter_mut().zip(&mut terms) {
                    for (sum, c) in own.iter_mut().zip(&row[..MOST_LANES]) {
                        *sum += product * c;
                    }
                }
            }
            for (lane, sum) in sums.iter_mut().enumerate() {
                *sum = own.iter().map(|o| o[lane]).sum();
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_are_those_of_the_terms() {
        let all = terms(&[0.1, 0.05]);
        let one: Vec<f64> = (0..all.len()).map(|n| 1.0 / (n + 1) as f64).collect();
        let two: Vec<f64> = one.iter().map(|c| c * c).collect();
        let basis = Basis::new(all.clone(), &[Some(one.clone()), None, Some(two.clone())]);
        let scores = [0.3, -1.2];
        let mut products = vec![0.0; all.len()];
        products_at(&all, &scores, &mut products);
        let row = basis.row(&scores);
        for (number, column) in [(0, one), (2, two)] {
            let sum: f64 = products.iter().zip(&column).map(|(p, c)| p * c).sum();
            assert!((row[number] - sum).abs() < 1e-14);
        }
        assert!(row[1].is_nan());
    }

    #[test]
    fn products_that_matter_are_there_once_and_the_largest_first() {
        let all = terms(&[0.1, 0.02, 0.1]);
        assert_eq!(all[..3], [[0; 3], [1, 0, 0], [2 * ORDERS + 1, 0, 0]]);
        // All 34 products of order 4 or less of three inputs, and the constant.
        assert_eq!(all.len(), 35);
        let mut once = all.clone();
        once.sort_unstable();
        once.dedup();
        assert_eq!(once.len(), all.len());
        assert_eq!(terms(&[0.3; 12]).len(), MOST_TERMS);
    }
}
