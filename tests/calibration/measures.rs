//! What is asked of the answers besides being right: the seed changes no verdict, a wait has ends
//! that are of use, and both come soon. It prints; times depend on the machine and are held to
//! nothing.
//!
//! `cargo test --release --test calibration measures -- --ignored --nocapture`; `RELATCH_COUNT`,
//! `RELATCH_LEVEL` and `RELATCH_NUMBERS` choose the cases, `RELATCH_SEEDS=n` says how many seeds.

use super::outside::{DESIGNS, asked, made, read, some_of};
use relatch::internals::diagnose::{Judged, diagnose, judged};
use relatch::internals::evidence::Case;
use relatch::internals::family::{Family, Nameplate, WaitQuestion, wait};
use std::time::Instant;

const CASES: usize = 20;
const SEEDS: u64 = 20;

/// Shortest of a few goes, ms: what others do on the machine only makes it longer.
fn shortest_ms(goes: usize, mut go: impl FnMut()) -> f64 {
    let times = (0..goes).map(|_| {
        let begin = Instant::now();
        go();
        begin.elapsed().as_secs_f64() * 1e3
    });
    times.fold(f64::INFINITY, f64::min)
}

#[test]
#[ignore = "some minutes: run with --release -- --ignored"]
fn measures_of_seeds() {
    let seeds = asked("RELATCH_SEEDS").unwrap_or(SEEDS);
    let (mut alike, mut all, mut spreads) = (0, 0, Vec::new());
    for k in some_of(CASES) {
        let case: Case = read(k, &made(k).1.toml);
        let family = Family::new(&case.nameplate, DESIGNS).expect("a family");
        let found: Vec<Judged> = (1..=seeds).map(|s| judged(&case, &family, s)).collect();
        let says = |one: &Judged| found.iter().filter(|f| f.advice == one.advice).count();
        let same = found.iter().map(says).max().unwrap_or(0);
        let top = found[0].causes[0].cause;
        let of_top = |f: &Judged| {
            f.causes
                .iter()
                .find(|c| c.cause == top)
                .map(|c| c.probability)
        };
        let shares: Vec<f64> = found.iter().filter_map(of_top).collect();
        let n = shares.len() as f64;
        let mean = shares.iter().sum::<f64>() / n;
        let square = |p: &f64| (p - mean).powi(2);
        let spread = (shares.iter().map(square).sum::<f64>() / (n - 1.0).max(1.0)).sqrt();
        let given: Vec<f64> = found.iter().map(|f| f.confidence).collect();
        let low = given.iter().copied().fold(f64::INFINITY, f64::min);
        let high = given.iter().copied().fold(0.0, f64::max);
        alike += same;
        all += found.len();
        spreads.push(spread);
        println!(
            "case {k}: {same} of {seeds} alike, {:?}, sure {low:.2} to {high:.2}; {top:?} {mean:.2}, spread {spread:.3}",
            found[0].likely
        );
    }
    let mean = spreads.iter().sum::<f64>() / spreads.len().max(1) as f64;
    println!(
        "{seeds} seeds: {alike} of {all} answers are the commonest of their case; spread {mean:.3} on average"
    );
}

#[test]
#[ignore = "some seconds: run with --release -- --ignored"]
fn measures_of_waits() {
    for rated_a in [2.0, 10.0, 16.0, 32.0] {
        let plate = WaitQuestion::new(Nameplate::of_rating(rated_a), 2.0 * rated_a);
        let ends = |question: &WaitQuestion| {
            let reset = wait(question).expect("a family").reset;
            let ends = [reset.one_in_twenty, reset.half, reset.nineteen_of_twenty];
            ends.map(|w| w.time_s().unwrap_or(f64::INFINITY))
        };
        let of_plate = ends(&plate);
        let of_timed = [8.0, 20.0, 50.0].map(|after_s| {
            let mut timed = plate.clone();
            timed.timed.trip = Some((after_s, 2.0 * rated_a));
            let [low, _, high] = ends(&timed);
            high / low
        });
        println!(
            "{rated_a} A: {of_plate:.1?} s, {:.1}-fold; with a trip after 8, 20, 50 s {of_timed:.1?}-fold",
            of_plate[2] / of_plate[0]
        );
    }
    let question = WaitQuestion::new(Nameplate::of_rating(10.0), 24.0);
    let ms = shortest_ms(7, || drop(wait(&question)));
    println!("wait: {ms:.0} ms");
}

#[test]
#[ignore = "some seconds: run with --release -- --ignored"]
fn measures_of_plans() {
    let cases = some_of(CASES).into_iter().filter_map(|k| {
        let notes = made(k).1;
        (notes.entries.len() == 5).then(|| (k, read(k, &notes.toml)))
    });
    for (k, case) in cases {
        let mut steps = 0;
        let ms = shortest_ms(3, || steps = diagnose(&case, 1).map_or(0, |d| d.plan.len()));
        println!("case {k}, five observations: {steps} steps in {ms:.0} ms");
    }
}
