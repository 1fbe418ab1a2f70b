//! Monotone cubic through tabulated points.

use std::fmt;

/// Piecewise cubic through points, with no overshoot between them.
///
/// Slopes at inner points are the weighted harmonic mean of F. N. Fritsch and J. Butland, "A method
/// for constructing local monotone piecewise cubic interpolants", SIAM J. Sci. Stat. Comput. 5
/// (1984) 300; slopes at the two ends are the shape-preserving three-point formula (C. Moler,
/// Numerical Computing with MATLAB, 2004, section 3.4). Outside the points the curve goes on as a
/// straight line with the end slope.
///
/// ```
/// use relatch::internals::material::Pchip;
/// let curve = Pchip::through(&[(0.0, 1.0), (1.0, 2.0), (3.0, 4.0)]).unwrap();
/// assert_eq!(curve.at_with_slope(2.0), (3.0, 1.0));
/// assert_eq!(curve.integral(0.0, 3.0), 7.5);
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Pchip {
    knots: Vec<Knot>,
}

#[derive(Debug, Clone, Copy, PartialEq)]
struct Knot {
    x: f64,
    y: f64,
    slope: f64,
    /// Integral from the first knot to this one.
    area: f64,
}

/// Why points make no curve.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PchipError {
    /// Fewer than two points.
    TooFew,
    /// A number is not finite.
    NotFinite {
        /// Index of the offending point, from 0.
        index: usize,
    },
    /// Abscissas do not increase.
    NotIncreasing {
        /// Index of the point that does not lie above its predecessor, from 0.
        index: usize,
    },
}

impl fmt::Display for PchipError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            PchipError::TooFew => write!(f, "a table needs at least two points"),
            PchipError::NotFinite { index } => {
                write!(f, "point {} of the table is not a finite number", index + 1)
            }
            PchipError::NotIncreasing { index } => write!(
                f,
                "the temperatures of a table must increase: point {} does not lie above point {index}",
                index + 1
            ),
        }
    }
}

impl std::error::Error for PchipError {}

impl Pchip {
    /// The curve through points given in order of rising abscissa; two points make a straight line.
    ///
    /// # Errors
    /// Fewer than two points, a number that is not finite, or abscissas that do not increase.
    pub fn through(points: &[(f64, f64)]) -> Result<Pchip, PchipError> {
        if points.len() < 2 {
            return Err(PchipError::TooFew);
        }
        for (index, &(x, y)) in points.iter().enumerate() {
            if !(x.is_finite() && y.is_finite()) {
                return Err(PchipError::NotFinite { index });
            }
            if index > 0 && points[index - 1].0 >= x {
                return Err(PchipError::NotIncreasing { index });
            }
        }
        let mut knots: Vec<Knot> = points
            .iter()
            .zip(slopes(points))
            .map(|(&(x, y), slope)| Knot {
                x,
                y,
                slope,
                area: 0.0,
            })
            .collect();
        for i in 1..knots.len() {
            let h = knots[i].x - knots[i - 1].x;
            knots[i].area = knots[i - 1].area + area(&knots[i - 1], &knots[i], h);
        }
        Ok(Pchip { knots })
    }

    /// The same curve with its ordinates multiplied.
    pub(super) fn scaled(&self, factor: f64) -> Pchip {
        let scaled = |k: &Knot| Knot {
            x: k.x,
            y: factor * k.y,
            slope: factor * k.slope,
            area: factor * k.area,
        };
        Pchip {
            knots: self.knots.iter().map(scaled).collect(),
        }
    }

    /// Value and slope.
    pub fn at_with_slope(&self, x: f64) -> (f64, f64) {
        match self.place(x) {
            Place::Outside(end) => (end.y + end.slope * (x - end.x), end.slope),
            Place::Between(left, right) => {
                let h = right.x - left.x;
                let s = (x - left.x) / h;
                let (b, c) = cubic(left, right, h);
                let value = left.y + s * h * (left.slope + s * (b + s * c));
                (value, left.slope + s * (2.0 * b + s * 3.0 * c))
            }
        }
    }

    /// Exact integral of the curve between two abscissas.
    pub fn integral(&self, from: f64, to: f64) -> f64 {
        self.area_to(to) - self.area_to(from)
    }

    /// The points, in order.
    pub fn points(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        self.knots.iter().map(|k| (k.x, k.y))
    }

    fn area_to(&self, x: f64) -> f64 {
        match self.place(x) {
            Place::Outside(end) => {
                let u = x - end.x;
                end.area + u * (end.y + 0.5 * end.slope * u)
            }
            Place::Between(left, right) => {
                let h = right.x - left.x;
                let s = (x - left.x) / h;
                let (b, c) = cubic(left, right, h);
                left.area
                    + s * h * (left.y + s * h * (left.slope / 2.0 + s * (b / 3.0 + s * c / 4.0)))
            }
        }
    }

    fn place(&self, x: f64) -> Place<'_> {
        let (first, last) = (&self.knots[0], &self.knots[self.knots.len() - 1]);
        if x < first.x {
            Place::Outside(first)
        } else if x >= last.x {
            Place::Outside(last)
        } else {
            let right = self.knots.partition_point(|k| k.x <= x).max(1);
            Place::Between(&self.knots[right - 1], &self.knots[right])
        }
    }
}

enum Place<'a> {
    Outside(&'a Knot),
    Between(&'a Knot, &'a Knot),
}

/// The two upper coefficients of `y = left.y + s h (left.slope + s (b + s c))`, s from 0 to 1.
fn cubic(left: &Knot, right: &Knot, h: f64) -> (f64, f64) {
    let secant = (right.y - left.y) / h;
    (
        3.0 * secant - 2.0 * left.slope - right.slope,
        left.slope + right.slope - 2.0 * secant,
    )
}

fn area(left: &Knot, right: &Knot, h: f64) -> f64 {
    h * (0.5 * (left.y + right.y) + h * (left.slope - right.slope) / 12.0)
}

fn slopes(points: &[(f64, f64)]) -> Vec<f64> {
    let widths: Vec<f64> = points.windows(2).map(|w| w[1].0 - w[0].0).collect();
    let secants: Vec<f64> = points
        .windows(2)
        .map(|w| (w[1].1 - w[0].1) / (w[1].0 - w[0].0))
        .collect();
    let last = secants.len() - 1;
    if last == 0 {
        return vec![secants[0]; 2];
    }
    let mut slopes = Vec::with_capacity(points.len());
    slopes.push(end_slope(widths[0], widths[1], secants[0], secants[1]));
    for i in 1..=last {
        slopes.push(inner_slope(
            widths[i - 1],
            widths[i],
            secants[i - 1],
            secants[i],
        ));
    }
    slopes.push(end_slope(
        widths[last],
        widths[last - 1],
        secants[last],
        secants[last - 1],
    ));
    slopes
}

/// Fritsch and Butland (1984), equation 5 in the weighted form.
fn inner_slope(h_left: f64, h_right: f64, left: f64, right: f64) -> f64 {
    if left * right <= 0.0 {
        return 0.0;
    }
    let w_left = 2.0 * h_right + h_left;
    let w_right = h_right + 2.0 * h_left;
    (w_left + w_right) / (w_left / left + w_right / right)
}

/// One-sided three-point slope, limited so that the curve stays monotone.
fn end_slope(h_end: f64, h_next: f64, end: f64, next: f64) -> f64 {
    let slope = ((2.0 * h_end + h_next) * end - h_end * next) / (h_end + h_next);
    if slope * end <= 0.0 {
        0.0
    } else if end * next <= 0.0 && slope.abs() > 3.0 * end.abs() {
        3.0 * end
    } else {
        slope
    }
}
