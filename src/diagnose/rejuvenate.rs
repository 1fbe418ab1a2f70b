//! Steps from one particle to the next that leave a distribution as it is (N. Metropolis et al.,
//! 1953; W. K. Hastings, 1970).

use super::aim::Aim;
use super::hypothesis::{Hypothesis, Trips};
use super::latent::{COUNT, LATE, LOSS, Particle};
use super::outcome::{Noise, about_s};
use super::record::Cause;
use super::scales::Scales;
use crate::evidence::Event;
use crate::family::Drawn;
use crate::statistics::stream::Stream;

/// Numbers of a particle that are walked: the unknowns, how near it is to a timed trip, the
/// logarithm of its times.
pub const DIMENSIONS: usize = COUNT + 2;
/// The numbers of a particle.
pub type Numbers = [f64; DIMENSIONS];

/// Part of the steps that change the design.
const DESIGNS: f64 = 0.3;
/// Part of those that draw one number afresh where the evidence points to: most numbers hardly
/// matter in a case, and one that lies by a measurement or, that being wrong, anywhere else goes
/// from one to the other at once.
const AFRESH: f64 = 0.4;
/// Excesses of the current over the trip point between which designs are compared.
const EXCESS: (f64, f64) = (0.02, 5.0);
/// That at which paces are compared while the design stays.
const AT: f64 = 1.5;

/// A step.
pub struct Step {
    /// Where it leads.
    pub particle: Particle,
    /// Its numbers.
    pub at: Numbers,
    /// Logarithm of how much more densely it is drawn than the step back, and of what it stretches.
    pub stretch: f64,
    /// Whether all numbers went a little.
    pub is_walk: bool,
}

/// Where particles may walk.
///
/// They lie on narrow ridges: a part that trips sooner under a smaller load does as well. So a walk
/// is over how near the load is to what trips it at the time of one timed trip, in place of its trip
/// point; and over its times in place of its pace, which differ from design to design.
pub struct Ground<'a> {
    scales: &'a Scales<'a>,
    aim: &'a Aim<'a>,
    low: Numbers,
    high: Numbers,
    /// Number of the timed trip.
    timed: Option<usize>,
    /// Lost preload is a cause: it is kept by its effect when the design changes; the same for
    /// friction.
    early: bool,
    late: bool,
}

impl<'a> Ground<'a> {
    /// Of a hypothesis and what is believed under it.
    pub fn of(scales: &'a Scales<'a>, hypothesis: &Hypothesis, aim: &'a Aim<'a>) -> Ground<'a> {
        let mut low = [f64::NEG_INFINITY; DIMENSIONS];
        let mut high = [f64::INFINITY; DIMENSIONS];
        for k in 0..COUNT {
            (low[k], high[k]) = aim.prior.ends(k);
        }
        let explained = |e: &Event| {
            let as_it_runs = hypothesis.trips == Trips::AsItRuns || !e.is_in_service();
            as_it_runs && e.mended == 0
        };
        let events = scales.case.events.iter().enumerate();
        let trips = events.filter(|(_, e)| e.is_trip() && explained(e));
        let noise = |e: &Event| Noise::of(e, 100.0).current;
        Ground {
            scales,
            aim,
            low,
            high,
            timed: trips
                .min_by(|a, b| noise(a.1).total_cmp(&noise(b.1)))
                .map(|t| t.0),
            early: hypothesis.has(Cause::WornEarly),
            late: hypothesis.has(Cause::WornLate),
        }
    }

    /// A step from a particle at its numbers; `root` is the square root of the covariance of walks.
    pub fn step(
        &self,
        particle: &Particle,
        at: &Numbers,
        root: &[Numbers; DIMENSIONS],
        stream: &Stream,
    ) -> Step {
        let mut other = *particle;
        let mut to = *at;
        let choice = stream.uniform(0);
        let is_walk = choice >= DESIGNS + AFRESH;
        let mut stretch = 0.0;
        if choice < DESIGNS {
            stretch = self.other_design(&mut other, &mut to, stream);
        } else if choice < DESIGNS + AFRESH {
            let k = stream.below(1, COUNT as u64) as usize;
            let mut x = particle.x;
            x[k] = self.aim.number(k, &x, stream.uniform(2), stream.uniform(3));
            to[k] = x[k];
            stretch = self.aim.log_number(k, &particle.x) - self.aim.log_number(k, &x);
        } else {
            self.walk(&mut to, root, stream);
        }
        self.place(&mut other, &to);
        stretch += (other.drawn.placing.trip_multiple / particle.drawn.placing.trip_multiple).ln();
        Step {
            particle: other,
            at: to,
            stretch,
            is_walk,
        }
    }

    fn walk(&self, at: &mut Numbers, root: &[Numbers; DIMENSIONS], stream: &Stream) {
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
    }

    /// Another design that is as near its timed trip and trips as soon at some current, and whose
    /// wear has the same effect; the logarithm of what that stretches.
    fn other_design(&self, particle: &mut Particle, at: &mut Numbers, stream: &Stream) -> f64 {
        let members = self.scales.family.members();
        let old = &members[particle.drawn.member];
        particle.drawn.member = stream.below(1, members.len() as u64) as usize;
        let new = &members[particle.drawn.member];
        let multiple = 1.0 + EXCESS.0 * (EXCESS.1 / EXCESS.0).powf(stream.uniform(2));
        let times = |multiple: f64| (new.cold_trip_s(multiple) / old.cold_trip_s(multiple)).ln();
        at[COUNT + 1] += times(AT) - times(multiple);
        let shares = old.preload_share / new.preload_share;
        let mut stretch = 0.0;
        if self.early {
            at[LOSS] *= shares;
            stretch += shares.ln();
        }
        if self.late {
            // A force that is not positive: what is believed turns it away.
            let force = (1.0 + shares * particle.x[LATE].exp_m1()).max(1e-3);
            at[LATE] = force.ln();
            stretch += shares.ln() + particle.x[LATE] - at[LATE];
        }
        stretch
    }

    /// Logarithm of how much more load would trip a particle at the time of the timed trip, if it
    /// had its trip point at the rating.
    fn nearness(&self, particle: &Particle) -> f64 {
        let Some(k) = self.timed else { return 0.0 };
        let mut at_the_rating = *particle;
        at_the_rating.drawn.placing.trip_multiple = 1.0;
        let about_s = about_s(&self.scales.case.events[k].outcome);
        self.scales.quick_factor(&at_the_rating, k)(about_s).0
    }

    /// The numbers of a particle.
    pub fn numbers(&self, particle: &Particle) -> Numbers {
        let Drawn { member, placing } = particle.drawn;
        let mut at = [0.0; DIMENSIONS];
        at[..COUNT].copy_from_slice(&particle.x);
        at[COUNT] = placing.trip_multiple.ln() + self.nearness(particle);
        at[COUNT + 1] = (placing.pace * self.scales.family.members()[member].cold_trip_s(AT)).ln();
        at
    }

    /// The particle of the same design with other numbers.
    fn place(&self, particle: &mut Particle, at: &Numbers) {
        particle.x.copy_from_slice(&at[..COUNT]);
        let own_s = self.scales.family.members()[particle.drawn.member].cold_trip_s(AT);
        particle.drawn.placing.pace = at[COUNT + 1].exp() / own_s;
        particle.drawn.placing.trip_multiple = (at[COUNT] - self.nearness(particle)).exp();
    }
}

/// The square root of the covariance of particles about the mean of their design (Cholesky): each
/// design lies on a ridge of its own, and steps along it are wanted, not from one to the other.
pub fn spread(particles: &[(usize, Numbers)], designs: usize) -> [Numbers; DIMENSIONS] {
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
    root
}
