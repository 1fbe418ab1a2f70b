//! Asks the engine again for units close to failing.

use super::FailuresError;
use super::margins::{margins, worst};
use super::part::{Made, Parts};
use super::rates::Drawn;
use super::{Failure, study::scored};
use crate::predict::parallel;
use crate::statistics::importance::Mixture;

/// Units asked again, for each way of failing.
const UNITS: usize = 16;
/// Of so many that are nearest to failing, one is asked.
const OF: usize = 8;

/// Numbers of units close to failing within the years, each way of its own.
fn close(units: &[Drawn]) -> Vec<(usize, u64)> {
    let mut chosen = Vec::new();
    for way in 0..Failure::ALL.len() {
        let mut all: Vec<(f64, u64)> = units
            .iter()
            .enumerate()
            .filter_map(|(n, u)| Some((u.worst[way].last()?.abs(), n as u64)))
            .filter(|(margin, _)| margin.is_finite())
            .collect();
        all.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        chosen.extend(
            all.iter()
                .take(UNITS * OF)
                .step_by(OF)
                .map(|(_, n)| (way, *n)),
        );
    }
    chosen
}

/// How many were asked, and the largest difference of the margins of each way, m.
///
/// # Errors
/// As [`Parts::part`].
pub fn check(
    parts: &Parts<'_>,
    ways: &[Failure],
    mixture: &Mixture,
    seed: u64,
    (units, years): (&[Drawn], &[f64]),
) -> Result<(usize, [f64; 3]), FailuresError> {
    let chosen = close(units);
    let asked = parallel::map(
        &chosen,
        |(way, n)| -> Result<f64, FailuresError> {
            let (scores, _) = mixture.draw(seed, *n);
            let (values, drawn) = scored(parts, &scores);
            let made = parts.part(&values)?;
            let constants = parts.draws.at_scores(&made.constants, drawn);
            let exact = worst(ways, &margins(&Made { constants, ..made }, years));
            let both = exact[*way].iter().zip(&units[*n as usize].worst[*way]);
            let apart = both.map(|(a, b)| (a - b).abs()).filter(|d| d.is_finite());
            Ok(apart.fold(0.0, f64::max))
        },
        &mut |_| {},
    );
    let mut largest = [0.0f64; 3];
    for ((way, _), off_m) in chosen.iter().zip(asked) {
        largest[*way] = largest[*way].max(off_m?);
    }
    Ok((chosen.len(), largest))
}
