//! Where guesses of the later rounds are drawn: a cloud with heavy tails about what has been found.

use super::latent::{Beliefs, COUNT, Guess, LATE, LOSS};
use crate::family::{Drawn, Family, Placing};
use crate::statistics::normal;
use crate::statistics::stream::Stream;

/// Numbers of a guess in coordinates in which one design can stand for another, and which have no walls.
///
/// The pace is replaced by the cold trip time at twice the rating, lost preload and friction of a worn part by
/// what they do to the release travel: those are what evidence sees, whatever the design. Every other number
/// is replaced by the normal score of its rank among what is believed of it.
pub const DIMENSIONS: usize = COUNT + 2;
/// See [`DIMENSIONS`].
pub type Coordinates = [f64; DIMENSIONS];

/// Degrees of freedom of the tails (even, so that their draws are sums of squares).
const TAILS: usize = 10;
/// Least width in each coordinate.
const FLOOR: f64 = 0.012;
/// Multiple of the rating at which trip times are compared: always above the trip point.
const AT: f64 = 2.0;

/// The coordinates of one hypothesis.
#[derive(Debug, Clone)]
pub struct Frame<'a> {
    /// The family.
    pub family: &'a Family,
    /// What is believed.
    pub beliefs: &'a Beliefs,
    /// Lost preload and friction are measured by the travel.
    pub early: bool,
    /// Friction.
    pub late: bool,
}

impl Frame<'_> {
    fn share(&self, member: usize) -> f64 {
        self.family.members()[member].preload_share
    }

    fn time_per_pace(&self, member: usize, trip_multiple: f64) -> f64 {
        self.family.members()[member].cold_trip_s((AT / trip_multiple).max(1.02))
    }

    fn by_travel(&self, k: usize) -> bool {
        k == LOSS && self.early || k == LATE && self.late
    }

    /// Coordinates of a guess, and the logarithm of their volume for one of guesses; `None` outside what is
    /// believed.
    pub fn coordinates(&self, guess: &Guess) -> Option<(Coordinates, f64)> {
        let p = guess.drawn.placing;
        let share = self.share(guess.drawn.member);
        let mut at = [0.0; DIMENSIONS];
        let mut volume = 0.0;
        for k in 0..COUNT {
            let x = guess.x[k];
            if self.by_travel(k) {
                (at[k], volume) = if k == LOSS {
                    (share * x, volume + share.ln())
                } else {
                    let travel = 1.0 + share * x.exp_m1();
                    (travel.ln(), volume + (share * x.exp() / travel).ln())
                };
                continue;
            }
            let density = self.beliefs[k].log(x);
            let z = normal::quantile(self.beliefs[k].below(x));
            if !(density.is_finite() && z.is_finite()) {
                return None;
            }
            at[k] = z;
            volume += density - normal::density(z).ln();
        }
        let (low, high) = self.family.trip_multiples();
        let z = normal::quantile((p.trip_multiple - low) / (high - low));
        if !z.is_finite() {
            return None;
        }
        at[COUNT] = z;
        volume -= (high - low).ln() + normal::density(z).ln();
        at[COUNT + 1] = (p.pace * self.time_per_pace(guess.drawn.member, p.trip_multiple)).ln();
        Some((at, volume))
    }

    fn guess_at(&self, member: usize, at: &Coordinates) -> Guess {
        let share = self.share(member);
        let mut x = [0.0; COUNT];
        for k in 0..COUNT {
            x[k] = if self.by_travel(k) {
                if k == LOSS {
                    at[k] / share
                } else {
                    // A force that is not positive: the beliefs turn it away.
                    let force = at[k].exp_m1() / share;
                    if force > -0.99 { force.ln_1p() } else { -5.0 }
                }
            } else {
                self.beliefs[k].quantile(normal::cdf(at[k]).clamp(1e-15, 1.0 - 1e-15))
            };
        }
        let (low, high) = self.family.trip_multiples();
        let trip_multiple = low + (high - low) * normal::cdf(at[COUNT]);
        Guess {
            drawn: Drawn {
                member,
                placing: Placing {
                    trip_multiple,
                    pace: at[COUNT + 1].exp() / self.time_per_pace(member, trip_multiple),
                },
            },
            x,
        }
    }
}

/// A multivariate Student distribution, and weights of the designs.
#[derive(Debug, Clone)]
pub struct Cloud {
    mean: Coordinates,
    /// Lower triangle of the square root of the scale matrix.
    root: [[f64; DIMENSIONS]; DIMENSIONS],
    log_norm: f64,
    /// Cumulative weights of the designs.
    designs: Vec<f64>,
}

impl Cloud {
    /// A cloud about weighted points of designs; `None` when there are none.
    pub fn of(points: &[(f64, usize, Coordinates)], designs: usize) -> Option<Cloud> {
        let total: f64 = points.iter().map(|p| p.0).sum();
        if !(total > 0.0) {
            return None;
        }
        let mut mean = [0.0; DIMENSIONS];
        for (w, _, at) in points {
            for (m, a) in mean.iter_mut().zip(at) {
                *m += w * a / total;
            }
        }
        let mut matrix = [[0.0; DIMENSIONS]; DIMENSIONS];
        let mut squares = 0.0;
        for (w, _, at) in points {
            let w = w / total;
            squares += w * w;
            for i in 0..DIMENSIONS {
                for j in 0..=i {
                    matrix[i][j] += w * (at[i] - mean[i]) * (at[j] - mean[j]);
                }
            }
        }
        // Few points make correlations up: they are believed by how many points there are.
        let believed = 1.0 / (1.0 + 2.0 * DIMENSIONS as f64 * squares);
        for i in 0..DIMENSIONS {
            for j in 0..i {
                matrix[i][j] *= believed;
            }
            matrix[i][i] = matrix[i][i].max(FLOOR * FLOOR);
        }
        let root = square_root(&matrix)?;
        // Half of the draws keep to designs that have done well, half go anywhere.
        let mut weights = vec![0.5 / designs as f64; designs];
        for (w, design, _) in points {
            weights[*design] += 0.5 * w / total;
        }
        Some(Cloud {
            mean,
            log_norm: log_norm(&root),
            root,
            designs: weights,
        })
    }

    /// A narrower cloud about a point, drawn in towards the mean.
    pub fn about(&self, at: &Coordinates, narrow: f64) -> Cloud {
        let mut cloud = self.clone();
        let draw_in = (1.0 - narrow * narrow).sqrt();
        for i in 0..DIMENSIONS {
            cloud.mean[i] = self.mean[i] + draw_in * (at[i] - self.mean[i]);
            for j in 0..=i {
                cloud.root[i][j] *= narrow;
            }
        }
        cloud.log_norm = log_norm(&cloud.root);
        cloud
    }

    /// A draw.
    pub fn draw(&self, frame: &Frame<'_>, stream: &Stream) -> Option<Guess> {
        let mut left = stream.uniform(0);
        let mut member = self.designs.len().checked_sub(1)?;
        for (k, w) in self.designs.iter().enumerate() {
            if left < *w {
                member = k;
                break;
            }
            left -= w;
        }
        let tail: f64 = (0..TAILS as u32)
            .map(|k| stream.normal(1 + k).powi(2))
            .sum::<f64>()
            / TAILS as f64;
        let stretch = 1.0 / tail.max(1e-6).sqrt();
        let z: Coordinates =
            std::array::from_fn(|k| stretch * stream.normal(1 + (TAILS + k) as u32));
        let mut at = self.mean;
        for i in 0..DIMENSIONS {
            for j in 0..=i {
                at[i] += self.root[i][j] * z[j];
            }
        }
        Some(frame.guess_at(member, &at))
    }

    /// Logarithm of the density at coordinates of a design.
    pub fn log(&self, member: usize, at: &Coordinates) -> f64 {
        let mut square = 0.0;
        let mut z = [0.0; DIMENSIONS];
        for i in 0..DIMENSIONS {
            let mut rest = at[i] - self.mean[i];
            for j in 0..i {
                rest -= self.root[i][j] * z[j];
            }
            z[i] = rest / self.root[i][i];
            square += z[i] * z[i];
        }
        let nu = TAILS as f64;
        self.designs[member].ln() + self.log_norm
            - 0.5 * (nu + DIMENSIONS as f64) * (square / nu).ln_1p()
    }
}

/// Cholesky's square root; `None` when the matrix has none.
fn square_root(
    matrix: &[[f64; DIMENSIONS]; DIMENSIONS],
) -> Option<[[f64; DIMENSIONS]; DIMENSIONS]> {
    let mut root = [[0.0; DIMENSIONS]; DIMENSIONS];
    for i in 0..DIMENSIONS {
        for j in 0..=i {
            let mut rest = matrix[i][j];
            for k in 0..j {
                rest -= root[i][k] * root[j][k];
            }
            if i == j {
                if !(rest > 0.0) {
                    return None;
                }
                root[i][i] = rest.sqrt();
            } else {
                root[i][j] = rest / root[j][j];
            }
        }
    }
    Some(root)
}

/// Logarithm of the constant of a Student density.
fn log_norm(root: &[[f64; DIMENSIONS]; DIMENSIONS]) -> f64 {
    let (nu, d) = (TAILS as f64, DIMENSIONS as f64);
    let determinant: f64 = (0..DIMENSIONS).map(|i| root[i][i].ln()).sum();
    libm::lgamma(0.5 * (nu + d))
        - libm::lgamma(0.5 * nu)
        - 0.5 * d * (nu * std::f64::consts::PI).ln()
        - determinant
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnose::Density;
    use crate::family::Nameplate;
    use crate::statistics::stream::Purpose;

    #[test]
    fn coordinates_go_there_and_back_and_the_density_is_that_of_the_draws() {
        let family = Family::new(&Nameplate::of_rating(10.0), 24).unwrap();
        let mut beliefs: Beliefs = std::array::from_fn(|_| Density::normal(0.3, 0.1));
        beliefs[0] = Density::half(0.05);
        beliefs[1] = Density::mixed(0.5, Density::half(0.04), Density::cut(0.35, 0.3, 0.0, 1.5));
        for (early, late) in [(false, false), (true, false), (false, true)] {
            let frame = Frame {
                family: &family,
                beliefs: &beliefs,
                early,
                late,
            };
            let stream = |k| Stream::new(5, Purpose::other(1), k);
            let mut points = Vec::new();
            for k in 0..300 {
                let s = stream(k);
                let guess = Guess {
                    drawn: family.draw(&s).unwrap(),
                    x: std::array::from_fn(|i| beliefs[i].quantile(s.uniform(i as u32))),
                };
                let (at, _) = frame.coordinates(&guess).unwrap();
                let back = frame.guess_at(guess.drawn.member, &at);
                assert!((back.drawn.placing.pace / guess.drawn.placing.pace - 1.0).abs() < 1e-9);
                for (a, b) in back.x.iter().zip(&guess.x) {
                    assert!((a - b).abs() < 1e-7, "{a} {b}");
                }
                points.push((1.0, guess.drawn.member, at));
            }
            // A narrower cloud has mass one under the draws of the wider one.
            let cloud = Cloud::of(&points, family.members().len()).unwrap();
            let narrow = cloud.about(&cloud.mean, 0.8);
            let n = 20_000;
            let mut sum = 0.0;
            for k in 0..n {
                let guess = cloud.draw(&frame, &stream(10_000 + k)).unwrap();
                if let Some((at, _)) = frame.coordinates(&guess) {
                    let m = guess.drawn.member;
                    sum += (narrow.log(m, &at) - cloud.log(m, &at)).exp();
                }
            }
            assert!((sum / n as f64 - 1.0).abs() < 0.05, "{}", sum / n as f64);
        }
    }
}
