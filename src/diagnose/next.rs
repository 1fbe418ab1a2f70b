//! Which measurement would tell most, for its effort and for the life of the protector that it costs.

use super::advice::Advice;
use super::judge::{SURE_ENOUGH, VERDICTS, most_probable};
use super::latent::{BURST, Guess, JOINT, LOAD, PLACE, ROOM, START};
use super::otherwise::may_start;
use super::posterior::{Posterior, Rights};
use super::record::{NextMeasurement, OutcomeMeaning, Verdict};
use super::say::{amperes, celsius, digits, percent, time};
use super::scales::Scales;
use super::words::in_short;
use crate::evidence::{AirPlace, Meter, Setting, Taken, Unit, Waveform};
use crate::family::{Carries, Wear};
use crate::load::Programme;
use crate::predict::parallel;
use crate::statistics::stream::{Purpose, Stream};

/// Guesses that a measurement is tried on.
const SAMPLE: usize = 320;
/// Classes that the outcome of a measurement is sorted into.
const CLASSES: usize = 4;
/// Least probability of an outcome that a measurement is made for.
const POSSIBLE: f64 = 0.05;
/// Least expected information worth a measurement, bits.
const WORTHWHILE: f64 = 0.02;
/// A trip of the protector counts as so many minutes of effort: testing uses up life.
const MINUTES_PER_TRIP: f64 = 15.0;
/// Time that stands for 'held' among trip times, s.
const HELD_S: f64 = 2.0 * 3600.0;

/// A measurement that could be made.
struct Candidate {
    what: String,
    how: &'static str,
    minutes: f64,
    trips_used: f64,
    /// Made on a bench: nothing is switched on that may be unprotected.
    on_bench: bool,
    /// What it would show for a guess, with noise.
    outcomes: Vec<f64>,
    /// How an outcome is said.
    say: fn(f64) -> String,
    /// Words around a threshold: (up to, above).
    up_to: &'static str,
    above: &'static str,
}

/// The worthwhile measurements, the best first; `energised`: whether the machine may be switched on for one.
pub fn next(
    scales: &Scales<'_>,
    posterior: &Posterior,
    energised: bool,
    seed: u64,
) -> Vec<NextMeasurement> {
    let chosen = posterior.sample(SAMPLE, seed ^ 0x0e);
    let verdicts: Vec<Verdict> = chosen.iter().map(|c| posterior.least(c)).collect();
    let right: Vec<Rights> = chosen.iter().map(|c| posterior.rights(c)).collect();
    let sure = most_probable(posterior).1 >= SURE_ENOUGH;
    let noise =
        |which: u64| move |k: usize| Stream::new(seed, Purpose::other(50), which).normal(k as u32);
    let guesses: Vec<&Guess> = chosen.iter().map(|c| &c.guess).collect();
    let mut all = Vec::new();
    for candidate in candidates(scales, &guesses, &noise) {
        if !(energised || candidate.on_bench) {
            continue;
        }
        let information = information(&candidate.outcomes, &verdicts);
        let sides = sides(&candidate, &verdicts, &right);
        if information < WORTHWHILE || !matters_to(&sides, sure) {
            continue;
        }
        all.push(NextMeasurement {
            outcomes: sides.iter().map(|s| s.meaning(&candidate)).collect(),
            what: candidate.what,
            how: candidate.how.into(),
            information_bits: information,
            minutes: candidate.minutes,
            trips_used: candidate.trips_used,
        });
    }
    let worth = |m: &NextMeasurement| {
        m.information_bits / (10.0 + m.minutes + MINUTES_PER_TRIP * m.trips_used)
    };
    all.sort_by(|a, b| worth(b).total_cmp(&worth(a)));
    all
}

fn candidates<N: Fn(usize) -> f64 + Sync>(
    scales: &Scales<'_>,
    guesses: &[&Guess],
    noise: &impl Fn(u64) -> N,
) -> Vec<Candidate> {
    let case = scales.case;
    let rated = case.nameplate.rated_current_a;
    let every = |f: &(dyn Fn(usize, &Guess) -> f64 + Sync)| -> Vec<f64> {
        let numbers: Vec<usize> = (0..guesses.len()).collect();
        parallel::map(&numbers, |k| f(*k, guesses[*k]), &mut |_| {})
    };
    let mut all = Vec::new();
    let read = case
        .readings
        .iter()
        .any(|r| r.meter == Meter::TrueRms && r.taken == Taken::UpToTheTrip);
    let tripping = scales.has_trip_in_service();
    let true_rms = case.readings.iter().any(|r| r.meter == Meter::TrueRms)
        || case.waveform == Waveform::Sine && !case.readings.is_empty();
    if !true_rms {
        let n = noise(9);
        all.push(Candidate {
            what: "running current with a true-RMS meter".into(),
            how: "Same conductor, several turns through the jaw below 10 A. Live work: for a qualified person, clamp over insulation, no \
                  open terminals.",
            minutes: 5.0,
            trips_used: 0.0,
            on_bench: false,
            outcomes: every(&|k, g| {
                rated * (g.x[LOAD] - g.x[BURST]).exp() * (1.0 + 0.02 * n(k))
            }),
            say: amperes,
            up_to: "up to",
            above: "above",
        });
    }
    if !read && tripping {
        let n = noise(1);
        all.push(Candidate {
            what: "true-RMS current right up to a trip".into(),
            how: "Log or watch the current of the protector's own conductor with a true-RMS clamp meter until it trips, attended. \
                  Live work: for a qualified person, clamp over insulation, no open terminals.",
            minutes: 30.0,
            trips_used: 1.0,
            on_bench: false,
            outcomes: every(&|k, g| rated * g.x[LOAD].exp() * (1.0 + 0.02 * n(k))),
            say: amperes,
            up_to: "up to",
            above: "above",
        });
    }
    if !case.air.iter().any(|a| a.place == AirPlace::AtThePart)
        && !case.nameplate.compensated
        && !case
            .events
            .iter()
            .any(|e| e.air_k.is_some() && !matches!(e.setting, Setting::Bench { .. }))
    {
        let n = noise(2);
        all.push(Candidate {
            what: "air temperature at the protector when it trips".into(),
            how: "Thermocouple 10 to 20 mm from the part, cover closed, read at the trip; fixed while isolated and proved dead.",
            minutes: 15.0,
            trips_used: 0.0,
            on_bench: false,
            outcomes: every(&|k, g| g.x[ROOM] + g.x[PLACE] + 2.0 * n(k)),
            say: celsius,
            up_to: "up to",
            above: "above",
        });
    }
    if case.drops.is_empty() {
        let n = noise(3);
        all.push(Candidate {
            what: "millivolt drop across the closed protector, wire to wire, beside that of a sister part".into(),
            how: "Steady load, both parts at the same current. Live work: for a qualified person with a meter of fitting category; \
                  never tighten or probe a hot terminal live.",
            minutes: 15.0,
            trips_used: 0.0,
            on_bench: false,
            outcomes: every(&|k, g| (1.0 + g.x[JOINT].exp()) * (1.0 + 0.1 * n(k))),
            say: |x| format!("{} times that of the sister", digits(x)),
            up_to: "up to",
            above: "above",
        });
    }
    if case.terminals.is_none() {
        let n = noise(4);
        all.push(Candidate {
            what: "temperatures of both terminals".into(),
            how: "Thermocouples fixed while isolated and proved dead, or an infrared picture against matt tape; after half an hour \
                  of load.",
            minutes: 35.0,
            trips_used: 0.0,
            on_bench: false,
            outcomes: every(&|k, g| {
                scales.terminals_k(g).abs() + 3.0 * n(k)
            }),
            say: |x| format!("{x:.0} K apart"),
            up_to: "up to",
            above: "more than",
        });
    }
    let on_bench = |low: f64, high: f64| {
        case.events.iter().any(|e| match e.setting {
            Setting::Bench { current_a } => {
                e.unit == Unit::ThisPart
                    && current_a.value >= low * rated
                    && current_a.value <= high * rated
            }
            _ => false,
        })
    };
    let bench = |g: &Guess, current_a: f64, longest_s: f64| -> f64 {
        let sound_w = scales.sound_w(g);
        let part = scales.part(
            g,
            Wear {
                joint_w: 0.0,
                ..g.wear(sound_w)
            },
        );
        let air = [(0.0, scales.felt_k(g.x[ROOM]))];
        match part
            .cold(&air)
            .carry(&Programme::constant(current_a), longest_s)
        {
            Some(Carries::Trips(t)) => t,
            _ => longest_s,
        }
    };
    if !on_bench(1.5, 3.0) {
        let n = noise(5);
        let m = noise(6);
        all.push(Candidate {
            what: format!("timed trip from cold at 200 % ({}), on a bench", amperes(2.0 * rated)),
            how: "Part removed and isolated, low-voltage source, time limit 5 min, air near the reference; at least 45 min of rest before a \
                  repeat. Write down the first (as-found) time before any other operation.",
            minutes: 20.0,
            trips_used: 1.0,
            on_bench: true,
            outcomes: every(&|k, g| {
                (bench(g, 2.0 * rated * (1.0 + 0.02 * m(k)), 300.0) * (0.06 * n(k)).exp()).min(300.0)
            }),
            say: |s| if s >= 299.0 { "5 min (no trip)".into() } else { time(s) },
            up_to: "trips within",
            above: "trips after more than",
        });
    }
    if !on_bench(0.9, 1.15) {
        let n = noise(7);
        all.push(Candidate {
            what: format!("hold test at the rated current ({}), on a bench, until warm (2 h)", amperes(rated)),
            how: "Part removed, low-voltage source, 23 to 25 °C, conductors of at least 1.2 m, until three readings 10 to 20 min apart agree.",
            minutes: 130.0,
            trips_used: 0.3,
            on_bench: true,
            outcomes: every(&|k, g| bench(g, rated * (1.0 + 0.02 * n(k)), HELD_S)),
            say: |s| if s >= 0.999 * HELD_S { "2 h (it holds)".into() } else { time(s) },
            up_to: "trips within",
            above: "carries it longer than",
        });
    }
    if case.start.is_none() && may_start(case) && tripping {
        let n = noise(8);
        all.push(Candidate {
            what: "capture of a start: how high and how long".into(),
            how: "Clamp meter or logger with at least 100 samples a second over one start; an inrush button alone misses starts longer than a \
                  tenth of a second.",
            minutes: 10.0,
            trips_used: 0.2,
            on_bench: false,
            outcomes: every(&|k, g| g.x[START].exp() * (1.0 + 0.1 * n(k)).max(0.1)),
            say: time,
            up_to: "lasts up to",
            above: "lasts longer than",
        });
    }
    let swapped = case
        .events
        .iter()
        .any(|e| e.unit == Unit::Twin && !matches!(e.setting, Setting::Bench { .. }));
    if !swapped && tripping {
        all.push(Candidate {
            what: "swap with an identical, sound protector".into(),
            how: "Isolate, lock, prove dead (live, dead, live), swap, run the same duty; mark which part was where.",
            minutes: 25.0,
            trips_used: 0.5,
            on_bench: false,
            outcomes: every(&|_, g| {
                let sound_w = scales.sound_w(g);
                let wear = Wear {
                    joint_w: g.wear(sound_w).joint_w,
                    ..Wear::NONE
                };
                f64::from(u8::from(scales.trips(g, wear, true)))
            }),
            say: |x| if x > 0.5 { "the twin trips too".into() } else { "the twin holds".into() },
            up_to: "",
            above: "otherwise:",
        });
    }
    all
}

/// Expected information about the verdict from an outcome sorted into classes, bits, less what chance alone
/// would show.
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

/// One side of the threshold of a measurement.
struct Side {
    is_low: bool,
    /// The threshold.
    cut: f64,
    /// How probable it is.
    probability: f64,
    /// What is most probably right then, and how probably.
    advice: Advice,
    right: f64,
}

impl Side {
    fn meaning(&self, candidate: &Candidate) -> OutcomeMeaning {
        let outcome = match (candidate.up_to.is_empty(), self.is_low) {
            (true, true) => (candidate.say)(f64::NEG_INFINITY),
            (true, false) => (candidate.say)(f64::INFINITY),
            (false, true) => format!("{} {}", candidate.up_to, (candidate.say)(self.cut)),
            (false, false) => format!("{} {}", candidate.above, (candidate.say)(self.cut)),
        };
        let word = if self.right >= SURE_ENOUGH {
            ""
        } else {
            "most likely "
        };
        OutcomeMeaning {
            outcome,
            probability: self.probability,
            meaning: format!("{word}{} ({})", in_short(self.advice), percent(self.right)),
        }
    }
}

/// Whether a measurement can change what is done: its sides lead to different advice, or one of them makes sure
/// what was not.
fn matters_to(sides: &[Side], sure: bool) -> bool {
    let possible = sides.iter().all(|s| s.probability >= POSSIBLE);
    let differ = sides.windows(2).any(|w| w[0].advice != w[1].advice);
    possible && differ || !sure && sides.iter().any(|s| s.right >= SURE_ENOUGH)
}

/// The two sides of the threshold that tells most.
fn sides(candidate: &Candidate, verdicts: &[Verdict], right: &[Rights]) -> Vec<Side> {
    let mut sorted = candidate.outcomes.clone();
    sorted.sort_by(f64::total_cmp);
    let n = sorted.len();
    let entropy = |side: &dyn Fn(f64) -> bool| {
        let mut counts = [0.0; VERDICTS.len()];
        for (x, v) in candidate.outcomes.iter().zip(verdicts) {
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
        let chosen: Vec<&Rights> = candidate
            .outcomes
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
        Some(Side {
            is_low,
            cut,
            probability: chosen.len() as f64 / n as f64,
            advice: best.0,
            right: best.1 as f64 / chosen.len() as f64,
        })
    };
    [side(true), side(false)].into_iter().flatten().collect()
}

/// Whether a further measurement would matter: the verdict is not sure yet.
pub fn matters(posterior: &Posterior) -> bool {
    most_probable(posterior).1 < 0.97
}
