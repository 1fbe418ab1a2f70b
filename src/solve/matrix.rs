//! A matrix with a band and a border, stored densely and factorised within its profile.
//!
//! The unknowns along a strip couple only within an element (a band); the few lumped nodes couple
//! to many of them (a border of last rows and columns). Elimination without row exchanges keeps
//! that profile: no entry outside it ever fills.

/// Which entries of a matrix can be non-zero.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Shape {
    /// Unknowns in the band (first).
    pub band: usize,
    /// Largest distance between coupled unknowns of the band.
    pub half_width: usize,
    /// Unknowns in the border (last).
    pub border: usize,
    /// Unknowns across the layers at each place along the strip (0: none).
    ///
    /// In a state they stand behind all others, place by place; in the matrix each stands beside
    /// its place, so that what couples stays close. The band counts them, and the border does not.
    pub across: usize,
}

impl Shape {
    /// A full matrix.
    pub fn full(n: usize) -> Shape {
        Shape {
            band: n,
            half_width: n,
            border: 0,
            across: 0,
        }
    }

    /// Number of unknowns.
    pub fn len(&self) -> usize {
        self.band + self.border
    }

    /// Whether there is no unknown.
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Row and column in the matrix of unknown `i` of a state.
    fn place(&self, i: usize) -> usize {
        let each = 1 + self.across;
        let places = self.band / each;
        if i < places {
            i * each
        } else if i < places + self.border {
            self.band + i - places
        } else {
            let k = i - places - self.border;
            k / self.across * each + 1 + k % self.across
        }
    }

    /// First row past those of the band that row `k` reaches.
    fn reach(&self, k: usize) -> usize {
        if k < self.band {
            (k + self.half_width + 1).min(self.band)
        } else {
            self.len()
        }
    }
}

/// A square matrix of a given [`Shape`].
#[derive(Debug, Clone)]
pub struct ProfileMatrix {
    shape: Shape,
    n: usize,
    a: Vec<f64>,
}

impl ProfileMatrix {
    /// All zero.
    pub fn zeros(shape: Shape) -> ProfileMatrix {
        let n = shape.len();
        ProfileMatrix {
            shape,
            n,
            a: vec![0.0; n * n],
        }
    }

    /// Set every entry to zero.
    pub fn clear(&mut self) {
        self.a.fill(0.0);
    }

    /// Entry.
    pub fn get(&self, i: usize, j: usize) -> f64 {
        self.a[self.shape.place(i) * self.n + self.shape.place(j)]
    }

    /// Add to an entry, which must lie within the shape.
    pub fn add(&mut self, i: usize, j: usize, v: f64) {
        let (i, j) = (self.shape.place(i), self.shape.place(j));
        debug_assert!(
            i >= self.shape.band || j >= self.shape.band || i.abs_diff(j) <= self.shape.half_width,
            "entry ({i}, {j}) lies outside the shape"
        );
        self.a[i * self.n + j] += v;
    }

    /// Multiply a row.
    pub fn scale_row(&mut self, i: usize, factor: f64) {
        let i = self.shape.place(i);
        self.a[i * self.n..(i + 1) * self.n]
            .iter_mut()
            .for_each(|v| *v *= factor);
    }

    /// `self = shift * identity - other`.
    pub fn set_shifted_negative(&mut self, other: &ProfileMatrix, shift: f64) {
        for (s, o) in self.a.iter_mut().zip(&other.a) {
            *s = -o;
        }
        for i in 0..self.n {
            self.a[i * self.n + i] += shift;
        }
    }

    /// Factorise in place into L U. Returns false when a pivot vanishes against its row.
    #[must_use]
    pub fn factorise(&mut self) -> bool {
        let n = self.n;
        for k in 0..n {
            let reach = self.shape.reach(k);
            let (head, tail) = self.a.split_at_mut((k + 1) * n);
            let pivot_row = &head[k * n..];
            let pivot = pivot_row[k];
            let largest = pivot_row.iter().fold(0.0f64, |m, v| m.max(v.abs()));
            if !(pivot.abs() > 1e-13 * largest) {
                return false;
            }
            let inverse = 1.0 / pivot;
            let border_start = self.shape.band.max(k + 1);
            let mut eliminate = |i: usize| {
                let row = &mut tail[(i - k - 1) * n..(i - k) * n];
                if row[k] == 0.0 {
                    return;
                }
                let factor = row[k] * inverse;
                row[k] = factor;
                let (from, to) = (k + 1, reach);
                for (r, p) in row[from..to].iter_mut().zip(&pivot_row[from..to]) {
                    *r -= factor * p;
                }
                if k < self.shape.band {
                    for (r, p) in row[border_start..]
                        .iter_mut()
                        .zip(&pivot_row[border_start..])
                    {
                        *r -= factor * p;
                    }
                }
            };
            if k < self.shape.band {
                (k + 1..reach).for_each(&mut eliminate);
                (border_start..n).for_each(&mut eliminate);
            } else {
                (k + 1..n).for_each(&mut eliminate);
            }
        }
        true
    }

    /// Solve with the factors of [`ProfileMatrix::factorise`], in place.
    pub fn solve(&self, x: &mut [f64]) {
        if self.shape.across == 0 {
            return self.solve_placed(x);
        }
        let mut placed = vec![0.0; self.n];
        for (i, v) in x.iter().enumerate() {
            placed[self.shape.place(i)] = *v;
        }
        self.solve_placed(&mut placed);
        for (i, v) in x.iter_mut().enumerate() {
            *v = placed[self.shape.place(i)];
        }
    }

    fn solve_placed(&self, x: &mut [f64]) {
        let n = self.n;
        for i in 0..n {
            let first = if i < self.shape.band {
                i.saturating_sub(self.shape.half_width)
            } else {
                0
            };
            let row = &self.a[i * n..(i + 1) * n];
            let s: f64 = row[first..i]
                .iter()
                .zip(&x[first..i])
                .map(|(a, b)| a * b)
                .sum();
            x[i] -= s;
        }
        for i in (0..n).rev() {
            let reach = self.shape.reach(i);
            let row = &self.a[i * n..(i + 1) * n];
            let mut s: f64 = row[i + 1..reach]
                .iter()
                .zip(&x[i + 1..reach])
                .map(|(a, b)| a * b)
                .sum();
            if i < self.shape.band {
                let b = self.shape.band;
                s += row[b..]
                    .iter()
                    .zip(&x[b..])
                    .map(|(a, c)| a * c)
                    .sum::<f64>();
            }
            x[i] = (x[i] - s) / row[i];
        }
    }
}
