//! The instantaneous element: worked cases A and B, computed for this project by another program
//! from the same equations (not printed by an author), and laws that hold for every such element.

use relatch::internals::device::{Magnet, Reach};
use relatch::internals::physics::closing_current::ClosingCurrent;
use relatch::internals::physics::electromagnet::MagneticCircuit;
use relatch::internals::predict::magnet::{
    Angles, HORIZON_S, Poles, angles, flight, rms_pick_up_a,
};
use relatch::internals::scenario::Magnetic;

/// The element of case A.
fn case_a(trigger_force_n: f64) -> Magnet {
    Magnet {
        built: Magnetic {
            circuit: MagneticCircuit {
                turns: 6.0,
                gaps: 1.0,
                pole_area_m2: 25e-6,
                pole_perimeter_m: 4.0 * 5e-3,
                gap_m: 2.5e-3,
                fringe: 0.26,
                iron_length_m: 60e-3,
                iron_area_m2: 20e-6,
                relative_permeability: 1500.0,
                saturation_t: 1.6,
            },
            mass_kg: 2e-3,
            preload_n: 2.0,
            stiffness_n_per_m: 400.0,
            weight_n: 0.0,
            strike_m: 1.2e-3,
            lever: 1.0,
            trigger_force_n,
            trigger_travel_m: 0.6e-3,
            band: None,
        },
        opening_time_s: 0.0,
    }
}

fn alternating(rms_a: f64, x_over_r: f64) -> ClosingCurrent {
    ClosingCurrent::Alternating {
        rms_a,
        frequency_hz: 50.0,
        x_over_r,
    }
}

fn at_once(current_a: f64) -> ClosingCurrent {
    ClosingCurrent::Direct {
        current_a,
        time_constant_s: 0.0,
    }
}

fn releases_after_s(magnet: &Magnet, current: &ClosingCurrent, angle_deg: f64) -> f64 {
    let angle_rad = angle_deg.to_radians();
    let flown = flight(magnet, current, angle_rad, HORIZON_S, &mut |_, _, _| ());
    flown.release.expect("it releases").time_s
}

fn over_angles(current: &ClosingCurrent, poles: Poles) -> Angles {
    angles(&case_a(2.0), current, poles, HORIZON_S)
}

#[track_caller]
fn close(value: f64, expected: f64, relative: f64) {
    let off = value / expected - 1.0;
    assert!(off.abs() <= relative, "{value}, not {expected}: {off:.1e}");
}

#[test]
fn case_a_pull_and_direct_currents() {
    let magnet = case_a(2.0);
    close(
        magnet.built.circuit.reluctance_per_h(0.0),
        5.394_515e7,
        1e-6,
    );
    close(magnet.built.circuit.pull_n(200.0, 0.0), 3.408_715, 1e-6);
    close(magnet.built.circuit.pull_n(200.0, 1.2e-3), 10.098_09, 1e-6);
    let found = magnet.direct_currents().expect("it moves");
    close(found.start_a, 153.1968, 1e-6);
    close(found.static_a.expect("slowly"), 153.1968, 1e-6);
    close(found.step_a.expect("in a blow"), 153.1968, 1e-6);
    let heavy = case_a(9.0).direct_currents().expect("it moves");
    assert_eq!(heavy.static_a, None);
    close(heavy.step_a.expect("in a blow"), 153.1968, 1e-6);
}

#[test]
fn case_a_times() {
    let magnet = case_a(2.0);
    let flown = flight(&magnet, &at_once(200.0), 0.0, HORIZON_S, &mut |_, _, _| ());
    let (strike, release) = (
        flown.strike.expect("strikes"),
        flown.release.expect("releases"),
    );
    close(strike.time_s, 1.573_970e-3, 1e-4);
    close(strike.speed_m_per_s, 2.207_497, 1e-4);
    close(release.time_s, 1.807_467e-3, 1e-4);
    close(release.speed_m_per_s, 2.971_858, 1e-4);
    for (rms_a, angle_deg, expected_s) in [
        (150.0, 0.0, 6.482_062e-3),
        (150.0, 90.0, 6.588_810e-3),
        (400.0, 0.0, 4.100_449e-3),
    ] {
        let after_s = releases_after_s(&magnet, &alternating(rms_a, 3.0), angle_deg);
        close(after_s, expected_s, 1e-4);
    }
}

#[test]
fn case_a_rms_pick_up() {
    for (trigger_n, expected_a) in [(2.0, 115.5686), (9.0, 118.5965)] {
        let magnet = case_a(trigger_n);
        let start_a = magnet.direct_currents().expect("it moves").start_a;
        let found = rms_pick_up_a(&magnet, start_a, 50.0).expect("releases");
        close(found, expected_a, 1e-4);
    }
}

#[test]
fn case_b_chances() {
    let found = over_angles(&alternating(110.0, 3.0), Poles::One);
    assert!((found.probability - 0.9051).abs() < 5e-4, "{found:?}");
    let [first, second] = found.releasing.as_slice() else {
        panic!("two runs: {found:?}");
    };
    assert!((first.from_deg - 83.89).abs() < 0.05, "{first:?}");
    assert!((first.to_deg - 246.82).abs() < 0.05, "{first:?}");
    assert!((second.from_deg - 263.89).abs() < 0.05, "{second:?}");
    assert!((second.to_deg - 426.82).abs() < 0.05, "{second:?}");
    assert!((over_angles(&alternating(118.0, 3.0), Poles::One).probability - 1.0).abs() < 1e-12);
    let transformer = ClosingCurrent::Transformer {
        first_peak_a: 260.0,
        frequency_hz: 50.0,
        remanence: 0.5,
        saturation: 1.2,
        time_constant_s: 0.05,
    };
    let found = over_angles(&transformer, Poles::One);
    assert!((found.probability - 0.2308).abs() < 5e-4, "{found:?}");
    let [only] = found.releasing.as_slice() else {
        panic!("one run: {found:?}");
    };
    assert!((only.from_deg - 323.42).abs() < 0.1 && (only.to_deg - 406.52).abs() < 0.1);
    // Of three poles the gaps of one are covered by the two others.
    let three = over_angles(&alternating(110.0, 3.0), Poles::Three);
    assert!((three.probability - 1.0).abs() < 1e-12, "{three:?}");
}

/// The pull is the derivative of the coenergy, below and above the limit of the iron.
#[test]
fn pull_is_the_slope_of_the_coenergy() {
    let circuit = case_a(2.0).built.circuit;
    for current_a in [20.0, 150.0, 200.0, 900.0] {
        for x_m in [1e-5, 0.4e-3, 1.2e-3, 2.3e-3] {
            let h = 1e-7;
            let slope = (circuit.coenergy_j(current_a, x_m + h)
                - circuit.coenergy_j(current_a, x_m - h))
                / (2.0 * h);
            close(circuit.pull_n(current_a, x_m), slope, 1e-5);
        }
    }
}

/// At a constant current the speed at the release is what coenergy and work leave; the step that
/// meets the limit of the iron costs 2e-5 of it.
#[test]
fn energy_of_the_armature_closes() {
    for (current_a, trigger_n) in [(160.0, 2.0), (200.0, 2.0), (700.0, 9.0), (170.0, 9.0)] {
        let magnet = case_a(trigger_n);
        let circuit = &magnet.built.circuit;
        let flown = flight(
            &magnet,
            &at_once(current_a),
            0.0,
            HORIZON_S,
            &mut |_, _, _| (),
        );
        let speed = flown.release.expect("releases").speed_m_per_s;
        let end_m = magnet.built.release_m();
        let gained = circuit.coenergy_j(current_a, end_m) - circuit.coenergy_j(current_a, 0.0);
        let kinetic = 0.5 * magnet.built.mass_kg * speed * speed;
        close(kinetic, gained - magnet.work_j(end_m), 1e-4);
    }
}

/// A current that only just has the work in it releases; one a little weaker does not.
#[test]
fn the_step_pick_up_is_where_the_blow_is_just_enough() {
    let magnet = case_a(20.0);
    let found = magnet.direct_currents().expect("it moves");
    let step_a = found.step_a.expect("in a blow");
    assert!(step_a > 1.001 * found.start_a, "{found:?}");
    let releases = |a: f64| {
        let flown = flight(&magnet, &at_once(a), 0.0, HORIZON_S, &mut |_, _, _| ());
        flown.release.is_some()
    };
    assert!(releases(1.0005 * step_a) && !releases(0.9995 * step_a));
}

/// A heavy armature goes by the mean of the pull, a light one by its peak.
#[test]
fn heavy_armatures_go_by_the_mean() {
    let ratio = |mass_kg: f64, frequency_hz: f64| {
        let mut magnet = case_a(2.0);
        magnet.built.mass_kg = mass_kg;
        magnet.built.trigger_force_n = 0.0;
        let start_a = magnet.direct_currents().expect("it moves").start_a;
        rms_pick_up_a(&magnet, start_a, frequency_hz).expect("releases") / start_a
    };
    let (light, heavy) = (ratio(1e-4, 50.0), ratio(4e-3, 2000.0));
    assert!(
        (light * std::f64::consts::SQRT_2 - 1.0).abs() < 0.02,
        "{light}"
    );
    assert!(heavy > 0.97 && heavy < 1.08, "{heavy}");
}

/// The armature may come to rest against the trigger, stay there and go on: no step is lost
/// between.
#[test]
fn a_stop_against_the_trigger_ends() {
    let magnet = case_a(9.0);
    for rms_a in [112.0, 116.0, 118.0, 118.5, 119.0, 125.0] {
        let found = angles(&magnet, &alternating(rms_a, 0.0), Poles::One, HORIZON_S);
        assert!(found.mean_evaluations < 4000.0, "{rms_a} A: {found:?}");
        assert!((0.0..=1.0).contains(&found.probability));
    }
    assert_eq!(magnet.acceleration_m_per_s2(0.0, 0.0, Reach::Free), -1000.0);
}

/// The work of a closing: currents evaluated, as the mean over 72 angles. Four hundred at
/// 125 ns are the 50 us that an angle may cost.
#[test]
fn work_of_a_closing() {
    for (rms_a, x_over_r) in [
        (60.0, 3.0),
        (105.0, 3.0),
        (110.0, 3.0),
        (150.0, 3.0),
        (400.0, 10.0),
    ] {
        let found = over_angles(&alternating(rms_a, x_over_r), Poles::One);
        println!("{rms_a} A, X/R {x_over_r}: {:.0}", found.mean_evaluations);
        assert!(found.mean_evaluations < 400.0, "{rms_a} A: {found:?}");
    }
}

/// The shipped part: what acts, and that its record reads back.
#[test]
fn the_saw_is_opened_by_the_instantaneous_element_in_some_closings() {
    use relatch::internals::predict::{FirstToAct, Options, Outcome, Trip, predict};
    let mut options = Options::default();
    (options.without_tables, options.without_course) = (true, true);
    let told = |change: &dyn Fn(&mut relatch::internals::scenario::Scenario)| {
        let mut s = crate::support::shipped("15-theatre-saw.toml");
        change(&mut s);
        predict(&s, &options, &mut |_, _| {}).expect("it runs")
    };
    let outcome = told(&|_| ());
    let answer = outcome.magnetic.as_ref().expect("an element");
    assert!(matches!(outcome.trip, Trip::HoldsForEver { .. }));
    assert_eq!(answer.first, FirstToAct::MagneticOrNone);
    assert!(
        (0.25..0.4).contains(&answer.closing.probability),
        "{answer:?}"
    );
    let cable = answer.cable.as_ref().expect("a cable");
    assert_eq!(cable.charging.probability, 0.0);
    assert_eq!(cable.far_fault.probability, 0.0);
    let sure_m = cable.sure_up_to_m.expect("a length");
    assert!(sure_m > 20.0 && sure_m < cable.length_m, "{sure_m}");
    assert!(cable.far_fault_strip.time_s().is_some_and(|s| s > 0.1));

    let json = serde_json::to_string(&outcome).expect("JSON");
    let back: Outcome = serde_json::from_str(&json).expect("reads back");
    assert_eq!(back, outcome);

    // A shorter cable, and a weak circuit: the element takes the fault there, the strip here.
    let near = told(&|s| s.cable.as_mut().expect("a cable").length_m = 0.9 * sure_m);
    let near = near.magnetic.and_then(|m| m.cable).expect("a cable");
    assert_eq!(near.far_fault.probability, 1.0);
    let overload = told(&|s| {
        let closing = s.closing.as_mut().expect("a closing");
        closing.current = alternating(60.0, 0.0);
        s.load = relatch::internals::load::Programme::constant(60.0);
    });
    let first = overload.magnetic.map(|m| m.first);
    assert_eq!(first, Some(FirstToAct::Strip));
}

/// Without the table nothing changes: the answers of the strip are those of the part without an
/// element.
#[test]
fn the_strip_does_not_know_its_neighbour() {
    use relatch::internals::predict::{Options, predict};
    let mut options = Options::default();
    (options.without_tables, options.without_course) = (true, true);
    let mut s = crate::support::shipped("15-theatre-saw.toml");
    let with = predict(&s, &options, &mut |_, _| {}).expect("it runs");
    (s.magnetic, s.closing, s.cable) = (None, None, None);
    let without = predict(&s, &options, &mut |_, _| {}).expect("it runs");
    assert!(without.magnetic.is_none());
    assert_eq!(with.trip, without.trip);
    assert_eq!(with.trip_point, without.trip_point);
    assert_eq!(with.reset, without.reset);
}

/// One of each law.
fn laws() -> [ClosingCurrent; 6] {
    [
        alternating(70.0, 4.0),
        ClosingCurrent::Direct {
            current_a: 90.0,
            time_constant_s: 0.004,
        },
        ClosingCurrent::HalfWave {
            peak_a: 120.0,
            frequency_hz: 50.0,
        },
        ClosingCurrent::Lamp {
            rms_a: 15.0,
            frequency_hz: 50.0,
            cold_ratio: 10.0,
            time_constant_s: 0.02,
        },
        ClosingCurrent::Transformer {
            first_peak_a: 260.0,
            frequency_hz: 50.0,
            remanence: 0.5,
            saturation: 1.2,
            time_constant_s: 0.05,
        },
        ClosingCurrent::Capacitor {
            peak_a: 150.0,
            ringing_hz: 900.0,
            time_constant_s: 0.003,
            steady_rms_a: 10.0,
            frequency_hz: 50.0,
        },
    ]
}

/// The bound by which a flight ends early is one, and the currents of an inductance begin at zero.
#[test]
fn no_current_exceeds_its_bound() {
    for law in laws() {
        for angle_deg in (0..360).step_by(15) {
            let angle = f64::from(angle_deg).to_radians();
            let sizes: Vec<f64> = (0..4000)
                .map(|k| law.at(angle, 2.5e-5 * f64::from(k)).abs())
                .collect();
            for from in (0..4000).step_by(400) {
                let most = sizes[from..].iter().copied().fold(0.0, f64::max);
                let bound = law.bound_from_a(angle, 2.5e-5 * from as f64);
                assert!(
                    most <= bound * (1.0 + 1e-12),
                    "{law:?} {angle_deg}: {most} > {bound}"
                );
            }
        }
    }
    for angle_deg in [0.0f64, 40.0, 90.0, 200.0] {
        let angle = angle_deg.to_radians();
        assert!(alternating(70.0, 4.0).at(angle, 0.0).abs() < 1e-12);
        assert!(laws()[5].at(angle, 0.0).abs() < 1e-12);
    }
}

/// Lamps that are warm from the beginning draw what a resistance draws.
#[test]
fn warm_lamps_are_a_resistance() {
    let lamp = ClosingCurrent::Lamp {
        rms_a: 118.0,
        frequency_hz: 50.0,
        cold_ratio: 1.0,
        time_constant_s: 0.02,
    };
    let (a, b) = (
        over_angles(&lamp, Poles::One),
        over_angles(&alternating(118.0, 0.0), Poles::One),
    );
    assert!((a.probability - b.probability).abs() < 1e-9 && a.earliest_s == b.earliest_s);
}

/// The same motion in short equal steps up to the horizon, with no thought of ending early.
fn plodding(magnet: &Magnet, law: &ClosingCurrent, angle: f64) -> Option<f64> {
    let (h, built) = (2e-6, &magnet.built);
    let (mut x, mut v) = (0.0f64, 0.0f64);
    for k in 0..(HORIZON_S / h) as usize {
        let t = h * k as f64;
        let reach = if x > built.strike_m {
            Reach::Trigger
        } else {
            Reach::Free
        };
        let rate = |t: f64, x: f64| magnet.acceleration_m_per_s2(law.at(angle, t).abs(), x, reach);
        // Velocity Verlet.
        let a = rate(t, x);
        x += h * (v + 0.5 * h * a);
        v += 0.5 * h * (a + rate(t + h, x));
        if x <= 0.0 {
            (x, v) = (0.0, 0.0);
        }
        if x >= built.release_m() {
            return Some(t + h);
        }
    }
    None
}

/// Flights agree with that at every angle, those that end early too.
#[test]
fn ending_early_loses_no_release() {
    let (mut early, mut released) = (0, 0);
    let cases = [
        (2.0, alternating(104.0, 1.0)),
        (9.0, alternating(116.0, 2.0)),
    ];
    let others = laws().into_iter().skip(1).map(|law| (2.0, law));
    for (trigger_n, law) in cases.into_iter().chain(others) {
        let magnet = case_a(trigger_n);
        for angle_deg in (0..360).step_by(20) {
            let angle = f64::from(angle_deg).to_radians();
            let flown = flight(&magnet, &law, angle, HORIZON_S, &mut |_, _, _| ());
            let plodded = plodding(&magnet, &law, angle);
            let after = flown.release.map(|r| r.time_s);
            match (after, plodded) {
                (Some(a), Some(b)) => close(a, b, 1e-3),
                (None, None) => early += u32::from(flown.looked_at_s < 0.99 * HORIZON_S),
                _ => panic!("{law:?} at {angle_deg}: {after:?}, not {plodded:?}"),
            }
            released += u32::from(after.is_some());
        }
    }
    assert!(
        early > 20 && released > 20,
        "{early} early, {released} released"
    );
}
