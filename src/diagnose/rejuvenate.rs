//! Steps from one particle to the next that leave a distribution as it is (N. Metropolis et al.,
//! 1953; W. K. Hastings, 1970).

use super::latent::{COUNT, LATE, LOSS, Particle, Prior};
use crate::family::Family;
use crate::statistics::stream::Stream;

/// Numbers of a particle that are walked: the unknowns, the trip point, the logarithm of the pace.
pub const DIMENSIONS: usize = COUNT + 2;
/// The numbers of a particle.
pub type Numbers = [f64; DIMENSIONS];

/// Multiple of the rating at which designs are compared: always above the trip point.
const AT: f64 = 2.0;
/// Part of the steps that change the design.
const DESIGNS: f64 = 0.3;

/// Where particles may walk.
pub struct Ground<'a> {
    family: &'a Family,
    low: Numbers,
    high: Numbers,
    /// Lost preload is a cause: it is kept by its effect when the design changes; the same for
    /// friction.
    early: bool,
    late: bool,
}

impl<'a> Ground<'a> {
    /// Of prior; `early` and `late`: whether wear in that direction is believed in.
    pub fn of(family: &'a Family, prior: &Prior, early: bool, late: bool) -> Ground<'a> {
        let mut low = [0.0; DIMENSIONS];
        let mut high = [0.0; DIMENSIONS];
        for k in 0..COUNT {
            (low[k], high[k]) = prior.ends(k);
        }
        let (multiples, paces) = (family.trip_multiples(), family.paces());
        (low[COUNT], high[COUNT]) = multiples;
        (low[COUNT + 1], high[COUNT + 1]) = (paces.0.ln(), paces.1.ln());
        Ground {
            family,
            low,
            high,
            early,
            late,
        }
    }

    /// A step from a particle, and the logarithm of what it stretches; `root` is the square root of
    /// the covariance of the steps.
    pub fn step(
        &self,
        particle: &Particle,
        root: &[Numbers; DIMENSIONS],
        stream: &Stream,
    ) -> (Particle, f64) {
        if stream.uniform(0) < DESIGNS {
            return self.other_design(particle, stream);
        }
        let mut at = numbers(particle);
        let z: Numbers = std::array::from_fn(|k| stream.normal(2 + k as u32));
        for i in 0..DIMENSIONS {
            for j in 0..=i {
                at[i] += root[i][j] * z[j];
            }
            // Walls throw steps back, which keeps them as likely there and back.
            if at[i] < self.low[i] {
                at[i] = 2.0 * self.low[i] - at[i];
            }
            if at[i] > self.high[i] {
                at[i] = 2.0 * self.high[i] - at[i];
            }
        }
        (of_numbers(particle, &at), 0.0)
    }

    /// Another design that trips as soon, and whose wear has the same effect.
    fn other_design(&self, particle: &Particle, stream: &Stream) -> (Particle, f64) {
        let members = self.family.members();
        let mut other = *particle;
        let mut stretch: f64 = 0.0;
        other.drawn.member = stream.below(1, members.len() as u64) as usize;
        let (old, new) = (
            &members[particle.drawn.member],
            &members[other.drawn.member],
        );
        let multiple = (AT / particle.drawn.placing.trip_multiple).max(1.02);
        other.drawn.placing.pace *= old.cold_trip_s(multiple) / new.cold_trip_s(multiple);
        let shares = old.preload_share / new.preload_share;
        if self.early {
            other.x[LOSS] *= shares;
            stretch += shares.ln();
        }
        if self.late {
            // A force that is not positive: what is believed turns it away.
            let force = (1.0 + shares * particle.x[LATE].exp_m1()).max(1e-3);
            other.x[LATE] = force.ln();
            stretch += shares.ln() + particle.x[LATE] - other.x[LATE];
        }
        (other, stretch)
    }
}

/// The numbers of a particle.
pub fn numbers(particle: &Particle) -> Numbers {
    let mut at = [0.0; DIMENSIONS];
    at[..COUNT].copy_from_slice(&particle.x);
    at[COUNT] = particle.drawn.placing.trip_multiple;
    at[COUNT + 1] = particle.drawn.placing.pace.ln();
    at
}

/// The particle of the same design with other numbers.
fn of_numbers(particle: &Particle, at: &Numbers) -> Particle {
    let mut other = *particle;
    other.x.copy_from_slice(&at[..COUNT]);
    other.drawn.placing.trip_multiple = at[COUNT];
    other.drawn.placing.pace = at[COUNT + 1].exp();
    other
}

/// The square root of the covariance of particles about the mean of their design (Cholesky), times
/// a factor: each design lies on a ridge of its own, and steps along it are wanted, not from one to
/// the other.
pub fn spread(
    particles: &[(usize, Numbers)],
    designs: usize,
    factor: f64,
) -> [Numbers; DIMENSIONS] {
    let mut means = vec![([0.0; DIMENSIONS], 0.0); designs];
    for (design, at) in particles {
        let (mean, count) = &mut means[*design];
        *count += 1.0;
        for (m, a) in mean.iter_mut().zip(at) {
            *m += (a - *m) / *count;
        }
    }
    let found = means.iter().filter(|m| m.1 > 0.0).count();
    let free = (particles.len() - found).max(1) as f64;
    let mut matrix = [[0.0; DIMENSIONS]; DIMENSIONS];
    for (design, at) in particles {
        let (mean, _) = &means[*design];
        for i in 0..DIMENSIONS {
            for j in 0..=i {
                matrix[i][j] += (at[i] - mean[i]) * (at[j] - mean[j]) / free;
            }
        }
    }
    let mut root = [[0.0; DIMENSIONS]; DIMENSIONS];
    for i in 0..DIMENSIONS {
        for j in 0..=i {
            let mut rest = matrix[i][j];
            for k in 0..j {
                rest -= root[i][k] * root[j][k];
            }
            root[i][j] = if i == j {
                rest.max(1e-6 * matrix[i][i]).max(1e-16).sqrt()
            } else {
                rest / root[j][j]
            };
        }
    }
    for row in &mut root {
        for r in row {
            *r *= factor;
        }
    }
    root
}
