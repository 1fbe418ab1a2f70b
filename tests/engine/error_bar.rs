//! The stated error is true to its word: over a spread of random devices, currents, starts and
//! accuracies the true error exceeds the stated one in fewer than one answer in a hundred.
//!
//! The truth is asked of a grid and a tolerance far beyond every rung of the ladder, with the
//! film's fit taken away: no fitted law and no march in registers has a part in it. Against a still
//! finer one (order 18, elements half as long, a tenth of the tolerance) the truth moves by 1e-10
//! to 3e-8; by up to 3e-7, seldom 1e-6, where a corner of a table lies at the temperatures of the
//! end. That is counted against the claim.

use crate::support::{apart, case, shipped, worked};
use relatch::internals::device::{Device, Fineness, Model, Plant};
use relatch::internals::load::Programme;
use relatch::internals::predict::{Case, Watch, run, run_on, trip_point, trip_point_on};
use relatch::internals::scenario::{Before, Convection, Mechanism, Scenario};
use relatch::internals::solve::DenseStep;
use std::sync::atomic::{AtomicUsize, Ordering};

/// A small reproducible stream of numbers in 0..1 (Lehmer, modulus 2^31 - 1, multiplier 48271: S.
/// K. Park, K. W. Miller & P. K. Stockmeyer, Comm. ACM 36 (1993) 105).
struct Stream(u64);

impl Stream {
    fn next(&mut self) -> f64 {
        self.0 = self.0 * 48_271 % 2_147_483_647;
        self.0 as f64 / 2_147_483_647.0
    }

    /// As likely in every decade.
    fn between(&mut self, low: f64, high: f64) -> f64 {
        low * (high / low).powf(self.next())
    }

    fn one_of<T: Copy>(&mut self, all: &[T]) -> T {
        all[((self.next() * all.len() as f64) as usize).min(all.len() - 1)]
    }
}

/// What is varied: smooth laws; tables, Holm contact and housing; a winding; three layers; a snap
/// blade; a constant contact; a preload that holds half of the travel.
const KINDS: [&str; 7] = [
    "08-worked-strip.toml",
    "01-pug-mill.toml",
    "02-curtain-winch.toml",
    "03-deck-oven.toml",
    "04-fog-machine.toml",
    "05-classroom-strip.toml",
    "06-irrigation-pump-new.toml",
];

/// One question, drawn before any is asked so that threads cannot change it.
struct Question {
    kind: &'static str,
    posture: &'static str,
    scenario: Scenario,
    /// Trip point over rated current.
    over_rated: f64,
    /// Where between 1.001 times the trip point and 20 times the rating.
    place: f64,
    /// Just above the trip point instead.
    is_near: bool,
    /// A strong current with heat across the layers resolved.
    is_resolved: bool,
}

fn question(stream: &mut Stream) -> Question {
    let kind = stream.one_of(&KINDS);
    let mut s = if kind.starts_with("08") {
        worked(|_| {})
    } else {
        shipped(kind)
    };
    let hot_k = if stream.next() < 0.25 { 35.0 } else { 0.0 };
    let ambient_k = 273.15 + 10.0 + hot_k + 35.0 * stream.next();
    s.surroundings.ambient = vec![(0.0, ambient_k)];
    let strip = &mut s.strip;
    strip.length_m *= stream.between(0.75, 1.4);
    strip.push_point_m = strip.length_m;
    strip.width_m *= stream.between(0.6, 1.6);
    for layer in &mut strip.layers {
        layer.thickness_m *= stream.between(0.7, 1.4);
    }
    match &mut s.release.mechanism {
        Mechanism::Latch(latch) => {
            // The travel follows the length's square, as the deflection does.
            let part = (strip.length_m / shipped(kind).strip.length_m).powi(2);
            latch.release_travel_m *= part * stream.between(0.8, 1.25);
            latch.relatch_travel_m = latch.release_travel_m * (0.55 + 0.3 * stream.next());
            if stream.next() < 0.5 {
                strip.push_point_m *= stream.between(0.7, 1.0);
            }
        }
        Mechanism::SnapBlade(blade) => {
            blade.span_m = strip.length_m * stream.between(0.8, 1.0);
            blade.rise_m *=
                strip.length_m / shipped(kind).strip.length_m * stream.between(0.8, 1.2);
        }
        other => panic!("{other:?}"),
    }
    s.clamped_terminal.conductance_w_per_k *= stream.between(0.5, 2.0);
    s.clamped_terminal.heat_capacity_j_per_k *= stream.between(0.5, 2.0);
    s.moving_contact.heat_capacity_j_per_k *= stream.between(0.3, 3.0);
    s.fixed_contact.conductance_w_per_k *= stream.between(0.5, 2.0);
    s.cooling.emissivity = stream.between(0.1, 0.9);
    if let Some(w) = &mut s.winding {
        w.resistance_ohm *= stream.between(0.5, 2.0);
        w.heat_capacity_j_per_k *= stream.between(0.5, 2.0);
        w.conductance_to_strip_w_per_k *= stream.between(0.5, 2.0);
    }
    if let Some(h) = &mut s.housing {
        h.heat_capacity_j_per_k *= stream.between(0.5, 2.0);
        h.conductance_w_per_k *= stream.between(0.6, 2.0);
    }
    let posture = stream.one_of(&["own", "own", "upright", "flat", "forced", "constant"]);
    match posture {
        "upright" => s.cooling.convection = Convection::Upright,
        "flat" => s.cooling.convection = Convection::Flat,
        "forced" => {
            s.cooling.convection = Convection::Forced {
                speed_m_per_s: stream.between(0.5, 3.0),
                flow_length_m: s.strip.width_m,
            }
        }
        "constant" => {
            s.cooling.convection = Convection::Constant {
                coefficient_w_per_m2_k: stream.between(5.0, 30.0),
            }
        }
        _ => {}
    }
    s.ask.accuracy = stream.one_of(&[1e-4, 1e-5, 1e-5, 1e-6]);
    s.before = if stream.next() < 0.3 {
        Before::Hot {
            fraction_of_rated: 0.3 + 0.6 * stream.next(),
        }
    } else {
        Before::Cold
    };
    Question {
        kind,
        posture,
        scenario: s,
        over_rated: stream.between(1.1, 1.45),
        place: stream.next(),
        is_near: stream.next() < 0.2,
        is_resolved: stream.next() < 0.12,
    }
}

/// Coldest and hottest place of a strip on its way.
struct Range(f64, f64);

impl Watch for Range {
    fn step(&mut self, plant: &Plant<'_>, dense: &DenseStep) {
        for y in [dense.start(), dense.end()] {
            let (low, high) = plant.model.strip_range_k(y);
            (self.0, self.1) = (self.0.min(low), self.1.max(high));
        }
    }
}

impl Range {
    /// The program refuses to answer beyond the range of a property; nor do we ask there.
    fn is_refused(&self, s: &Scenario) -> bool {
        s.strip.layers.iter().any(|layer| {
            let a = &layer.alloy;
            [
                &a.density,
                &a.youngs_modulus,
                &a.resistivity,
                &a.conductivity,
                &a.specific_heat,
                &a.expansion.property,
            ]
            .iter()
            .any(|p| self.0 < p.valid_k.0 - 1e-6 || self.1 > p.valid_k.1 + 1e-6)
        })
    }
}

/// A number beside its truth.
#[derive(Debug, Clone)]
#[allow(dead_code)] // printed when the claim fails
struct Answer {
    device: usize,
    kind: &'static str,
    posture: &'static str,
    what: &'static str,
    before: Before,
    accuracy: f64,
    multiple: f64,
    got: f64,
    truth: f64,
    stated: f64,
}

impl Answer {
    fn true_error(&self) -> f64 {
        apart(self.got, self.truth)
    }

    fn is_exceeded(&self) -> bool {
        // A number where there is none, or none where there is one, is NaN.
        !(self.true_error() <= self.stated)
    }
}

enum Asked {
    Answers(Vec<Answer>),
    /// It has no trip point: open or latched whatever flows.
    NoTripPoint,
    /// Beyond the range of a property.
    Refused,
}

fn ask(number: usize, q: &Question) -> Asked {
    let s = &q.scenario;
    let device = Device::new(s).expect("device");
    let fine_of = |device: &Device, order, parts| {
        let mut exact = device.clone();
        exact.film = None;
        let end_element_m = device.length_m / parts;
        let fineness = Fineness {
            order,
            end_element_m,
        };
        Model::new(&exact, fineness)
    };
    let fine = fine_of(&device, 14, 25.0);
    let mut case: Case = case(s);
    let ambient_k = case.ambient_k();
    let point = trip_point(&device, ambient_k, case.rated_current_a, case.accuracy).expect("point");
    let truth = trip_point_on(&fine, ambient_k, case.rated_current_a).expect("point");
    let (got_a, truth_a) = (point.value.current_a(), truth.current_a());
    let answer = |what, multiple, got: Option<f64>, truth: Option<f64>, stated| Answer {
        device: number,
        kind: q.kind,
        posture: q.posture,
        what,
        before: s.before,
        accuracy: s.ask.accuracy,
        multiple,
        got: got.unwrap_or(f64::NAN),
        truth: truth.unwrap_or(f64::NAN),
        stated,
    };
    let Some(point_a) = truth_a else {
        return match got_a {
            None => Asked::NoTripPoint,
            Some(_) => Asked::Answers(vec![answer("trip point", 1.0, got_a, None, 0.0)]),
        };
    };
    let mut range = Range(f64::INFINITY, f64::NEG_INFINITY);
    if let relatch::internals::predict::TripPointAnswer::At { state, .. } = &truth {
        (range.0, range.1) = fine.strip_range_k(state);
    }
    case.rated_current_a = point_a / q.over_rated;
    let multiple = if q.is_resolved {
        6.0 * 3f64.powf(q.place)
    } else if q.is_near {
        1.001 * (1.02f64 / 1.001).powf(q.place)
    } else {
        1.001 * (20.0 / q.over_rated / 1.001).powf(q.place)
    };
    let load = Programme::constant(multiple * point_a);
    // Resolved from twice the trip point on; as many unknowns as that has allow of no finer truth.
    let resolved =
        |device: &Device| device.resolved((2.0 * device.current_share * point_a).powi(2));
    let (device, fine, tolerance) = match q.is_resolved {
        true => {
            let device = resolved(&device);
            let fine = fine_of(&device, 10, 16.0);
            (device, fine, 1e-9)
        }
        false => (device, fine, 1e-11),
    };
    let reference = run_on(&fine, tolerance, &case, &load, true, &mut range).expect("reference");
    if range.is_refused(s) {
        return Asked::Refused;
    }
    let stated_a = point.error_relative.expect("has a number");
    let mut answers = vec![answer("trip point", 1.0, got_a, truth_a, stated_a)];
    let given = run(&device, &case, &load, true).expect("run");
    let stated = given.error_relative.unwrap_or(0.0);
    for (what, got, truth) in [
        ("trip", given.value.trip_time_s, reference.trip_time_s),
        ("wait", given.value.relatch_wait_s, reference.relatch_wait_s),
    ] {
        if got.is_some() || truth.is_some() {
            answers.push(answer(what, multiple, got, truth, stated));
        }
    }
    Asked::Answers(answers)
}

/// Ask all questions on two threads; the order of the answers is that of the questions.
fn ask_all(questions: &[Question]) -> Vec<Asked> {
    let next = AtomicUsize::new(0);
    let mut all: Vec<(usize, Asked)> = std::thread::scope(|scope| {
        let work = || {
            let mut mine = Vec::new();
            loop {
                let k = next.fetch_add(1, Ordering::Relaxed);
                let Some(q) = questions.get(k) else {
                    return mine;
                };
                mine.push((k, ask(k, q)));
            }
        };
        let (a, b) = (scope.spawn(work), scope.spawn(work));
        let mut all = a.join().expect("thread");
        all.extend(b.join().expect("thread"));
        all
    });
    all.sort_by_key(|(k, _)| *k);
    all.into_iter().map(|(_, asked)| asked).collect()
}

#[test]
fn the_true_error_stays_below_the_stated_one() {
    check(220, 170, false);
}

/// Heat across the layers, too, whose truth takes seconds a device.
#[test]
#[ignore = "minutes: .ci/run runs it"]
fn the_true_error_of_four_hundred_devices_stays_below_the_stated_one() {
    check(520, 400, true);
}

/// Of some devices the air is so hot that they have no trip point, others are refused: so many must
/// be left.
fn check(devices: usize, least: usize, across: bool) {
    let mut stream = Stream(20_260_101);
    let mut questions: Vec<Question> = (0..devices).map(|_| question(&mut stream)).collect();
    for question in &mut questions {
        question.is_resolved &= across;
    }
    let (mut answers, mut refused, mut pointless) = (Vec::new(), 0, 0);
    for asked in ask_all(&questions) {
        match asked {
            Asked::Answers(a) => answers.extend(a),
            Asked::NoTripPoint => pointless += 1,
            Asked::Refused => refused += 1,
        }
    }
    println!(
        "{} answers; {refused} devices refused, {pointless} without a trip point",
        answers.len()
    );
    let exceeded: Vec<&Answer> = answers.iter().filter(|a| a.is_exceeded()).collect();
    for a in &exceeded {
        println!("{:.2e} {a:?}", a.true_error());
    }
    let mut part: Vec<f64> = answers.iter().map(|a| a.true_error() / a.stated).collect();
    part.sort_by(f64::total_cmp);
    for share in [0.5, 0.9, 0.95, 0.99] {
        let at = ((share * part.len() as f64) as usize).min(part.len() - 1);
        println!("true over stated error, {share}: {:.3}", part[at]);
    }
    let devices = questions.len() - refused - pointless;
    assert!(devices >= least, "only {devices} devices could be asked");
    assert!(
        exceeded.len() * 100 < answers.len(),
        "{} of {}",
        exceeded.len(),
        answers.len()
    );
}
