//! Units side by side are the units one by one: calibration, trip points, trips from cold and hot,
//! waits.

use crate::support::{apart, shipped};
use relatch::internals::device::{Device, Unit};
use relatch::internals::predict::{
    Air, Amperes, BESIDE_ACCURACY, Carry, Examiner, Member, Questions, Setting, examine_alone,
    trip_point,
};
use relatch::internals::scenario::{Place, Scenario};

fn carry(amperes: Amperes, air: usize, before_a: f64, cool: bool) -> Carry {
    Carry {
        current: amperes,
        air,
        before_a,
        cool,
        unequal: None,
    }
}

/// Everything that can be asked: own and given currents and airs, cold and hot, soon and slow,
/// carried for ever.
fn questions(s: &Scenario, is_set: bool) -> Questions {
    let rated = s.protector.rated_current_a;
    let of = |multiple: f64| Amperes::Of(multiple * rated);
    Questions {
        setting: is_set.then_some(Setting {
            current_a: 2.0 * rated,
            time_s: 20.0,
            ambient_k: 296.15,
        }),
        airs: vec![Air::Own, Air::At(298.15)],
        carries: vec![
            carry(Amperes::Own, 0, 0.0, true),
            carry(of(0.9), 1, 0.0, false),
            carry(of(1.35), 1, 0.0, false),
            carry(of(1.6), 1, 0.9 * rated, false),
            carry(of(2.0), 1, 0.0, false),
            carry(of(4.0), 1, 0.0, false),
            carry(of(8.0), 1, 0.0, true),
        ],
        opening_s: s.release.opening_time_s,
    }
}

/// The k-th of some units scattered by a few per cent, by Weyl's sequence.
fn scattered(s: &Scenario, k: usize) -> Scenario {
    let mut unit = s.clone();
    for (n, path) in [
        "strip.length",
        "strip.width",
        "strip.layer[0].thickness",
        "strip.layer[1].thickness",
        "cooling.emissivity",
        "contact.force",
        "housing.conductance",
        "winding.resistance",
        "latch.preload",
        "latch.release_travel",
        "load.current",
    ]
    .iter()
    .enumerate()
    {
        let part = (0.618_034 * (k as f64 + 1.0) * (n as f64 + 1.0)).fract() - 0.5;
        let place = Place::find(path).expect("a place");
        if let Some(number) = place.of(&mut unit) {
            *number *= 1.0 + 0.05 * part;
        }
    }
    unit.strip.push_point_m = unit.strip.length_m;
    unit.surroundings.ambient[0].1 += 0.3 * (k as f64 - 8.0);
    unit
}

fn member(s: &Scenario, k: usize) -> Member {
    Member {
        unit: Unit::of_scenario(s).expect("a unit"),
        current_a: s.load.last_a(),
        ambient_k: s.surroundings.ambient[0].1,
        set_factor: 1.0 + 0.01 * (k % 5) as f64,
    }
}

#[test]
fn units_side_by_side_are_the_units_alone() {
    for (file, is_set) in [
        ("01-pug-mill.toml", false),
        ("01-pug-mill.toml", true),
        ("02-curtain-winch.toml", true),
        ("06-irrigation-pump-new.toml", false),
    ] {
        let s = shipped(file);
        let mut s = s;
        s.load = relatch::internals::load::Programme::constant(2.0 * s.protector.rated_current_a);
        let questions = questions(&s, is_set);
        let device = Device::new(&s).expect("a device");
        let examiner = Examiner::new(&s, &device, &questions, (290.0, 305.0))
            .expect("computed")
            .expect("served");
        let units: Vec<Scenario> = (0..19).map(|k| scattered(&s, k)).collect();
        let members: Vec<Member> = units
            .iter()
            .enumerate()
            .map(|(k, u)| member(u, k))
            .collect();
        let beside = examiner.examine(&members);
        let mut answered = 0;
        for (k, unit) in units.iter().enumerate() {
            let alone = examine_alone(unit, &questions, members[k].set_factor, 1e-6)
                .unwrap_or_else(|e| panic!("{file} {k}: {e}"));
            let got = &beside[k];
            assert!(
                apart(got.clearance_m, alone.clearance_m) < 3e-4,
                "{file} {k}: clearance {} {}",
                got.clearance_m,
                alone.clearance_m
            );
            for (a, b) in got.trip_points_a.iter().zip(&alone.trip_points_a) {
                assert!(apart(*a, *b) < 1e-4, "{file} {k}: trip points {a} {b}");
            }
            let times = got.times_s.iter().zip(&alone.times_s);
            let waits = got.waits_s.iter().zip(&alone.waits_s);
            for (n, (a, b)) in times.chain(waits).enumerate() {
                if a.is_nan() {
                    continue;
                }
                // The grids' own accuracy, which is what is stated; the trimming mostly gains a
                // factor of three.
                let same = a == b || apart(*a, *b) < 1e-3;
                assert!(same, "{file} {k}: answer {n} is {a}, alone {b}");
                answered += 1;
            }
        }
        // Of nine answers a unit.
        println!("{file}: {answered} of {}", 9 * units.len());
        assert!(answered * 100 >= 9 * units.len() * 90, "{file}: {answered}");
    }
}

/// Where a winding heats a strip of tables, units of 5 % scatter keep what is stated of units side by
/// side, soon and slow.
#[test]
fn wound_units_far_from_the_nominal_one_are_the_units_alone() {
    let s = shipped("02-curtain-winch.toml");
    let of = |multiple: f64| Amperes::Of(multiple * s.protector.rated_current_a);
    let currents = [Amperes::Own, of(1.5), of(2.0), of(4.0)];
    let questions = Questions {
        setting: None,
        airs: vec![Air::Own],
        carries: currents.map(|i| carry(i, 0, 0.0, true)).to_vec(),
        opening_s: s.release.opening_time_s,
    };
    let device = Device::new(&s).expect("a device");
    let examiner = Examiner::new(&s, &device, &questions, (296.0, 300.0))
        .expect("computed")
        .expect("served");
    let unit = |k: usize| {
        let mut unit = s.clone();
        for (n, path) in [
            "strip.length",
            "strip.width",
            "strip.layer[0].thickness",
            "strip.layer[1].thickness",
            "winding.resistance",
            "latch.preload",
            "latch.release_travel",
        ]
        .iter()
        .enumerate()
        {
            let part = (0.618_034 * (k as f64 + 1.0) * (n as f64 + 1.0)).fract() - 0.5;
            let place = Place::find(path).expect("a place");
            *place.of(&mut unit).expect("a number") *= 1.0 + 0.1 * part;
        }
        unit.strip.push_point_m = unit.strip.length_m;
        unit
    };
    let units: Vec<Scenario> = (0..48).map(unit).collect();
    let members: Vec<Member> = units
        .iter()
        .map(|u| Member {
            set_factor: 1.0,
            ..member(u, 0)
        })
        .collect();
    let beside = examiner.examine(&members);
    let mut worst = 0.0f64;
    for (k, unit) in units.iter().enumerate() {
        let alone = examine_alone(unit, &questions, 1.0, 1e-6).expect("computed");
        let got = &beside[k];
        let pairs = (got.trip_points_a.iter().zip(&alone.trip_points_a))
            .chain(got.times_s.iter().zip(&alone.times_s))
            .chain(got.waits_s.iter().zip(&alone.waits_s));
        for (n, (a, b)) in pairs.enumerate() {
            let off = apart(*a, *b);
            assert!(off < BESIDE_ACCURACY, "{k}, answer {n}: {a}, alone {b}");
            worst = worst.max(off);
        }
    }
    println!("at most {worst:.1e} off");
}

/// Close above their own trip points, where a trip takes minutes and goes by the ratio of the current
/// to the trip point: currents are trimmed as trip points are.
#[test]
fn units_near_their_trip_points_are_the_units_alone() {
    for (file, bound, first, step) in [
        ("08-worked-strip.toml", 1e-4, 1.003, 0.0),
        ("01-pug-mill.toml", 1e-3, 1.01, 0.025),
        ("06-irrigation-pump-new.toml", 1e-3, 1.01, 0.025),
    ] {
        let mut s = shipped(file);
        let rated_a = s.protector.rated_current_a;
        s.load = relatch::internals::load::Programme::constant(1.3 * rated_a);
        let questions = Questions {
            setting: None,
            airs: vec![Air::Own],
            carries: vec![carry(Amperes::Own, 0, 0.0, true)],
            opening_s: s.release.opening_time_s,
        };
        let device = Device::new(&s).expect("a device");
        let examiner = Examiner::new(&s, &device, &questions, (290.0, 305.0))
            .expect("computed")
            .expect("served");
        for k in 0..8 {
            let mut unit = scattered(&s, k);
            let device = Device::new(&unit).expect("a device");
            let air_k = unit.surroundings.ambient[0].1;
            let point = trip_point(&device, air_k, rated_a, 1e-7).expect("computed");
            let point_a = point.value.current_a().expect("a trip point");
            let current_a = point_a * (first + step * k as f64);
            unit.load = relatch::internals::load::Programme::constant(current_a);
            let beside = &examiner.examine(&[member(&unit, k)])[0];
            let alone = examine_alone(&unit, &questions, 1.0, 1e-6).expect("computed");
            for (got, truth) in [
                (beside.times_s[0], alone.times_s[0]),
                (beside.waits_s[0], alone.waits_s[0]),
            ] {
                let off = apart(got, truth);
                assert!(off < bound, "{file} {k}: {got}, alone {truth}, {off:.1e}");
            }
        }
    }
}

/// What a unit is made of is the same whether it comes from a device or from its scenario.
#[test]
fn a_unit_of_a_scenario_is_the_unit_of_its_device() {
    for file in [
        "01-pug-mill.toml",
        "02-curtain-winch.toml",
        "03-deck-oven.toml",
        "08-worked-strip.toml",
    ] {
        let s = shipped(file);
        let device = Device::new(&s).expect("a device");
        let of_device = Unit::of(&device);
        assert!(of_device.is_some(), "{file}");
        assert_eq!(of_device, Unit::of_scenario(&s), "{file}");
    }
}

/// A unit that is set trips at the setting's current after the setting's time.
#[test]
fn a_set_unit_trips_when_it_was_set_to() {
    let s = shipped("01-pug-mill.toml");
    let rated = s.protector.rated_current_a;
    let questions = Questions {
        setting: Some(Setting {
            current_a: 2.0 * rated,
            time_s: 21.0,
            ambient_k: 296.15,
        }),
        airs: vec![Air::At(296.15)],
        carries: vec![carry(Amperes::Of(2.0 * rated), 0, 0.0, false)],
        opening_s: 0.0,
    };
    for k in 0..5 {
        let unit = scattered(&s, k);
        let device = Device::new(&s).expect("a device");
        let examiner = Examiner::new(&s, &device, &questions, (290.0, 305.0))
            .expect("computed")
            .expect("served");
        let found = &examiner.examine(&[Member {
            set_factor: 1.0,
            ..member(&unit, 0)
        }])[0];
        let alone = examine_alone(&unit, &questions, 1.0, 1e-5).expect("computed");
        assert!(apart(found.times_s[0], 21.0) < 2e-4, "{}", found.times_s[0]);
        assert!(apart(alone.times_s[0], 21.0) < 2e-5, "{}", alone.times_s[0]);
        let Some(latch) = unit.release.mechanism.latch() else {
            panic!("a latch");
        };
        assert!(apart(alone.clearance_m, latch.release_travel_m) > 1e-3);
    }
}
