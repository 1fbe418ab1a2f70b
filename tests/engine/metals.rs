//! What is known of the metals, held to draws that the engine answers one by one.

use crate::support::{shipped, worked};
use relatch::answers::{DataBand, Known, MetalData, Trip};
use relatch::internals::load::Programme;
use relatch::internals::material::{Alloy, Property};
use relatch::internals::predict::{Options, Outcome, predict};
use relatch::internals::scenario::Scenario;
use relatch::internals::statistics::{normal, sobol::SobolSequence};
use std::sync::Arc;

fn asked(scenario: &Scenario) -> Outcome {
    let mut options = Options::default();
    (options.without_tables, options.without_course) = (true, true);
    options.metals = relatch::AskMetals::Always;
    predict(scenario, &options, &mut |_, _| {}).expect("an outcome")
}

fn data(scenario: &Scenario) -> MetalData {
    asked(scenario).metal_data.expect("it was asked")
}

fn band(known: &Known) -> &DataBand {
    known.band().unwrap_or_else(|| panic!("{known:?}"))
}

/// The properties of a narrow strip's layer, in the order in which they are drawn.
fn properties(alloy: &mut Alloy) -> [&mut Property; 6] {
    [
        &mut alloy.density,
        &mut alloy.youngs_modulus,
        &mut alloy.resistivity,
        &mut alloy.conductivity,
        &mut alloy.specific_heat,
        &mut alloy.expansion.property,
    ]
}

fn each(scenario: &mut Scenario, mut f: impl FnMut(&mut Property)) {
    for layer in &mut scenario.strip.layers {
        properties(Arc::make_mut(&mut layer.alloy))
            .into_iter()
            .for_each(&mut f);
    }
}

/// The worked strip, its made-up metals known to some percents each.
fn uncertain(change: impl FnOnce(&mut Scenario)) -> Scenario {
    worked(|s| {
        let percents = [1.0, 4.0, 5.0, 9.0, 4.0, 6.0, 0.5, 3.0, 4.0, 12.0, 3.0, 4.0];
        let mut percents = percents.into_iter();
        each(s, |property| {
            property.relative_uncertainty = 0.01 * percents.next().expect("a percentage");
        });
        change(s);
    })
}

/// Trip time, trip point and relatch wait of a scenario, by its whole prediction.
fn answers(scenario: &Scenario) -> [f64; 3] {
    let mut options = Options::default();
    (options.without_tables, options.without_course) = (true, true);
    let outcome = predict(scenario, &options, &mut |_, _| {}).expect("an outcome");
    let time_s = match &outcome.trip {
        Trip::After(release) => release.time_s,
        _ => f64::INFINITY,
    };
    let held_a = outcome.trip_point.held().expect("a trip point").current_a;
    let wait_s = outcome.reset.relatch_wait.time_s();
    [time_s, held_a, wait_s.unwrap_or(f64::NAN)]
}

/// Slopes of the logarithms of the answers against that of each property, by differences.
fn slopes(scenario: &Scenario) -> [[f64; 3]; 12] {
    std::array::from_fn(|wanted| {
        let ends = [-0.01f64, 0.01].map(|by| {
            let mut moved = scenario.clone();
            let mut k = 0;
            each(&mut moved, |property| {
                property.scale(if k == wanted { by.exp() } else { 1.0 });
                k += 1;
            });
            answers(&moved)
        });
        std::array::from_fn(|n| (ends[1][n] / ends[0][n]).ln() / 0.02)
    })
}

/// 5 % and 95 % of answers that the engine gave one by one. What chance leaves in them is taken out by
/// what it does to the straight line of the same draws, whose quantiles are known.
fn drawn(scenario: &Scenario) -> [[f64; 2]; 3] {
    let points = SobolSequence::scrambled(12, 15).expect("a sequence");
    let lines = slopes(scenario);
    let mut spreads = Vec::new();
    each(&mut scenario.clone(), |property| {
        spreads.push((1.0 + property.spread().powi(2)).ln().sqrt());
    });
    let numbers: Vec<u64> = (0..1024).collect();
    let one = |point: &u64| {
        let mut moved = scenario.clone();
        let (mut k, mut line) = (0, [0.0; 3]);
        each(&mut moved, |property| {
            let score = normal::quantile(points.coordinate(*point, k));
            property.scale((score * spreads[k]).exp());
            (0..3).for_each(|n| line[n] += lines[k][n] * spreads[k] * score);
            k += 1;
        });
        (answers(&moved), line)
    };
    let found: Vec<([f64; 3], [f64; 3])> = numbers.iter().map(one).collect();
    let ends = |mut all: Vec<f64>| {
        all.sort_by(f64::total_cmp);
        [0.05, 0.95].map(|p| all[(p * (all.len() - 1) as f64).round() as usize])
    };
    std::array::from_fn(|n| {
        let [low, high] = ends(
            found
                .iter()
                .map(|f| f.0[n])
                .filter(|x| !x.is_nan())
                .collect(),
        );
        let by_chance = ends(found.iter().map(|f| f.1[n]).collect());
        let squares = (0..12).map(|k| (lines[k][n] * spreads[k]).powi(2));
        let deviation = squares.sum::<f64>().sqrt();
        [
            low * (-1.6448536 * deviation - by_chance[0]).exp(),
            high * (1.6448536 * deviation - by_chance[1]).exp(),
        ]
    })
}

/// Within 0.7 % of the answer, where the band itself is tens of percent wide.
fn near(stated: f64, true_one: f64, what: &str) {
    assert!(
        (stated / true_one - 1.0).abs() < 7e-3,
        "{what}: {stated} for {true_one}"
    );
}

#[test]
fn bands_are_those_of_a_thousand_predictions() {
    let scenario = uncertain(|_| ());
    let stated = data(&scenario);
    let true_ones = drawn(&scenario);
    let bands = [
        &stated.trip_time_s,
        &stated.trip_point_a,
        &stated.relatch_wait_s,
    ];
    for (n, (known, [low, high])) in bands.into_iter().zip(true_ones).enumerate() {
        let band = band(known);
        assert!(high / low > 1.05, "{n}: {low} to {high}");
        near(band.low, low, &format!("low {n}"));
        near(band.high.expect("an end"), high, &format!("high {n}"));
    }
}

#[test]
fn little_that_is_unknown_adds_up_in_squares() {
    let small = 1e-3;
    let scenario = worked(|s| {
        each(s, |property| {
            (property.relative_uncertainty, property.from_memory) = (small, false);
        });
    });
    let lines = slopes(&scenario);
    let stated = data(&scenario);
    let bands = [
        &stated.trip_time_s,
        &stated.trip_point_a,
        &stated.relatch_wait_s,
    ];
    for (n, known) in bands.into_iter().enumerate() {
        let band = band(known);
        let deviation = (band.high.expect("an end") / band.low).ln() / (2.0 * 1.6448536);
        let squares = lines.iter().map(|slope| (small * slope[n]).powi(2));
        let ratio = deviation / squares.sum::<f64>().sqrt();
        assert!((ratio - 1.0).abs() < 3e-3, "{n}: {ratio}");
    }
}

#[test]
fn near_the_trip_point_some_draws_hold() {
    let scenario = uncertain(|_| ());
    let held_a = answers(&scenario)[1];
    let close = uncertain(|s| s.load = Programme::constant(1.01 * held_a));
    let stated = data(&close);
    let share = stated.holds_share.expect("a share");
    assert!((0.3..0.5).contains(&share), "{share}");
    let band = band(&stated.trip_time_s);
    assert!(band.low > 0.0 && band.high.is_none(), "{band:?}");
    // The share is that of the trip points above the load.
    let [_, [low, high], _] = drawn(&scenario);
    let deviation = (high / low).ln() / (2.0 * 1.6448536);
    let expected = normal::upper_tail(1.01f64.ln() / deviation);
    assert!((share - expected).abs() < 0.02, "{share} for {expected}");
}

#[test]
fn what_is_known_exactly_leaves_nothing_open() {
    let scenario = worked(|s| each(s, |property| property.relative_uncertainty = 0.0));
    let stated = data(&scenario);
    assert_eq!(
        (stated.properties, &stated.trip_time_s),
        (0, &Known::NotAsked)
    );
}

#[test]
fn values_from_memory_count_twice() {
    let with = |from_memory| {
        let scenario = worked(|s| {
            each(s, |property| {
                (property.relative_uncertainty, property.from_memory) = (0.002, from_memory);
            });
        });
        let stated = data(&scenario);
        let band = band(&stated.trip_point_a);
        assert_eq!(band.shares[0].source.from_memory, from_memory);
        (band.high.expect("an end") / band.low).ln()
    };
    let ratio = with(true) / with(false);
    assert!((ratio - 2.0).abs() < 0.01, "{ratio}");
}

/// A tolerance beside a property of a scenario's own alloy counts; it was read and dropped once.
#[test]
fn a_tolerance_of_an_own_alloy_counts() {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/scenarios/08-worked-strip.toml"
    );
    let text = std::fs::read_to_string(path).expect("a scenario");
    let text = text.replacen("\"0.80 uohm m\"", "\"0.80 uohm m +- 5 %\"", 1);
    let stated = data(&relatch::parse("08", &text).expect("a scenario"));
    assert_eq!(stated.properties, 1);
    let band = band(&stated.trip_point_a);
    let width = (band.high.expect("an end") / band.low).ln();
    // The trip point goes with about the root of one of two resistivities in parallel.
    assert!((0.02..0.09).contains(&width), "{width}");
}

#[test]
fn a_coil_is_its_layers_with_other_laws() {
    let coil = worked(|s| (s.strip.flexivity_factor, s.strip.resistivity_factor) = (1.04, 0.97));
    let layers = worked(|s| {
        for layer in &mut s.strip.layers {
            let alloy = Arc::make_mut(&mut layer.alloy);
            alloy.expansion.property.scale(1.04);
            alloy.resistivity.scale(0.97);
        }
    });
    assert_eq!(answers(&coil), answers(&layers));
    assert!(answers(&coil)[0] != answers(&worked(|_| ()))[0]);
}

#[test]
fn every_kind_of_part_can_be_asked() {
    for file in [
        "04-fog-machine.toml",
        "16-pump-lost-phase.toml",
        "17-pump-motor-disc.toml",
    ] {
        let outcome = asked(&shipped(file));
        let stated = outcome.metal_data.expect("it was asked");
        assert!(stated.properties > 6, "{file}");
        let some = [&stated.trip_time_s, &stated.trip_point_a];
        assert!(
            some.iter().any(|k| k.band().is_some()),
            "{file}: {stated:?}"
        );
    }
}
