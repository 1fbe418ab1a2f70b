//! What would have happened otherwise: the machine run again in thought, with one thing put right.

use super::latent::{LOAD, PLACE, Particle};
use super::posterior::Posterior;
use super::record::{Change, Otherwise};
use super::scales::Scales;
use crate::evidence::Case;
use crate::family::Wear;
use crate::predict::parallel;

/// Particles that are run again.
const SAMPLE: usize = 200;

/// Probability that the machine trips the protector within twelve hours with one thing put right;
/// nothing where no trip of this part in service is known.
pub fn otherwise(scales: &Scales<'_>, posterior: &Posterior, seed: u64) -> Vec<Otherwise> {
    let case = scales.case;
    if case.of_this_part_in_service().next().is_none() {
        return Vec::new();
    }
    let changes = [
        (Change::SoundPart, true),
        (Change::RatedCurrent, true),
        (Change::RoomAir, !case.nameplate.compensated),
        (Change::NoJoint, true),
        (Change::NoStart, may_start(case)),
    ];
    let changes: Vec<Change> = changes
        .into_iter()
        .filter_map(|(change, asked)| asked.then_some(change))
        .collect();
    let chosen = posterior.sample(SAMPLE, seed ^ 0x07);
    let rows: Vec<Vec<bool>> = parallel::map(
        &chosen,
        |carrier| {
            let trips = |change: &Change| trips_all_the_same(scales, carrier.particle, *change);
            changes.iter().map(trips).collect()
        },
        &mut |_| {},
    );
    let share = |k: usize| {
        let count = rows.iter().filter(|row| row[k]).count();
        count as f64 / rows.len().max(1) as f64
    };
    changes
        .iter()
        .enumerate()
        .map(|(k, change)| Otherwise {
            change: *change,
            trips: share(k),
        })
        .collect()
}

fn trips_all_the_same(scales: &Scales<'_>, particle: Particle, change: Change) -> bool {
    let mut other = particle;
    let mut wear = scales.wear(&particle);
    match change {
        Change::SoundPart => {
            wear = Wear {
                joint_w: wear.joint_w,
                ..Wear::NONE
            };
        }
        Change::RatedCurrent => other.x[LOAD] = other.x[LOAD].min(0.0),
        Change::RoomAir => other.x[PLACE] = other.x[PLACE].min(0.0),
        Change::NoJoint => wear.joint_w = 0.0,
        Change::NoStart => {}
    }
    scales.trips(&other, wear, change != Change::NoStart)
}

/// Whether a start belongs to the case.
pub fn may_start(case: &Case) -> bool {
    case.has_start != Some(false) && !case.is_bench_only()
}
