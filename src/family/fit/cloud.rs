//! Draws from the family, weighed by what is published.

use crate::family::{Drawn, Family, Placing};
use crate::predict::parallel;
use crate::statistics::stream::{Purpose, Stream};
use crate::statistics::weighted::{effective, systematic};

const PLACINGS: Purpose = Purpose::other(40);
const RESAMPLING: Purpose = Purpose::other(41);

/// Draws standing for the fitted parts.
pub(super) struct Cloud {
    /// Draws with their weight (their sum is 1), each once.
    pub drawn: Vec<(Drawn, f64)>,
    /// Draws that keep the cold limits.
    pub considered: usize,
    /// Effective number of draws.
    pub effective_number: f64,
    /// Effective number of designs.
    pub effective_designs: f64,
}

/// Weighed draws over all designs: one in each cell of a square over trip point and logarithm of
/// the pace (stratified importance sampling), then a systematic resample of `parts` of them. `None`
/// when nothing has weight.
pub(super) fn cloud(family: &Family, seed: u64, steps: usize, parts: usize) -> Option<Cloud> {
    let members: Vec<usize> = (0..family.members().len()).collect();
    let all: Vec<(Drawn, f64)> = parallel::map(
        &members,
        |m| of_member(family, *m, steps, seed),
        &mut |_| {},
    )
    .into_iter()
    .flatten()
    .collect();
    let best = all.iter().map(|a| a.1).fold(f64::NEG_INFINITY, f64::max);
    if !best.is_finite() {
        return None;
    }
    let weights: Vec<f64> = all.iter().map(|a| (a.1 - best).exp()).collect();
    let mut by_design = vec![0.0; members.len()];
    for ((drawn, _), weight) in all.iter().zip(&weights) {
        by_design[drawn.member] += weight;
    }
    Some(Cloud {
        considered: all.len(),
        effective_number: effective(&weights),
        effective_designs: effective(&by_design),
        drawn: resample(&all, &weights, parts, seed),
    })
}

fn of_member(family: &Family, member: usize, steps: usize, seed: u64) -> Vec<(Drawn, f64)> {
    let stream = Stream::new(seed, PLACINGS, member as u64);
    let (low, high) = family.trip_multiples();
    let (slow, fast) = family.paces();
    (0..steps * steps)
        .filter_map(|cell| {
            let within = |row: usize, draw: u32| (row as f64 + stream.uniform(draw)) / steps as f64;
            let across = within(cell % steps, 2 * cell as u32);
            let along = within(cell / steps, 2 * cell as u32 + 1);
            let drawn = Drawn {
                member,
                placing: Placing {
                    trip_multiple: low + (high - low) * across,
                    pace: slow * (fast / slow).powf(along),
                },
            };
            let log = family.log_density(drawn);
            log.is_finite().then_some((drawn, log))
        })
        .collect()
}

/// Systematic resample; a draw that is taken several times stands once with the weight of all.
fn resample(all: &[(Drawn, f64)], weights: &[f64], parts: usize, seed: u64) -> Vec<(Drawn, f64)> {
    let offset = Stream::new(seed, RESAMPLING, 0).uniform(0);
    systematic(weights, parts, offset)
        .chunk_by(|a, b| a == b)
        .map(|same| (all[same[0]].0, same.len() as f64 / parts as f64))
        .collect()
}
