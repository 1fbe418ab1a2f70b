//! Is the oracle as sure as it is right, and how far is the diagnosis from it?
//!
//! `cargo test --release --test calibration oracle -- --ignored --nocapture` prints the table in
//! DEVELOPERS.md.

use super::machine::{MADE, Machine, Right};
use super::notes::{Level, Notes};
use super::oracle::{Advised, MANY, Oracle, plain_share};
use super::{Tally, advices, by_diagnosis, made, on_threads, row, some_of};

/// Cases.
const CASES: usize = 120;
/// From where on an advice is given, and that nothing is to be mended: as the diagnosis does it.
const SURE: f64 = 0.75;
const SURE_OF_SOUND: f64 = 0.85;

/// An advice of the oracle, and whether it is right.
type Scored = (Advised, Right);

fn scored(oracle: &Oracle, machine: &Machine, with_habits: bool) -> Scored {
    let advised = oracle.advised(&advices(), with_habits);
    (advised, machine.rights(&advices()[advised.advice]))
}

/// As it is counted: given where it is sure enough.
fn given((advised, right): Scored) -> Option<(Right, f64)> {
    let sound = advices()[advised.advice] == "nothing_to_mend";
    let enough = if sound { SURE_OF_SOUND } else { SURE };
    (advised.right >= enough).then_some((right, advised.right))
}

/// By how many of its own standard deviations the number of right ones is off what was said.
fn off<'a>(scored: impl Iterator<Item = &'a Scored>) -> f64 {
    let sums = scored.fold((0.0, 0.0), |sum, (advised, right)| {
        let p = advised.right;
        let is_right = f64::from(u8::from(*right == Right::Yes));
        (sum.0 + is_right - p, sum.1 + p * (1.0 - p))
    });
    sums.0 / sums.1.sqrt().max(0.5)
}

#[test]
#[ignore = "some minutes: run with --release -- --ignored"]
fn the_oracle_is_as_sure_as_it_is_right_and_the_diagnosis_is_no_better() {
    let cases = some_of(CASES);
    let oracles = on_threads(&cases, |k| {
        let (machine, notes) = made(k);
        let oracle = Oracle::of(&notes, k as u64, MANY);
        [true, false].map(|habits| scored(&oracle, &machine, habits))
    });
    let mut tallies: [[Tally; 4]; 3] = Default::default();
    let (mut better, mut worse) = (0, 0);
    let mut rows = String::new();
    for (k, [knows_habits, plain]) in cases.iter().zip(&oracles) {
        let (machine, notes) = made(*k);
        let (diagnosis, found) = by_diagnosis(*k, &machine, &notes);
        let (advised, right) = plain;
        rows += &format!(
            "{k},{},{right:?},{:.3},{}",
            advices()[advised.advice],
            advised.right,
            row(*k, &machine, &notes, &found)
        );
        let level = match notes.level {
            Level::Rich => 0,
            Level::Usual => 1,
            Level::Poor => 2,
        };
        let answers = [diagnosis, given(*plain), given(*knows_habits)];
        for (tally, answer) in tallies.iter_mut().zip(answers) {
            tally[level].add(answer, None);
            tally[3].add(answer, None);
        }
        let is_right = |a: Option<(Right, f64)>| a.is_some_and(|a| a.0 == Right::Yes);
        match (is_right(diagnosis), is_right(given(*plain))) {
            (true, false) => better += 1,
            (false, true) => worse += 1,
            _ => {}
        }
    }
    if let Some(path) = std::env::var_os("RELATCH_ROWS") {
        std::fs::write(path, &rows).expect("a file of rows");
    }
    for (row, who) in tallies
        .iter()
        .zip(["diagnosis", "oracle", "and knows habits"])
    {
        println!("{who}\n             cases  right  partly  wrong  cannot tell");
        for (tally, what) in row.iter().zip(["much seen", "some", "little", "all"]) {
            tally.print(what);
        }
    }
    // Three standard deviations of a count are missed once in 370 times.
    let all = off(oracles.iter().map(|o| &o[0]));
    let sure = off(oracles
        .iter()
        .map(|o| &o[0])
        .filter(|o| given(**o).is_some()));
    let unsure = off(oracles
        .iter()
        .map(|o| &o[0])
        .filter(|o| given(**o).is_none()));
    println!(
        "right beside said, in standard deviations: all {all:.1}, given {sure:.1}, not {unsure:.1}"
    );
    assert!(all.abs() < 3.0 && sure.abs() < 3.0 && unsure.abs() < 3.0);
    let noise = 2.0 * f64::from(better + worse).sqrt();
    assert!(f64::from(better - worse) < noise, "{better} {worse}");
}

/// Cases of little, where plain throws still meet what was noted.
#[test]
#[ignore = "some seconds: run with --release -- --ignored"]
fn the_oracle_finds_what_plain_throws_find() {
    let poor = |k: &usize| {
        let notes: Notes = made(*k).1;
        notes.level == Level::Poor && notes.entries.len() == 2
    };
    let cases: Vec<usize> = (0..400).filter(poor).take(3).collect();
    assert_eq!(cases.len(), 3);
    for k in cases {
        let notes = made(k).1;
        let thrown: Vec<f64> = MADE
            .iter()
            .map(|m| plain_share(&notes, *m, k as u64))
            .collect();
        let all: f64 = thrown.iter().sum();
        let found = Oracle::of(&notes, k as u64, 4 * MANY).shares(false);
        for ((faults, _), thrown) in MADE.iter().zip(&thrown) {
            let found = found.iter().find(|f| f.0 == *faults).map_or(0.0, |f| f.1);
            let thrown = thrown / all;
            // Either scatters by a tenth of itself.
            println!("case {k} {faults:?}: {found:.3}, thrown {thrown:.3}");
            assert!(
                (found - thrown).abs() < 0.06,
                "case {k} {faults:?}: {found} {thrown}"
            );
        }
    }
}
