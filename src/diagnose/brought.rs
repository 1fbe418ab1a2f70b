//! Which machines of a hypothesis are brought as a case.

use super::advice::put_right;
use super::hypothesis::{Hypothesis, Trips};
use super::latent::{LATE, Particle, Prior, draw};
use super::record::Cause;
use super::scales::Scales;
use super::scatter::LATE_TRAVEL;
use crate::statistics::stream::{Purpose, Stream};

/// Particles that show how often a hypothesis brings a case.
const BRINGING: usize = 800;

/// One draw from the family and from prior.
pub fn drawn(scales: &Scales<'_>, prior: &Prior, stream: &Stream) -> Option<Particle> {
    Some(Particle {
        drawn: scales.family.draw(stream)?,
        x: draw(prior, stream),
        lost_phase: prior.lost_phase,
    })
}

/// Probability that a machine like this is brought as a case of its hypothesis, given that it
/// trips: it runs on once everything is put right. Nothing wrong: that it does not trip by itself;
/// a late part: that it is late by what matters.
pub fn brings(scales: &Scales<'_>, hypothesis: &Hypothesis, particle: &Particle) -> f64 {
    if hypothesis.has(Cause::WornLate) {
        let share = scales.family.members()[particle.drawn.member].preload_share;
        let late = 1.0 + share * particle.x[LATE].exp_m1() >= LATE_TRAVEL;
        return f64::from(u8::from(late));
    }
    if !scales.has_trip_in_service() {
        return 1.0;
    }
    let trips = |g: &Particle| scales.quickly_trips(g, scales.wear(g));
    if hypothesis.trips != Trips::AsItRuns {
        return 1.0 - trips(particle);
    }
    if !hypothesis.is_curable() {
        return 1.0;
    }
    1.0 - trips(&put_right(hypothesis, particle))
}

/// How often the machines of a hypothesis are brought.
pub fn bringing(scales: &Scales<'_>, hypothesis: &Hypothesis, prior: &Prior, seed: u64) -> f64 {
    let late = hypothesis.has(Cause::WornLate);
    if !scales.has_trip_in_service() && !late {
        return 1.0;
    }
    let nothing = hypothesis.trips != Trips::AsItRuns;
    let (mut sum, mut all) = (0.0, 0.0);
    for k in 0..BRINGING {
        let stream = Stream::new(seed, Purpose::other(43), k as u64);
        let Some(particle) = drawn(scales, prior, &stream) else {
            continue;
        };
        let weight = scales.family.weight(particle.drawn);
        all += weight;
        let trips = if nothing || late {
            1.0
        } else {
            scales.quickly_trips(&particle, scales.wear(&particle))
        };
        if trips > 1e-6 {
            sum += weight * trips * brings(scales, hypothesis, &particle);
        }
    }
    // A hypothesis that hardly ever brings a case is not made certain by that.
    (sum + 0.2 * all / BRINGING as f64) / all.max(1e-300)
}
