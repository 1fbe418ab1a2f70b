//! Trip times of sound parts and of this one against the current.

use super::posterior::Posterior;
use super::record::BandPoint;
use super::scales::Scales;
use crate::family::{Carries, Drawn, Wear};
use crate::load::Programme;
use crate::predict::parallel;
use crate::statistics::stream::{Purpose, Stream};
use crate::statistics::weighted::Weighted;

/// Currents, multiples of the rating.
const MULTIPLES: [f64; 19] = [
    0.5, 0.6, 0.7, 0.8, 0.9, 1.0, 1.05, 1.1, 1.2, 1.3, 1.4, 1.6, 1.8, 2.1, 2.6, 3.3, 4.3, 6.0, 8.0,
];
const SOUND: u64 = 240;
const THIS: usize = 70;

/// Bands at the reference air, from cold.
pub fn bands(scales: &Scales<'_>, posterior: &Posterior, seed: u64) -> Vec<BandPoint> {
    let family = scales.family;
    let sound: Vec<(Drawn, f64)> = (0..SOUND)
        .filter_map(|k| {
            let drawn = family.draw(&Stream::new(seed, Purpose::other(51), k))?;
            Some((drawn, family.weight(drawn)))
        })
        .collect();
    let rated = scales.case.nameplate.rated_current_a;
    let air = [(0.0, scales.case.nameplate.reference_ambient_k)];
    let chosen = posterior.sample(THIS, seed ^ 0x0b);
    let times: Vec<Vec<f64>> = parallel::map(
        &chosen,
        |carrier| {
            let particle = &carrier.particle;
            let part = scales.part(
                particle,
                Wear {
                    joint_w: 0.0,
                    ..scales.wear(particle)
                },
            );
            MULTIPLES
                .iter()
                .map(
                    |m| match part.cold(&air).carry(&Programme::constant(m * rated), 1e5) {
                        Some(Carries::Trips(t)) => t,
                        _ => f64::INFINITY,
                    },
                )
                .collect()
        },
        &mut |_| {},
    );
    MULTIPLES
        .iter()
        .enumerate()
        .map(|(k, m)| BandPoint {
            current_a: m * rated,
            sound_s: three(&Weighted::new(
                sound.iter().map(|(d, w)| (family.cold_trip_s(*d, *m), *w)),
            )),
            this_part_s: three(&Weighted::equal(times.iter().map(|row| row[k]))),
        })
        .collect()
}

fn three(times: &Weighted) -> [Option<f64>; 3] {
    [0.05, 0.5, 0.95].map(|share| {
        let t = times.at(share);
        t.is_finite().then_some(t)
    })
}
