//! Linear least squares by normal equations and Cholesky's decomposition, in plain operations in a
//! fixed order: the same bytes on every machine. For bases that are nearly orthogonal over the points,
//! as Hermite's polynomials are over normal scores; elsewhere the condition is squared.

/// Coefficients of `columns` that come nearest to each right-hand side, a list each; `None` where the
/// columns depend on each other. `row(n, out)` writes the columns at point `n`.
pub fn fit(
    points: usize,
    columns: usize,
    row: impl Fn(usize, &mut [f64]),
    sides: &[Vec<f64>],
) -> Option<Vec<Vec<f64>>> {
    let mut gram = vec![0.0; columns * columns];
    let mut right = vec![vec![0.0; columns]; sides.len()];
    let mut at = vec![0.0; columns];
    for n in 0..points {
        row(n, &mut at);
        for (i, a) in at.iter().enumerate() {
            let to = &mut gram[i * columns..i * columns + i + 1];
            to.iter_mut().zip(&at).for_each(|(g, b)| *g += a * b);
        }
        for (right, side) in right.iter_mut().zip(sides) {
            right
                .iter_mut()
                .zip(&at)
                .for_each(|(r, a)| *r += a * side[n]);
        }
    }
    decompose(&mut gram, columns)?;
    for side in &mut right {
        solve(&gram, columns, side);
    }
    Some(right)
}

/// Cholesky's lower triangle in place of the matrix.
fn decompose(m: &mut [f64], n: usize) -> Option<()> {
    for i in 0..n {
        for j in 0..=i {
            let (a, b) = (&m[i * n..i * n + j], &m[j * n..j * n + j]);
            let sum: f64 = a.iter().zip(b).map(|(a, b)| a * b).sum();
            let left = m[i * n + j] - sum;
            if i == j {
                // What is left of a column that the others make up.
                if !(left > 1e-12 * m[i * n + i]) {
                    return None;
                }
                m[i * n + i] = left.sqrt();
            } else {
                m[i * n + j] = left / m[j * n + j];
            }
        }
    }
    Some(())
}

fn solve(lower: &[f64], n: usize, x: &mut [f64]) {
    for i in 0..n {
        let sum: f64 = (0..i).map(|j| lower[i * n + j] * x[j]).sum();
        x[i] = (x[i] - sum) / lower[i * n + i];
    }
    for i in (0..n).rev() {
        let sum: f64 = (i + 1..n).map(|j| lower[j * n + i] * x[j]).sum();
        x[i] = (x[i] - sum) / lower[i * n + i];
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST's Norris: a line through 36 points, certified intercept and slope (statistical reference
    /// data sets, "Norris", linear regression; the points and digits from memory).
    #[test]
    fn the_line_of_norris() {
        let x = [
            0.2, 337.4, 118.2, 884.6, 10.1, 226.5, 666.3, 996.3, 448.6, 777.0, 558.2, 0.4, 0.6,
            775.5, 666.9, 338.0, 447.5, 11.6, 556.0, 228.1, 995.8, 887.6, 120.2, 0.3, 0.3, 556.8,
            339.1, 887.2, 999.0, 779.0, 11.1, 118.3, 229.2, 669.1, 448.9, 0.5,
        ];
        let y = [
            0.1, 338.8, 118.1, 888.0, 9.2, 228.1, 668.5, 998.5, 449.1, 778.9, 559.2, 0.3, 0.1,
            778.1, 668.8, 339.3, 448.9, 10.8, 557.7, 228.3, 998.0, 888.8, 119.6, 0.3, 0.6, 557.6,
            339.3, 888.0, 998.5, 778.9, 10.2, 117.6, 228.9, 668.4, 449.2, 0.2,
        ];
        let row = |n: usize, out: &mut [f64]| out.copy_from_slice(&[1.0, x[n]]);
        let found = fit(36, 2, row, &[y.to_vec()]).expect("a line");
        assert!((found[0][0] / -0.262_323_073_774_029 - 1.0).abs() < 1e-9);
        assert!((found[0][1] / 1.002_116_818_020_45 - 1.0).abs() < 1e-12);
    }

    #[test]
    fn columns_that_depend_have_no_fit() {
        let row = |n: usize, out: &mut [f64]| out.copy_from_slice(&[n as f64, 2.0 * n as f64]);
        assert!(fit(9, 2, row, &[vec![1.0; 9]]).is_none());
    }
}
