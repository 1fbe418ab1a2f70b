//! Poles beside one another: identities, and worked numbers of an independent program.

use crate::support::{apart, case, run_at, worked};
use relatch::internals::device::{Device, Drive, Fineness, Gauge, Model, Phase, Plant};
use relatch::internals::predict::{Carried, trip_point};
use relatch::internals::scenario::{self, Scenario};
use relatch::internals::solve::{ProfileMatrix, System};

/// The worked strip as a part of several poles: what `[latch]` and `[poles]` say in place of its
/// own.
fn poles(latch: &str, poles: &str) -> Scenario {
    let file = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/scenarios/08-worked-strip.toml"
    );
    let text = std::fs::read_to_string(file).expect("the worked strip");
    let begin = text.find("[latch]").expect("its latch");
    let end = begin + text[begin + 1..].find("\n[").expect("what follows") + 1;
    let text = format!(
        "{}{latch}\nreset = \"by hand\"\n{poles}\n{}",
        &text[..begin],
        &text[end..]
    );
    scenario::read_text("poles.toml", &text).unwrap_or_else(|e| panic!("{e}"))
}

/// Three of them with walls, heated side by side; the currents of the poles against the load's.
fn three(force: &str, bar: &str, currents: [f64; 3]) -> Scenario {
    let travel = match bar.contains("differential") {
        true => "release_travel = \"0.95 mm\"",
        false => "release_travel = \"0.9 mm\"",
    };
    let latch =
        format!("[latch]\n{travel}\nrelatch_travel = \"0.6 mm\"\nconstant_force = \"{force}\"\n");
    let each = ["0.06 W/K", "0.03 W/K", "0.06 W/K"];
    let each: String = (each.iter().zip(currents))
        .map(|(g, current)| {
            format!("[[poles.pole]]\ncurrent = {current:?}\nhousing_conductance = \"{g}\"\n")
        })
        .collect();
    poles(
        &latch,
        &format!(
            "[housing]\nheat_capacity = \"4 J/K\"\nconductance = \"0.06 W/K\"\n[poles]\n{bar}\nwall = \"0.1 W/K\"\n{each}"
        ),
    )
}

fn trip_point_a(s: &Scenario) -> f64 {
    let device = Device::new(s).expect("device");
    let point = trip_point(&device, case(s).ambient_k(), 9.0, 1e-6).expect("point");
    point.value.current_a().expect("a trip point")
}

const FORCES: [(&str, &str); 3] = [
    ("0.45 N", "bar = \"sum\""),
    ("0.15 N", "bar = \"any\""),
    ("0.05 N", "bar = \"differential\"\nlever = 0.5"),
];

/// Values computed for this project by a program that shares nothing with the engine (worked case
/// C).
#[test]
fn trip_points_of_three_poles_are_those_of_an_independent_program() {
    let [sum, any, differential] = FORCES;
    for ((force, bar), currents, expected_a) in [
        (sum, [1.0, 1.0, 1.0], 8.346459),
        (sum, [1.0, 1.0, 0.0], 8.798091),
        (sum, [1.0, 0.0, 1.0], 8.831042),
        (sum, [1.0, 0.0, 0.0], 9.975942),
        (sum, [0.0, 1.0, 0.0], 9.986922),
        (any, [1.0, 1.0, 1.0], 8.329268),
        (any, [1.0, 1.0, 0.0], 8.407661),
        (any, [1.0, 0.0, 1.0], 8.442991),
        (any, [1.0, 0.0, 0.0], 8.497978),
        (any, [0.0, 1.0, 0.0], 8.506851),
        (differential, [1.0, 1.0, 1.0], 7.995465),
        (differential, [1.0, 1.0, 0.0], 6.677190),
        (differential, [1.0, 0.0, 1.0], 6.708062),
        (differential, [1.0, 1.0, 0.9], 7.799775),
    ] {
        let found_a = trip_point_a(&three(force, bar, currents));
        // 1e-4 is demanded.
        assert!(
            apart(found_a, expected_a) < 1e-5,
            "{bar} {currents:?}: {found_a}"
        );
    }
}

#[test]
fn trips_and_waits_of_three_poles_are_those_of_an_independent_program() {
    let [sum, _, differential] = FORCES;
    for ((force, bar), currents, trip_s, wait_s) in [
        (sum, [1.0, 1.0, 1.0], 3.117342, 9.021812),
        (sum, [1.0, 1.0, 0.0], 3.447416, 10.42637),
        (sum, [1.0, 0.0, 0.0], 4.490275, 14.12225),
        (differential, [1.0, 1.0, 1.0], 2.833588, 7.697520),
        (differential, [1.0, 1.0, 0.0], 1.870417, 8.158232),
    ] {
        let found = run_at(&three(force, bar, currents), 20.0).value;
        let (trip, wait) = (found.trip_time_s, found.relatch_wait_s);
        let (trip, wait) = (trip.expect("it trips"), wait.expect("it relatches"));
        // 1e-3 is demanded.
        assert!(
            apart(trip, trip_s) < 1e-4,
            "{bar} {currents:?}: trip {trip}"
        );
        assert!(
            apart(wait, wait_s) < 1e-4,
            "{bar} {currents:?}: wait {wait}"
        );
    }
}

/// The trip point of steady states is where runs in time begin to trip, whatever the bar and the
/// poles loaded.
#[test]
fn below_its_trip_point_it_is_proved_to_hold_and_above_it_trips() {
    for (force, bar) in FORCES {
        for currents in [[1.0, 1.0, 1.0], [1.0, 1.0, 0.0]] {
            let s = three(force, bar, currents);
            let point_a = trip_point_a(&s);
            let (below, above) = (run_at(&s, 0.99 * point_a), run_at(&s, 1.01 * point_a));
            assert_eq!(
                below.value.carried,
                Carried::HeldForEver,
                "{bar} {currents:?}"
            );
            assert_eq!(above.value.carried, Carried::Released, "{bar} {currents:?}");
        }
    }
}

/// A part whose two bars touch other strips at the steady state than on the way there: what the
/// slope at one state says of it is less than what the strips can do.
#[test]
fn the_bar_moves_no_further_than_its_strips_allow() {
    for (force, bar) in FORCES {
        let s = three(force, bar, [1.0, 0.98, 0.0]);
        let device = Device::new(&s).expect("device");
        let end_element_m = device.length_m;
        let model = Model::new(
            &device,
            Fineness {
                order: 7,
                end_element_m,
            },
        );
        let n = model.layout.len;
        let y: Vec<f64> = (0..n)
            .map(|i| 340.0 + 25.0 * (i as f64 * 0.37).sin())
            .collect();
        let ones = vec![1.0; n];
        let mechanism = model.mechanism();
        let most = mechanism
            .steepness(&model, &y, &ones)
            .expect("a bar has corners");
        let at = |y: &[f64]| mechanism.distance_m(&model, Gauge::RELEASE, y, 0.0);
        let here = at(&y);
        // Every strip by itself, and all ways of warming some strips and cooling the others.
        for signs in 0..8 {
            let there: Vec<f64> = (0..n)
                .map(|i| {
                    let pole = (i / model.layout.strip).min(2);
                    y[i] + if signs >> pole & 1 == 1 { 1.0 } else { -1.0 }
                })
                .collect();
            let moved = (at(&there) - here).abs();
            // A kelvin is a step over which curvature and stiffness are all but straight.
            assert!(moved <= 1.01 * most, "{bar} {signs}: {moved} {most}");
        }
    }
}

const PLAIN: &str = "[latch]\nrelease_travel = \"1.2 mm\"\nrelatch_travel = \"0.7 mm\"\n";
const HOUSING: &str = "[housing]\nheat_capacity = \"4 J/K\"\nconductance = \"0.06 W/K\"\n";

#[test]
fn one_pole_is_the_part_without_poles() {
    let one = poles(PLAIN, &format!("{HOUSING}[poles]\n[[poles.pole]]\n"));
    let none = poles(PLAIN, HOUSING);
    for current_a in [13.0, 60.0] {
        let (one, none) = (
            run_at(&one, current_a).value,
            run_at(&none, current_a).value,
        );
        let pairs = [
            (one.trip_time_s, none.trip_time_s),
            (one.relatch_wait_s, none.relatch_wait_s),
        ];
        for (a, b) in pairs {
            // Each is computed to 1e-5, the one the general way and the other in registers.
            assert!(
                apart(a.expect("event"), b.expect("event")) < 2e-5,
                "{a:?} {b:?}"
            );
        }
    }
    assert!(apart(trip_point_a(&one), trip_point_a(&none)) < 2e-6);
}

#[test]
fn uncoupled_poles_are_single_ones() {
    let alone = worked(|_| {});
    let pole = |current: f64| format!("[[poles.pole]]\ncurrent = {current:?}\n");
    let both = |bar: &str, b: f64| {
        poles(
            PLAIN,
            &format!("[poles]\nbar = \"{bar}\"\n{}{}", pole(1.0), pole(b)),
        )
    };
    let single_a = trip_point_a(&alone);
    // Without a force to share, two poles do what the foremost of them does.
    for bar in ["sum", "any"] {
        for b in [1.0, 0.5] {
            assert!(
                apart(trip_point_a(&both(bar, b)), single_a) < 2e-6,
                "{bar} {b}"
            );
        }
        assert!(
            apart(trip_point_a(&both(bar, 2.0)), 0.5 * single_a) < 2e-6,
            "{bar}"
        );
    }
}

/// One air space is what pockets become whose walls let everything through.
#[test]
fn one_air_space_is_the_limit_of_thin_walls() {
    let with = |wall: &str| {
        let each =
            "[[poles.pole]]\n[[poles.pole]]\ncurrent = 0.6\nhousing_conductance = \"0.02 W/K\"\n";
        trip_point_a(&poles(
            PLAIN,
            &format!("{HOUSING}[poles]\nwall = \"{wall}\"\n{each}"),
        ))
    };
    let limit = with("one air space");
    let apart_by = |wall: &str| apart(with(wall), limit);
    let (far, near) = (apart_by("1 W/K"), apart_by("10 W/K"));
    assert!(far > 1e-5 && near < 0.2 * far, "{far} {near}");
}

/// A strip that is held back less is further on; the sum of the pushes is the force.
#[test]
fn the_bar_stands_where_the_pushes_are_the_force() {
    use relatch::internals::physics::trip_bar::bar_position_m;
    let strips = [(1.0e-3, 2.0e-3), (0.7e-3, 1.0e-3), (-0.2e-3, 0.5e-3)];
    assert_eq!(bar_position_m(&strips, 0.0), 1.0e-3);
    for force_n in [0.05, 0.3, 2.0, 40.0] {
        let y = bar_position_m(&strips, force_n);
        let pushes: f64 = strips.iter().map(|(u, s)| f64::max(0.0, (u - y) / s)).sum();
        assert!(apart(pushes, force_n) < 1e-12, "{force_n}: {pushes}");
    }
}

/// Central differences with a step of 1e-3 K, as for one strip.
#[test]
fn jacobian_of_poles_is_the_slope_of_the_right_hand_side() {
    for wall in ["\"0.1 W/K\"", "\"one air space\""] {
        let s = poles(
            PLAIN,
            &format!(
                "{HOUSING}[poles]\nwall = {wall}\nbetween_clamped_terminals = \"0.02 W/K\"\n\
                 between_fixed_contacts = \"0.03 W/K\"\n[[poles.pole]]\n[[poles.pole]]\n\
                 current = 0.5\nhousing_conductance = \"0.02 W/K\"\n"
            ),
        );
        let device = Device::new(&s).expect("device");
        let end_element_m = device.length_m;
        let fineness = Fineness {
            order: 5,
            end_element_m,
        };
        let model = Model::new(&device, fineness);
        let n = model.layout.len;
        let y: Vec<f64> = (0..n)
            .map(|i| 330.0 + 40.0 * (i as f64 * 0.7).sin())
            .collect();
        for phase in [Phase::Closed, Phase::Open] {
            let drive = Drive {
                phase,
                ..Drive::constant(15.0, 300.0)
            };
            let plant = Plant {
                model: &model,
                drive,
            };
            let mut jacobian = ProfileMatrix::zeros(plant.shape());
            plant.jacobian(0.0, &y, &mut jacobian);
            let (mut up, mut down) = (vec![0.0; n], vec![0.0; n]);
            let mut probe = y.clone();
            for j in 0..n {
                probe[j] = y[j] + 1e-3;
                plant.rhs(0.0, &probe, &mut up);
                probe[j] = y[j] - 1e-3;
                plant.rhs(0.0, &probe, &mut down);
                probe[j] = y[j];
                for i in 0..n {
                    let slope = (up[i] - down[i]) / 2e-3;
                    let largest = (0..n).map(|k| jacobian.get(i, k).abs()).fold(0.0, f64::max);
                    let wrong = (jacobian.get(i, j) - slope).abs() / largest;
                    assert!(wrong < 1e-6, "{wall} {phase:?} ({i}, {j}): {wrong}");
                }
            }
        }
    }
}

/// Heat in, heat out and heat kept close over a trip and its cooling.
#[test]
fn energy_of_poles_closes() {
    let [(force, bar), ..] = FORCES;
    let s = three(force, bar, [1.0, 1.0, 0.0]);
    let device = Device::new(&s).expect("device");
    let end_element_m = device.length_m;
    let fineness = Fineness {
        order: 9,
        end_element_m,
    };
    let model = Model::new(&device, fineness);
    let y: Vec<f64> = (0..model.layout.len)
        .map(|i| 320.0 + 30.0 * (i as f64).sin())
        .collect();
    let plant = Plant {
        model: &model,
        drive: Drive::constant(20.0, 298.15),
    };
    let mut rates = vec![0.0; y.len()];
    plant.rhs(0.0, &y, &mut rates);
    let step_s = 1e-4;
    let ahead = |sign: f64| -> Vec<f64> {
        y.iter()
            .zip(&rates)
            .map(|(y, r)| y + sign * step_s * r)
            .collect()
    };
    let stored = |sign: f64| model.stored_j(&ahead(sign), 298.15);
    let gained_w = (stored(1.0) - stored(-1.0)) / (2.0 * step_s);
    let powers = plant.powers(0.0, &y);
    let flows = plant.heat_flows(0.0, &y);
    assert!(
        apart(gained_w, powers.electrical_w - powers.lost_w) < 1e-7,
        "{gained_w} {powers:?}"
    );
    let given = flows.convection_w + flows.radiation_w + flows.terminals_w + flows.contact_w;
    assert!(
        apart(flows.stored_w, flows.electrical_w - given) < 1e-9,
        "{flows:?}"
    );
}

/// How a nameplate's family sees idle poles: as another force and another travel on one of those
/// that carry the current. Without walls that is no approximation, but the poles' equations.
#[test]
fn idle_poles_are_another_latch_on_each_of_the_others() {
    use relatch::internals::family::{Loaded, Wear};
    const POCKET: &str = "[housing]\nheat_capacity = \"4 J/K\"\nconductance = \"0.06 W/K\"\n";
    let lever: f64 = 0.45;
    let shared = [1.0, (1.0 + lever).powi(2) + lever * lever].map(|of_bar| of_bar / 3.0);
    let latch = |travel: f64, force_n: f64| {
        let [release, relatch] = [0.9, 0.6].map(|mm| mm * travel);
        format!(
            "[latch]\nrelease_travel = \"{release} mm\"\nrelatch_travel = \"{relatch} mm\"\nconstant_force = \
             \"{force_n} N\"\n"
        )
    };
    let flat = |mut s: Scenario| {
        s.surroundings.ambient = vec![(0.0, s.strip.flat_temperature_k)];
        s
    };
    let bars = [
        ("bar = \"sum\"", false, 0.45, shared[0]),
        ("bar = \"differential\"\nlever = 0.45", true, 0.2, shared[1]),
    ];
    for (bar, notices, force_n, share) in bars {
        for carrying in [1, 2, 3] {
            let each: String = (0..3)
                .map(|k| {
                    let current = f64::from(u8::from(k < carrying));
                    format!("[[poles.pole]]\ncurrent = {current:?}\n")
                })
                .collect();
            let whole = poles(
                &latch(1.0, force_n),
                &format!("{POCKET}[poles]\n{bar}\n{each}"),
            );
            let loaded = Loaded {
                of: 3,
                carrying,
                notices_lost_phase: notices,
            };
            let seen = loaded.wear(Wear::NONE);
            let one = poles(
                &latch(seen.travel_factor, force_n * share * seen.force_factor),
                POCKET,
            );
            // An idle strip is as flat as it was made.
            let off = apart(trip_point_a(&flat(whole)), trip_point_a(&flat(one)));
            assert!(off < 1e-5, "{bar} {carrying}: {off}");
        }
    }
}
