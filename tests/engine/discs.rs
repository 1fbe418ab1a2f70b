//! Discs that snap: the worked case of the shell with its heat, and what is said of others.
//!
//! The expected values were computed by other programs (a boundary-value solver and finite
//! volumes), which share no line with this one.

use relatch::internals::answer::{Failed, TripTime};
use relatch::internals::device::{Device, Drive, Fineness, Gauge, Model, Phase, Plant};
use relatch::internals::physics::constants::ZERO_CELSIUS_K;
use relatch::internals::predict::{
    Options, Outcome, PredictError, Session, Unwatched, Warning, closed_steady, predict,
    relatch_temperature_k, trip_point_on, trip_temperature_k,
};
use relatch::internals::scenario::{Scenario, read_text};

const WORKED: &str = r#"
[protector]
rated_current = "25 A"
[strip]
flat_temperature = "20 degC"
[[strip.layer]]
alloy = "worked low side"
thickness = "0.1 mm"
[[strip.layer]]
alloy = "worked high side"
thickness = "0.1 mm"
[cooling]
posture = "flat"
emissivity = 0.4
[rim]
heat_capacity = "0.3 J/K"
resistance = "0.5 mohm"
conductance = "0.05 W/K"
[machine_case]
temperature = "60 degC"
[moving_contact]
heat_capacity = "0.1 J/K"
conductance = "0.002 W/K"
[fixed_contact]
heat_capacity = "0.8 J/K"
conductance = "0.04 W/K"
[contact]
resistance = "1 mohm"
[disc]
radius = "9 mm"
rise = "0.46 mm"
contact_radius = "2.5 mm"
poisson_ratio = 0.3
contact_force = "0.3 N"
reset = "automatic"
[surroundings]
ambient = "25 degC"
[load]
current = "50 A"
"#;

/// The worked disc, its text changed.
fn worked(change: impl Fn(String) -> String) -> Scenario {
    let strip = include_str!("../../scenarios/08-worked-strip.toml");
    let alloys = &strip[strip.find("[[alloy]]").expect("alloys")..];
    let text = format!(
        "format = 1\ntitle = \"A disc\"\n{}\n{alloys}",
        change(WORKED.into())
    );
    read_text("disc", &text).unwrap_or_else(|e| panic!("{e}"))
}

fn model(scenario: &Scenario, order: usize) -> Model {
    let device = Device::new(scenario).expect("device");
    let end_element_m = device.length_m;
    Model::new(
        &device,
        Fineness {
            order,
            end_element_m,
        },
    )
}

fn close(value: f64, expected: f64, tolerance: f64) {
    assert!(
        (value - expected).abs() <= tolerance,
        "{value} is not {expected}"
    );
}

const AIR_K: f64 = 25.0 + ZERO_CELSIUS_K;

#[test]
fn even_temperatures_of_the_worked_disc() {
    let disc = model(&worked(|text| text), 14);
    let c = |k: Option<f64>| k.expect("it snaps") - ZERO_CELSIUS_K;
    close(c(trip_temperature_k(&disc)), 121.2122, 5e-4);
    close(c(relatch_temperature_k(&disc)), 100.5232, 5e-4);
    let free = worked(|text| text.replace("contact_force = \"0.3 N\"", ""));
    close(c(trip_temperature_k(&model(&free, 14))), 119.4233, 5e-4);
}

#[test]
fn steady_heat_and_trip_point_of_the_worked_disc() {
    let disc = model(&worked(|text| text), 14);
    let temperatures = |y: &[f64]| {
        let (rim, middle) = (y[0], y[disc.layout.strip - 1]);
        [middle, rim, disc.mean_k(y)].map(|t| t - ZERO_CELSIUS_K)
    };
    let start = disc.uniform(AIR_K);
    let steady = closed_steady(&disc, 25.0, AIR_K, &start)
        .expect("steady")
        .expect("one");
    for (value, expected) in temperatures(&steady).iter().zip([72.960, 67.741, 70.536]) {
        close(*value, expected, 2e-3);
    }
    let point = trip_point_on(&disc, AIR_K, 25.0).expect("trip point");
    let relatch::internals::predict::TripPointAnswer::At { current_a, state } = point else {
        panic!("no trip point");
    };
    close(current_a / 46.26771, 1.0, 2e-5);
    for (value, expected) in temperatures(&state).iter().zip([150.02, 100.88, 124.12]) {
        close(*value, expected, 0.02);
    }
}

#[test]
fn trip_and_reset_of_the_worked_disc() {
    let scenario = worked(|text| text);
    let disc = model(&scenario, 16);
    let warm = disc.uniform(60.0 + ZERO_CELSIUS_K);
    let air = [(0.0, AIR_K)];
    let mut session = Session::new(&disc, &air, 1e-8, warm);
    session
        .carry(&scenario.load, 0.0, 1e4, 0.0, &mut Unwatched)
        .expect("carried");
    close(session.t / 17.51615, 1.0, 1e-4);
    let opened = session.t;
    session.phase = Phase::Open;
    session
        .wait_for_relatch(1e5, &mut Unwatched)
        .expect("cooled");
    close((session.t - opened) / 7.47017, 1.0, 2e-4);
}

/// The right-hand side and its slopes with a motor beside the disc, and the energy of both.
#[test]
fn a_motor_as_one_node_closes_its_energy() {
    let motor = "heat_capacity = \"400 J/K\"\nconductance = \"0.8 W/K\"\nresistance = \"0.02 ohm\"";
    let scenario = worked(|text| text.replace("temperature = \"60 degC\"", motor));
    let disc = model(&scenario, 10);
    let plant = Plant {
        model: &disc,
        drive: Drive::constant(40.0, AIR_K),
    };
    let start = disc.uniform(AIR_K);
    let steady = closed_steady(&disc, 40.0, AIR_K, &start)
        .expect("steady")
        .expect("one");
    let powers = plant.powers(0.0, &steady);
    close(powers.electrical_w / powers.lost_w, 1.0, 1e-7);
    let motor = disc.layout.motor.expect("a motor");
    // 32 W over 0.8 W/K, and what comes from the rim.
    assert!(steady[motor] - AIR_K > 40.0);
    assert!(steady[0] > steady[motor]);
}

fn predicted(scenario: &Scenario) -> Outcome {
    let mut options = Options::default();
    options.without_course = true;
    predict(scenario, &options, &mut |_, _| {}).expect("an outcome")
}

#[test]
fn it_goes_on_and_off_by_itself() {
    let scenario = worked(|text| text.replace("[disc]", "[disc]\nrated_closings = 6000"));
    let outcome = predicted(&scenario);
    let cycling = outcome.cycling.expect("it closes by itself");
    assert!(cycling.is_settled);
    close(
        3600.0 / cycling.operations_per_hour(),
        cycling.on_s + cycling.off_s,
        1e-9,
    );
    // Warm from the round before it trips sooner than from rest, and the case keeps it warm.
    assert!(cycling.on_s < 15.0 && cycling.off_s > 5.0, "{cycling:?}");
    close(
        cycling.rated_for_s().expect("rated"),
        6000.0 * (cycling.on_s + cycling.off_s),
        1e-6,
    );
    // So low a dome would not snap in one term; a higher one does, too soon.
    assert_eq!(outcome.part.disc.expect("a disc").one_term_relative, None);
    let high = worked(|text| text.replace("0.46 mm", "0.54 mm").replace("0.3 N", "0 N"));
    let disc = predicted(&high).part.disc.expect("a disc");
    let late = disc.one_term_relative.expect("both snap");
    assert!((-0.20..-0.10).contains(&late), "{late}");
}

/// A disc that bridges two contacts on its rim is heated evenly; between middle and rim the heat
/// goes as in a fin: theta = q / 2h + (theta_R - q / 2h) I0(m r) / I0(m R), m^2 = 2 h / (k t)
/// (H. S. Carslaw, J. C. Jaeger: Conduction of Heat in Solids, 1959, from memory).
#[test]
fn a_bridge_is_heated_evenly() {
    let (radius_m, ohm, current_a, h) = (9e-3, 3e-3, 10.0, 25.0);
    let scenario = worked(|text| {
        text.replace(
            "posture = \"flat\"",
            "posture = \"constant\"\ncoefficient = \"25 W/(m2 K)\"",
        )
        .replace("emissivity = 0.4", "emissivity = 0.0")
        .replace("2.5 mm", "0.2 mm")
        .replace("[disc]", "[disc]\nbridge_resistance = \"3 mohm\"")
    });
    let model = model(&scenario, 16);
    let air_k = 298.15;
    let y = closed_steady(&model, current_a, air_k, &model.uniform(air_k));
    let y = y.expect("no failure").expect("a steady state");
    let (rim_k, middle_k) = (y[0], y[model.layout.strip - 1]);
    let laws = &model.device.laws;
    let kt = laws.line(0.5 * (rim_k + middle_k)).conduction / laws.width_m;
    let heat = current_a * current_a * ohm / (std::f64::consts::PI * radius_m * radius_m);
    let even_k = heat / (2.0 * h);
    // The last node stands at the edge of what presses on the middle.
    let along = (2.0 * h / kt).sqrt();
    let share = i0(along * 0.2e-3) / i0(along * radius_m);
    let expected_k = air_k + even_k + (rim_k - air_k - even_k) * share;
    // Its contact warms the rim more than the current the middle.
    assert!(rim_k - middle_k > 2.0, "{rim_k} {middle_k}");
    close(
        middle_k - rim_k,
        expected_k - rim_k,
        1e-3 * (rim_k - expected_k),
    );
    // The contact is at the rim: closed, it is warmed there.
    assert_eq!(model.layout.moving, 0);
}

/// Modified Bessel function of order 0, by its series.
fn i0(x: f64) -> f64 {
    let (mut sum, mut term) = (1.0, 1.0);
    for k in 1..30 {
        term *= (0.5 * x / f64::from(k)).powi(2);
        sum += term;
    }
    sum
}

#[test]
fn a_bridge_trips_and_its_energy_closes() {
    let scenario = worked(|text| {
        text.replace("[disc]", "[disc]\nbridge_resistance = \"6 mohm\"")
            .replace(
                "temperature = \"60 degC\"",
                "heat_capacity = \"300 J/K\"\nconductance = \"1 W/K\"\nresistance = \"0.1 ohm\"",
            )
    });
    let outcome = predict(&scenario, &Options::default(), &mut |_, _| {}).expect("an outcome");
    assert!(outcome.trip.trips());
    let defect = outcome
        .error_estimate
        .energy_balance_relative
        .expect("energy");
    assert!(defect.abs() < 1e-6, "{defect}");
}

/// More domed than made it may not stay round: refused, in the run and in a row.
#[test]
fn a_disc_colder_than_made_is_refused() {
    let cold = |text: String| text.replace("[machine_case]\ntemperature = \"60 degC\"\n", "");
    let scenario =
        worked(|text| cold(text).replace("ambient = \"25 degC\"", "ambient = \"5 degC\""));
    let error = predict(&scenario, &Options::default(), &mut |_, _| {}).expect_err("refused");
    assert!(matches!(error, PredictError::MoreDomed { .. }), "{error}");
    let scenario = worked(|text| cold(text) + "[ask]\nambients = [\"0 degC\", \"25 degC\"]\n");
    let rows = predicted(&scenario).ambient_correction;
    let refused = |row: usize| {
        matches!(
            rows[row].trip_time,
            TripTime::Failed {
                why: Failed::MoreDomed { .. }
            }
        )
    };
    assert!(refused(0) && !refused(1), "{rows:?}");
}

#[test]
fn a_low_dome_creeps_and_says_so() {
    let scenario = worked(|text| text.replace("0.46 mm", "0.36 mm"));
    let creeps = |o: &Outcome| o.warnings.iter().any(|w| matches!(w, Warning::DiscCreeps));
    assert!(creeps(&predicted(&scenario)));
    assert!(!creeps(&predicted(&worked(|text| text))));
}

/// Where the case warms the disc in time, no step crosses a corner and a warm case alone trips it.
#[test]
fn a_case_given_in_time_trips_it_without_current() {
    let points = "temperature_points = [[\"0 s\", \"60 degC\"], [\"600 s\", \"190 degC\"]]";
    let scenario = worked(|text| {
        text.replace("temperature = \"60 degC\"", points)
            .replace("50 A", "1 A")
    });
    let outcome = predicted(&scenario);
    let release = outcome.trip.release().expect("it trips");
    assert!(
        450.0 < release.time_s && release.time_s < 1200.0,
        "{}",
        release.time_s
    );
}

/// Away from its release the distance rises with the temperature, and its slope is that of a smooth
/// function.
#[test]
fn the_distance_from_release_rises_with_temperature() {
    let disc = model(&worked(|text| text), 10);
    let distance = |c: f64| {
        let plant = Plant {
            model: &disc,
            drive: Drive::constant(0.0, AIR_K),
        };
        plant.distance_m(Gauge::RELEASE, 0.0, &disc.uniform(c + ZERO_CELSIUS_K))
    };
    let values: Vec<f64> = (0..=30)
        .map(|k| distance(-20.0 + 6.0 * f64::from(k)))
        .collect();
    assert!(values.windows(2).all(|w| w[1] > w[0]), "{values:?}");
}

/// Where it can stand at one temperature throughout: either way between the snaps, on the side of the
/// closed contacts alone below them, on the other above; as high as the device has it.
#[test]
fn where_a_disc_can_stand() {
    let scenario = worked(|text| text.replace("60 degC", "25 degC"));
    let outcome = predict(&scenario, &Options::default(), &mut |_, _| ()).unwrap();
    let picture = outcome.snap.unwrap();
    let reset_c = picture.reset_temperature_c.unwrap();
    let trip_c = picture.trip_temperature_c;
    for point in &picture.branches {
        let at_c = point.temperature_c;
        let near = 0.05 * (trip_c - reset_c);
        if (at_c - reset_c).abs() < near || (at_c - trip_c).abs() < near {
            continue;
        }
        let stands = [point.closed_mm, point.unstable_mm, point.snapped_mm].map(|h| h.is_some());
        let expected = [
            at_c < trip_c,
            at_c > reset_c && at_c < trip_c,
            at_c > reset_c,
        ];
        assert_eq!(stands, expected, "{point:?}");
    }
    // The first shape is that of the cold disc.
    let drawn = outcome.shapes[0].y_mm.iter().copied();
    let top_mm = drawn.fold(0.0, f64::max);
    let cold = picture.branches.iter().find(|p| p.temperature_c >= 25.0);
    close(cold.unwrap().closed_mm.unwrap(), top_mm, 4e-4);
    assert_eq!(picture.energy.len(), 4);
}
