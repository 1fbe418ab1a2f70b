//! Makes the recorded currents of `scenarios/cases`: invented machines, trips computed by the engine, and the
//! faults of real meters on top. `cargo test --test studies case_logs -- --ignored --nocapture` writes them again, byte
//! for byte; the random start value stands in each file's name.
//!
//! Noise (invented, after what meters usually do; no source): gain of the clamp N(0, 1 %) fixed a
//! file, zero within two digits, steps of the conductor in the jaw of 1.5 % at random moments,
//! flicker of 0.3 %, last digit 0.01 A or 0.1 A, a clock that drifts 40 s a day.

use crate::support::{case, shipped};
use relatch::internals::device::Device;
use relatch::internals::evidence::{self, Outcome};
use relatch::internals::load::{Current, Programme, Repeat};
use relatch::internals::predict::{Case, run};
use relatch::internals::scenario::{Before, Scenario};
use relatch::internals::statistics::stream::{Purpose, Stream};
use std::fmt::Write;
use std::path::Path;

const FOLDER: &str = "scenarios/cases";
/// Draws a second.
const FLICKER: Purpose = Purpose::other(71);
/// Draws a file.
const METER: Purpose = Purpose::other(72);
/// Moments at which the conductor moves.
const JAW: Purpose = Purpose::other(73);

fn steps(list: &[(f64, f64)], repeat: Repeat) -> Programme {
    Programme::steps(list.iter().copied(), repeat)
}

/// A programme with every current times `k`: a part of another rating is the same strip with
/// another current.
fn scaled(p: &Programme, k: f64) -> Programme {
    let list: Vec<(f64, f64)> = p
        .segments
        .iter()
        .map(|s| match s.current {
            Current::Constant(a) => (s.duration_s, a * k),
            _ => panic!("constant pieces only"),
        })
        .collect();
    steps(&list, p.repeat)
}

/// Trip time of a device under a scaled programme, s.
fn trips(device: &Device, case: &Case, p: &Programme, k: f64) -> Option<f64> {
    run(device, case, &scaled(p, k), false)
        .ok()?
        .value
        .trip_time_s
}

/// The scale at which the part trips nearest to a time: more current, sooner.
fn scale(device: &Device, case: &Case, p: &Programme, wanted_s: f64) -> f64 {
    let (mut low, mut high) = (0.3, 3.0);
    for _ in 0..40 {
        let k = f64::sqrt(low * high);
        match trips(device, case, p, k) {
            Some(t) if t < wanted_s => high = k,
            _ => low = k,
        }
    }
    high
}

fn surroundings(s: &Scenario, ambient_k: f64) -> Case {
    Case {
        ambient: vec![(0.0, ambient_k)],
        before: Before::Cold,
        longest_s: 4.0 * 3600.0,
        ..case(s)
    }
}

/// A meter with its faults.
struct Clamp {
    seed: u64,
    gain: f64,
    zero_a: f64,
    digit_a: f64,
    jaw: Vec<(f64, f64)>,
}

impl Clamp {
    fn new(seed: u64, digit_a: f64, lasting_s: f64) -> Clamp {
        let draw = Stream::new(seed, METER, 0);
        let mut jaw = vec![(0.0, 1.0)];
        let moves = Stream::new(seed, JAW, 0);
        for n in 0..(lasting_s / 1200.0) as u32 {
            let step = 1.0 + 0.015 * (2.0 * moves.uniform(2 * n) - 1.0);
            jaw.push((lasting_s * moves.uniform(2 * n + 1), step));
        }
        jaw.sort_by(|a, b| a.0.total_cmp(&b.0));
        Clamp {
            seed,
            gain: 1.0 + 0.01 * draw.normal(0),
            zero_a: digit_a * (4.0 * draw.uniform(1) - 2.0),
            digit_a,
            jaw,
        }
    }

    /// What it shows of a true RMS current at a time.
    fn shows(&self, time_s: f64, true_a: f64) -> f64 {
        let flicker = 1.0 + 0.003 * Stream::new(self.seed, FLICKER, time_s as u64).normal(0);
        let jaw = self
            .jaw
            .iter()
            .rev()
            .find(|j| j.0 <= time_s)
            .map_or(1.0, |j| j.1);
        let a = (true_a * flicker * jaw * self.gain + self.zero_a).max(0.0);
        (a / self.digit_a).round() * self.digit_a
    }
}

/// RMS and mean of a programme over an interval that begins at `from_s` of its time; nothing after
/// `end_s`.
fn over(p: &Programme, from_s: f64, length_s: f64, end_s: f64) -> (f64, f64, f64, f64) {
    const PARTS: usize = 60;
    let (mut square, mut mean, mut low, mut high) = (0.0, 0.0, f64::INFINITY, 0.0f64);
    for k in 0..PARTS {
        let t = from_s + length_s * (k as f64 + 0.5) / PARTS as f64;
        let a = if t < 0.0 || t >= end_s {
            0.0
        } else {
            p.piece_after(t).at(t).0
        };
        square += a * a / PARTS as f64;
        mean += a / PARTS as f64;
        low = low.min(a);
        high = high.max(a);
    }
    (square.sqrt(), mean, low, high)
}

fn write(name: &str, text: &[u8]) {
    std::fs::write(format!("{FOLDER}/{name}"), text).expect("write");
    println!("{name}: {} bytes", text.len());
}

/// The mill through a trip, with a true-RMS logger at 1 s.
fn pug_mill() {
    let s = shipped("01-pug-mill.toml");
    let device = Device::new(&s).expect("device");
    let case = surroundings(&s, 297.15);
    // The auger runs empty for 25 s before the clay goes in.
    let p = steps(&[(25.0, 3.9), (f64::INFINITY, 16.7)], Repeat::Once);
    let k = scale(&device, &case, &p, 498.0);
    let trip_s = trips(&device, &case, &p, k).expect("a trip");
    let twice_s = trips(&device, &case, &Programme::constant(26.0), k).expect("a trip");
    println!("pug mill: scale {k:.4}, trip {trip_s:.1} s, twice the rating {twice_s:.1} s");
    let seed = 7;
    let clamp = Clamp::new(seed, 0.01, 900.0);
    let mut text = String::from("time,current RMS (A)\n");
    for n in 0..720u32 {
        let t = f64::from(n) - 90.0;
        let (rms, ..) = over(&p, t, 1.0, trip_s);
        // The clock of the logger gains 40 s a day: half a second in this file.
        let clock = f64::from(n) * (1.0 + 40.0 / 86_400.0);
        let whole = clock.floor() as u32;
        let ms = ((clock - clock.floor()) * 1000.0) as u32;
        let (m, sec) = (12 + whole / 60, whole % 60);
        let shown = clamp.shows(f64::from(n), rms);
        let _ = writeln!(
            text,
            "2025-03-18T09:{m:02}:{sec:02}.{ms:03}+01:00,{shown:.2}"
        );
    }
    write(&format!("09-pug-mill-seed-{seed}.csv"), text.as_bytes());
}

/// The fog machine: averages over a minute, least and largest, as a cheap logger exports them.
fn fog_machine() {
    let s = shipped("01-pug-mill.toml");
    let device = Device::new(&s).expect("device");
    let case = surroundings(&s, 299.15);
    let p = steps(&[(40.0, 13.8), (25.0, 0.2)], Repeat::Forever);
    // The part of this theatre trips within the thirteenth cue.
    let k = scale(&device, &case, &p, 13.0 * 65.0 - 25.0);
    let trip_s = trips(&device, &case, &p, k).expect("a trip");
    let burst_s = trips(&device, &case, &Programme::constant(13.8), k).expect("a trip");
    println!(
        "fog machine: scale {k:.4}, scene {trip_s:.1} s = {:.2} min, burst {burst_s:.1} s",
        trip_s / 60.0
    );
    let seed = 11;
    let clamp = Clamp::new(seed, 0.1, 3600.0);
    let comma = |a: f64| format!("{a:.1}").replace('.', ",");
    let mut text = String::from("\u{feff}Start;Avg (A);Min (A);Max (A)\r\n");
    for n in 0..40u32 {
        // The scene begins 10 min into the log.
        let t = 60.0 * f64::from(n) - 600.0;
        let (_, mean, low, high) = over(&p, t, 60.0, trip_s);
        let at = 60.0 * f64::from(n);
        let [mean, low, high] = [mean, low, high].map(|a| comma(clamp.shows(at, a)));
        let (h, m) = (19 + (38 + n) / 60, (38 + n) % 60);
        let _ = write!(text, "14.11.2025 {h:02}:{m:02};{mean};{low};{high}\r\n");
    }
    write(
        &format!("04-fog-machine-scene-seed-{seed}.csv"),
        text.as_bytes(),
    );
}

/// The pump on a hot afternoon, one row a second, with the air in its box.
fn pump() {
    let s = shipped("06-irrigation-pump-new.toml");
    let device = Device::new(&s).expect("device");
    let air_k = 328.15;
    let case = surroundings(&s, air_k);
    let pauses_s = [40.0, 36.0, 31.0, 27.0, 22.0, 12.0, 12.0, 12.0];
    let mut list = Vec::new();
    for pause_s in pauses_s {
        list.extend([(1.8, 43.1), (170.0, 10.9), (pause_s, 0.0)]);
    }
    let p = steps(&list, Repeat::Once);
    // It trips in the start after the shortest pause.
    let start_s: f64 = list[..18].iter().map(|l| l.0).sum();
    let k = scale(&device, &case, &p, start_s + 1.2);
    let trip_s = trips(&device, &case, &p, k).expect("a trip");
    let cool = surroundings(&s, 303.15);
    let fair = steps(&[(0.7, 50.6), (f64::INFINITY, 9.2)], Repeat::Once);
    let cold = trips(&device, &cool, &fair, k);
    let twice_s = trips(&device, &cool, &Programme::constant(24.0), k).expect("a trip");
    println!(
        "pump: scale {k:.4}, trip {trip_s:.1} s (start at {start_s:.1} s), cool morning {cold:?}, twice {twice_s:.1} s"
    );
    let seed = 23;
    let clamp = Clamp::new(seed, 0.01, 1500.0);
    let mut text = String::from("Elapsed;I rms [A];T box [degC]\n");
    let drift = Stream::new(seed, METER, 1);
    for n in 0..1500u32 {
        let t = f64::from(n) - 60.0;
        let (rms, ..) = over(&p, t, 1.0, trip_s);
        let shown = clamp.shows(f64::from(n), rms);
        // The lid is opened once; the sun comes back.
        let door = if (400..430).contains(&n) { -2.0 } else { 0.0 };
        let slow = 1.5 * (f64::from(n) / 900.0 + std::f64::consts::TAU * drift.uniform(0)).sin();
        let box_c = air_k - 273.15 + slow + door;
        let (m, sec) = (n / 60, n % 60);
        let _ = writeln!(text, "00:{m:02}:{sec:02};{shown:.2};{box_c:.1}");
    }
    write(
        &format!("05-irrigation-pump-afternoon-seed-{seed}.csv"),
        text.as_bytes(),
    );
}

#[test]
#[ignore = "writes the logs of scenarios/cases again"]
fn write_the_logs_again() {
    pug_mill();
    fog_machine();
    pump();
}

/// The logs that are shipped stay small.
#[test]
fn the_logs_are_small() {
    let mut bytes = 0;
    for entry in std::fs::read_dir(FOLDER).expect("folder") {
        bytes += entry.expect("entry").metadata().expect("size").len();
    }
    assert!(bytes > 10_000 && bytes < 400_000, "{bytes} bytes");
}

/// The time that a shipped case states for an event, s; infinite where it held.
fn stated(case: &str, label: &str) -> f64 {
    let path = format!("{FOLDER}/{case}.toml");
    let case = evidence::read(Path::new(&path)).unwrap_or_else(|e| panic!("{e}"));
    let event = case.events.iter().find(|e| e.label.starts_with(label));
    match event.unwrap_or_else(|| panic!("{path}: {label}")).outcome {
        Outcome::Tripped { after_s } => after_s.value,
        Outcome::TrippedWithin { to_s, .. } => to_s,
        Outcome::Held { .. } => f64::INFINITY,
    }
}

/// The trip time of the engine beside that of a case: within a share, or both hold.
fn agrees(case: &str, label: &str, engine_s: Option<f64>, share: f64) {
    let (stated_s, engine_s) = (stated(case, label), engine_s.unwrap_or(f64::INFINITY));
    println!("{case}, {label}: stated {stated_s:.1} s, engine {engine_s:.1} s");
    let both_hold = stated_s.is_infinite() && engine_s.is_infinite();
    assert!(
        both_hold || (stated_s / engine_s - 1.0).abs() <= share,
        "{case}, {label}: stated {stated_s} s, engine {engine_s} s"
    );
}

/// The times in the invented cases are those of the engine, with parts scaled to their ratings,
/// within the scatter that is put on each. Parts: the mill's, the fog machine's and the heater's
/// that the logs use; a cabinet part that is new and near its hold limit; the pump's part with 80 %
/// of its preload lost.
#[test]
fn the_times_of_the_cases_are_those_of_the_engine() {
    let s = shipped("01-pug-mill.toml");
    let device = Device::new(&s).expect("device");
    let at = |celsius: f64| surroundings(&s, 273.15 + celsius);
    let constant = Programme::constant;

    let k = 0.7664;
    let idled = Case {
        before: Before::Hot {
            fraction_of_rated: 3.9 * k / 10.0,
        },
        ..at(24.0)
    };
    let mill = "01-pug-mill";
    agrees(
        mill,
        "first batch",
        trips(&device, &at(24.0), &constant(16.7), k),
        0.02,
    );
    agrees(
        mill,
        "after 20 min",
        trips(&device, &idled, &constant(16.7), k),
        0.02,
    );

    // The air at the cabinet follows the oven below it within some 25 min, from 27 to 63 degC.
    let k = 0.735;
    let air_k = |minute: f64| 336.15 - 36.0 * (-minute / 25.0).exp();
    let lit = Case {
        ambient: (0..200)
            .map(|m| (60.0 * f64::from(m), air_k(f64::from(m))))
            .collect(),
        before: Before::Hot {
            fraction_of_rated: 13.6 * k / 10.0,
        },
        ..at(27.0)
    };
    let cabinet = "02-proofing-cabinet";
    agrees(
        cabinet,
        "Sunday",
        trips(&device, &at(27.0), &constant(13.6), k),
        0.0,
    );
    let engine_s = trips(&device, &lit, &constant(13.6), k).expect("a trip");
    let stated_s = stated(cabinet, "48 min after");
    assert!(
        (engine_s / 2880.0 - 1.0).abs() < 0.05 && engine_s < stated_s,
        "{engine_s} s"
    );

    // A joint of 0.7 W at the terminal of the sister.
    let mut joint = s.clone();
    joint.clamped_terminal.resistance_ohm += 0.7 / f64::powi(13.6 * k, 2);
    let loose = Device::new(&joint).expect("device");
    agrees(
        "03-sister-bakery",
        "trip",
        trips(&loose, &at(29.0), &constant(13.6), k),
        0.05,
    );

    let k = 1.0111;
    let scene = steps(&[(40.0, 13.8), (25.0, 0.2)], Repeat::Forever);
    let fog = "04-fog-machine";
    agrees(
        fog,
        "continuous burst",
        trips(&device, &at(26.0), &constant(13.8), k),
        0.03,
    );
    agrees(
        fog,
        "busy scene",
        trips(&device, &at(26.0), &scene, k),
        0.01,
    );

    let new = shipped("06-irrigation-pump-new.toml");
    let mut worn = new.clone();
    worn.release.preload_loss = 0.8;
    let (new, worn) = (
        Device::new(&new).expect("device"),
        Device::new(&worn).expect("device"),
    );
    let k = 0.68;
    let heater = "06-foyer-heater";
    agrees(
        heater,
        "label on the part",
        trips(&new, &at(22.0), &constant(40.0), k),
        0.02,
    );
    agrees(
        heater,
        "mild day",
        trips(&worn, &at(21.0), &constant(16.8), k),
        0.2,
    );
    agrees(
        heater,
        "warm day",
        trips(&worn, &at(30.0), &constant(16.8), k),
        0.2,
    );
    agrees(
        heater,
        "frost",
        trips(&worn, &at(5.0), &constant(16.8), k),
        0.0,
    );
    for label in [
        "bench, first",
        "bench, 45 min later (",
        "bench, 45 min later again",
    ] {
        agrees(
            heater,
            label,
            trips(&worn, &at(21.0), &constant(40.0), k),
            0.08,
        );
    }
    // New, it carries its rating.
    assert_eq!(trips(&new, &at(25.0), &constant(20.0), k), None);

    let k = 10.0 / 16.0;
    agrees(
        "07-dough-divider",
        "sister pole",
        trips(&device, &at(24.0), &constant(32.0), k),
        0.03,
    );
}
