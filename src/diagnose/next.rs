//! Which measurement would tell most, for its effort and for the life of the protector that it
//! costs.

use super::advice::Advice;
use super::hypothesis::Hypothesis;
use super::judge::{SURE_ENOUGH, VERDICTS, most_probable};
use super::latent::{BURST, JOINT, LOAD, PLACE, Particle, ROOM, START};
use super::looked::{JOINTS_SHOW, MARKING_DIFFERS};
use super::measurement::{Meaning, Measurement, NextMeasurement, Shows};
use super::otherwise::may_start;
use super::plan::Shown;
use super::posterior::{Carrier, Posterior, Rights};
use super::record::{Cause, Verdict};
use super::scales::Scales;
use crate::evidence::{AirPlace, Case, Meter, Outcome, Setting, Taken, Unit, Waveform};
use crate::family::{Carries, Wear};
use crate::load::Programme;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::predict::parallel;
use crate::statistics::normal;
use crate::statistics::stream::{Purpose, Stream};
use std::ops::RangeInclusive;

/// Particles that a measurement is tried on.
const SAMPLE: usize = 320;
/// Classes that the outcome of a measurement is sorted into.
const CLASSES: usize = 4;
/// Least probability of an outcome that a measurement is made for.
const POSSIBLE: f64 = 0.05;
/// Least expected information worth a measurement, bits.
const WORTHWHILE: f64 = 0.02;

/// What the measurements that can be made would show for some particles.
pub struct Tried<'a> {
    chosen: Vec<&'a Carrier>,
    /// Which advice is right for each.
    pub rights: Vec<Rights>,
    /// What each measurement would show.
    pub shown: Vec<Shown>,
}

impl<'a> Tried<'a> {
    /// `energised`: whether the machine may be switched on for a measurement.
    pub fn of(scales: &Scales<'_>, posterior: &'a Posterior, energised: bool, seed: u64) -> Self {
        let chosen = posterior.sample(SAMPLE, seed ^ 0x0e);
        let numbers: Vec<usize> = (0..chosen.len()).collect();
        let shown = candidates(scales)
            .into_iter()
            .filter(|m| energised || m.is_dead())
            .map(|measurement| {
                let of = |k: &usize| {
                    let carrier = chosen[*k];
                    let hypothesis = &posterior.hypotheses[carrier.hypothesis];
                    shown(
                        scales,
                        hypothesis,
                        &carrier.particle,
                        measurement,
                        *k as u32,
                        seed,
                    )
                };
                let values = parallel::map(&numbers, of, &mut |_| {});
                Shown {
                    measurement,
                    values,
                }
            });
        Tried {
            rights: chosen.iter().map(|c| posterior.rights(c)).collect(),
            shown: shown.collect(),
            chosen,
        }
    }
}

/// The worthwhile measurements, the best first.
pub fn next(posterior: &Posterior, tried: &Tried<'_>) -> Vec<NextMeasurement> {
    let verdicts: Vec<Verdict> = tried.chosen.iter().map(|c| posterior.least(c)).collect();
    let right = &tried.rights;
    let sure = most_probable(posterior).1 >= SURE_ENOUGH;
    let mut all = Vec::new();
    for Shown {
        measurement,
        values: shown,
    } in &tried.shown
    {
        let measurement = *measurement;
        let information_bits = information(shown, &verdicts);
        let results = results(shown, &verdicts, right);
        if information_bits < WORTHWHILE || !matters_to(&results, sure) {
            continue;
        }
        let (minutes, trips_used) = measurement.effort();
        all.push(NextMeasurement {
            measurement,
            information_bits,
            minutes,
            trips_used,
            results,
        });
    }
    let worth = |m: &NextMeasurement| m.information_bits / (10.0 + m.measurement.cost());
    all.sort_by(|a, b| worth(b).total_cmp(&worth(a)));
    all
}

/// What has not been measured yet and can be.
fn candidates(scales: &Scales<'_>) -> Vec<Measurement> {
    let case = scales.case;
    let rated_a = case.nameplate.rated_current_a;
    let on_machine = !case.is_bench_only();
    let tripping = scales.has_trip_in_service();
    let true_rms = case.readings.iter().any(|r| r.meter == Meter::TrueRms)
        || case.waveform == Waveform::Sine && !case.readings.is_empty();
    let up_to_the_trip = case
        .readings
        .iter()
        .any(|r| r.meter == Meter::TrueRms && r.taken == Taken::UpToTheTrip);
    let in_service = |e: &&crate::evidence::Event| !matches!(e.setting, Setting::Bench { .. });
    let mut service = case.events.iter().filter(in_service);
    let air_is_known = case.nameplate.compensated
        || case.air.iter().any(|a| a.place == AirPlace::AtThePart)
        || service.clone().any(|e| e.air_k.is_some());
    let swapped = service.any(|e| e.unit == Unit::Twin);
    let (twice_a, start) = (2.0 * rated_a, case.start.is_none() && may_start(case));
    [
        (
            on_machine && case.equipment_rated_a.is_none(),
            Measurement::ReadThePlate,
        ),
        (case.marking_agrees.is_none(), Measurement::ReadTheMarking),
        (
            on_machine && case.joints.is_none(),
            Measurement::LookAtTheJoints,
        ),
        (on_machine && !true_rms, Measurement::RunningCurrent),
        (
            on_machine && case.phases == Some(3) && case.phase_currents.is_none(),
            Measurement::PhaseCurrents,
        ),
        (tripping && !up_to_the_trip, Measurement::CurrentUpToTheTrip),
        (on_machine && !air_is_known, Measurement::AirAtThePart),
        (
            on_machine && case.drops.is_empty(),
            Measurement::DropBesideASister,
        ),
        (
            on_machine && case.terminals.is_none(),
            Measurement::TerminalTemperatures,
        ),
        (
            !tested(case, if on_machine { 1.5..=3.0 } else { 1.8..=2.2 }, 0.0),
            Measurement::TimedTrip { current_a: twice_a },
        ),
        (
            !tested(
                case,
                0.9..=1.15,
                if on_machine {
                    0.0
                } else {
                    0.9 * Measurement::LONGEST_HOLD_S
                },
            ),
            Measurement::HoldTest { current_a: rated_a },
        ),
        (tripping && start, Measurement::CaptureOfAStart),
        (tripping && !swapped, Measurement::SwapWithATwin),
    ]
    .into_iter()
    .filter_map(|(possible, measurement)| possible.then_some(measurement))
    .filter(|m| m.is_at_hand(&case.missing))
    .collect()
}

/// Whether this part was tested on a bench between two multiples of its rating, and tripped or held
/// so long, s.
fn tested(case: &Case, multiples: RangeInclusive<f64>, held_s: f64) -> bool {
    let rated_a = case.nameplate.rated_current_a;
    case.events.iter().any(|e| match e.setting {
        Setting::Bench { current_a } => {
            e.unit == Unit::ThisPart
                && multiples.contains(&(current_a.value / rated_a))
                && !matches!(e.outcome, Outcome::Held { for_s } if for_s < held_s)
        }
        _ => false,
    })
}

/// What a measurement would show for a particle, with the noise of number `k`.
fn shown(
    scales: &Scales<'_>,
    hypothesis: &Hypothesis,
    g: &Particle,
    measurement: Measurement,
    k: u32,
    seed: u64,
) -> f64 {
    let rated_a = scales.rated_a();
    let seen = |cause: Cause, [bad, sound]: [f64; 2], draw: f64| {
        let chance = if hypothesis.has(cause) { bad } else { sound };
        f64::from(u8::from(normal::cdf(draw) < chance))
    };
    let noise = |which: u64| Stream::new(seed, Purpose::other(50), which).normal(k);
    let on_bench = |current_a: f64, longest_s: f64| bench(scales, g, current_a, longest_s);
    match measurement {
        Measurement::ReadThePlate => rated_a * plate(hypothesis, g, noise(10)).exp(),
        Measurement::ReadTheMarking => seen(Cause::WrongRating, MARKING_DIFFERS, noise(11)),
        Measurement::LookAtTheJoints => seen(Cause::BadConnection, JOINTS_SHOW, noise(12)),
        Measurement::RunningCurrent => {
            rated_a * (g.x[LOAD] - g.x[BURST]).exp() * (1.0 + 0.02 * noise(9))
        }
        Measurement::PhaseCurrents => {
            let least = if g.lost_phase { 0.05 } else { 0.96 };
            least * (1.0 + 0.03 * noise(13))
        }
        Measurement::CurrentUpToTheTrip => rated_a * g.x[LOAD].exp() * (1.0 + 0.02 * noise(1)),
        Measurement::AirAtThePart => g.x[ROOM] + g.x[PLACE] + 2.0 * noise(2) - ZERO_CELSIUS_K,
        Measurement::DropBesideASister => (1.0 + g.x[JOINT].exp()) * (1.0 + 0.1 * noise(3)),
        Measurement::TerminalTemperatures => scales.terminals(g).apart_k() + 3.0 * noise(4),
        Measurement::TimedTrip { current_a } => {
            // What trips after its window has failed, however probable such parts are.
            let latest_s = scales.case.nameplate.latest_s(current_a);
            let longest_s = Measurement::LONGEST_TRIP_S.min(latest_s);
            let time_s = on_bench(current_a * (1.0 + 0.02 * noise(6)), longest_s);
            (time_s * (0.06 * noise(5)).exp()).min(longest_s)
        }
        Measurement::HoldTest { current_a } => on_bench(
            current_a * (1.0 + 0.02 * noise(7)),
            Measurement::LONGEST_HOLD_S,
        ),
        Measurement::CaptureOfAStart => g.x[START].exp() * (1.0 + 0.1 * noise(8)).max(0.1),
        Measurement::SwapWithATwin => {
            let wear = Wear {
                joint_w: scales.wear(g).joint_w,
                ..Wear::NONE
            };
            f64::from(u8::from(scales.trips(g, wear, true)))
        }
    }
}

/// Logarithm of what the machine's plate says over the rating of the protector.
fn plate(hypothesis: &Hypothesis, g: &Particle, noise: f64) -> f64 {
    let usual = g.x[LOAD] - g.x[BURST] + 0.05 * noise;
    if hypothesis.has(Cause::WrongRating) {
        usual
    } else if hypothesis.has(Cause::Overload) && g.x[BURST] < 0.1 {
        // It draws 20 to 100 % more than its plate says, and at all times.
        (usual - 0.4 + 0.15 * noise).min(0.0)
    } else {
        (usual + 0.03).min(0.0)
    }
}

/// When a part trips on a bench, s; at most the longest time.
fn bench(scales: &Scales<'_>, g: &Particle, current_a: f64, longest_s: f64) -> f64 {
    let wear = Wear {
        joint_w: 0.0,
        ..scales.wear(g)
    };
    let part = scales.part(g, wear);
    let air = [(0.0, scales.felt_k(g.x[ROOM]))];
    let load = Programme::constant(current_a);
    match part.cold(&air).carry(&load, longest_s) {
        Some(Carries::Trips(t)) => t,
        _ => longest_s,
    }
}

/// Expected information about the verdict from an outcome sorted into classes, bits, less what
/// chance alone would show.
fn information(outcomes: &[f64], verdicts: &[Verdict]) -> f64 {
    let mut sorted = outcomes.to_vec();
    sorted.sort_by(f64::total_cmp);
    let cuts: Vec<f64> = (1..CLASSES)
        .map(|k| sorted[k * sorted.len() / CLASSES])
        .collect();
    let class = |x: f64| cuts.iter().filter(|c| x >= **c).count();
    let mut table = [[0.0; VERDICTS.len()]; CLASSES];
    let n = outcomes.len() as f64;
    for (x, v) in outcomes.iter().zip(verdicts) {
        if let Some(k) = VERDICTS.iter().position(|w| w == v) {
            table[class(*x)][k] += 1.0 / n;
        }
    }
    let rows: Vec<f64> = table.iter().map(|r| r.iter().sum()).collect();
    let columns: Vec<f64> = (0..VERDICTS.len())
        .map(|k| table.iter().map(|r| r[k]).sum())
        .collect();
    let mut bits = 0.0;
    for (r, row) in table.iter().enumerate() {
        for (k, p) in row.iter().enumerate() {
            if *p > 0.0 {
                bits += p * (p / (rows[r] * columns[k])).log2();
            }
        }
    }
    // Miller and Madow's correction of a table's information for chance.
    let used = |v: &[f64]| v.iter().filter(|p| **p > 0.0).count() as f64;
    let chance = (used(&rows) - 1.0) * (used(&columns) - 1.0) / (2.0 * n * std::f64::consts::LN_2);
    (bits - chance).max(0.0)
}

/// Whether a measurement can change what is done: its results lead to different advice, or one of
/// them makes sure what was not.
fn matters_to(results: &[Meaning], sure: bool) -> bool {
    let possible = results.iter().all(|s| s.probability >= POSSIBLE);
    let differ = results.windows(2).any(|w| w[0].mend != w[1].mend);
    possible && differ || !sure && results.iter().any(|s| s.right >= SURE_ENOUGH)
}

/// The two sides of the threshold that tells most.
fn results(shown: &[f64], verdicts: &[Verdict], right: &[Rights]) -> Vec<Meaning> {
    let mut sorted = shown.to_vec();
    sorted.sort_by(f64::total_cmp);
    let n = sorted.len();
    let entropy = |side: &dyn Fn(f64) -> bool| {
        let mut counts = [0.0; VERDICTS.len()];
        for (x, v) in shown.iter().zip(verdicts) {
            if side(*x)
                && let Some(k) = VERDICTS.iter().position(|w| w == v)
            {
                counts[k] += 1.0;
            }
        }
        let total: f64 = counts.iter().sum();
        let sum: f64 = counts
            .iter()
            .filter(|c| **c > 0.0)
            .map(|c| -c * (c / total).log2())
            .sum();
        sum
    };
    let mut best = (f64::INFINITY, sorted[n / 2]);
    for k in 1..20 {
        let cut = sorted[(k * n / 20).min(n - 1)];
        if cut <= sorted[0] {
            continue;
        }
        let rest = entropy(&|x| x < cut) + entropy(&|x| x >= cut);
        if rest < best.0 - 1e-9 {
            best = (rest, cut);
        }
    }
    let cut = best.1;
    let side = |is_low: bool| {
        let chosen: Vec<&Rights> = shown
            .iter()
            .zip(right)
            .filter(|(x, _)| (**x < cut) == is_low)
            .map(|(_, r)| r)
            .collect();
        if chosen.is_empty() {
            return None;
        }
        let mut best = (Advice::ALL[0], 0);
        for (k, advice) in Advice::ALL.into_iter().enumerate() {
            let count = chosen.iter().filter(|r| r[k]).count();
            if count > best.1 {
                best = (advice, count);
            }
        }
        Some(Meaning {
            shows: if is_low {
                Shows::UpTo { value: cut }
            } else {
                Shows::Above { value: cut }
            },
            probability: chosen.len() as f64 / n as f64,
            mend: best.0.parts().collect(),
            right: best.1 as f64 / chosen.len() as f64,
        })
    };
    [side(true), side(false)].into_iter().flatten().collect()
}

/// Whether a further measurement would matter: the verdict is not sure yet.
pub fn matters(posterior: &Posterior) -> bool {
    most_probable(posterior).1 < 0.97
}
