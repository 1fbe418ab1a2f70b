//! The numbers of one pupil: those of the scenario moved a little and made round.

use super::{Level, Plan};
use crate::quantity::{Dimension, format_in_file};
use crate::scenario::Scenario;
use crate::statistics::stream::{Purpose, Stream};

/// How far a number is moved at most, as a factor up or down.
const FARTHEST: f64 = 1.22;

/// Paths and values of one candidate; a pure function of seed and candidate.
pub(super) fn drawn(scenario: &Scenario, plan: &Plan, candidate: u64) -> Vec<(String, String)> {
    let stream = Stream::new(plan.seed, Purpose::LESSONS, candidate);
    let numbers = movable(scenario, plan.level).into_iter().zip(0..);
    let moved = numbers.map(|((path, value, dimension), draw)| {
        let factor = FARTHEST.powf(2.0 * stream.uniform(draw) - 1.0);
        let value = round(value * factor);
        (path, format_in_file(value, dimension))
    });
    moved.collect()
}

/// Numbers of a scenario that a level moves, SI.
fn movable(scenario: &Scenario, level: Level) -> Vec<(String, f64, Dimension)> {
    let strip = &scenario.strip;
    let mut list = vec![
        ("strip.length".to_owned(), strip.length_m, Dimension::Length),
        ("strip.width".to_owned(), strip.width_m, Dimension::Length),
    ];
    for (k, layer) in strip.layers.iter().enumerate() {
        let path = format!("strip.layer[{k}].thickness");
        list.push((path, layer.thickness_m, Dimension::Length));
    }
    let latch = scenario.release.mechanism.latch();
    match (level, scenario.load.only_a(), latch) {
        (Level::Heating, Some(current_a), _) => {
            list.push(("load.current".to_owned(), current_a, Dimension::Current));
        }
        (Level::Preload, _, Some(latch)) => {
            let travel = latch.release_travel_m;
            list.push(("latch.release_travel".to_owned(), travel, Dimension::Length));
            list.push((
                "latch.preload".to_owned(),
                latch.preload_n,
                Dimension::Force,
            ));
        }
        _ => {}
    }
    list
}

/// Two digits; the second one and a half where the first is small, so that no step is coarse.
fn round(value: f64) -> f64 {
    let size = 10_f64.powf(value.abs().log10().floor());
    let step = if value < 3.0 * size { 0.05 } else { 0.1 } * size;
    (value / step).round() * step
}

#[cfg(test)]
mod tests {
    use super::round;

    #[test]
    fn numbers_are_round_and_their_steps_fine() {
        for (value, rounded) in [
            (0.03814, 0.038),
            (1.437e-4, 1.45e-4),
            (21.3, 21.5),
            (9.96, 10.0),
        ] {
            assert!((round(value) / rounded - 1.0).abs() < 1e-12, "{value}");
        }
    }
}
