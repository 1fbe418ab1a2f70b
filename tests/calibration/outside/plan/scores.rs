//! The table.

use super::by_diagnosis::{First, walked};
use super::by_oracle::{self, Thought};
use super::mends::{Done, minutes_until_safe, usual_order};
use crate::outside::dice::Dice;
use crate::outside::machine::{Machine, Right};
use crate::outside::notes::{Level, Notes};
use crate::outside::oracle::Oracle;
use crate::outside::{made, name, on_threads, read, some_of};
use relatch::internals::diagnose::{Verdict, base_rule};

/// Cases, and machines that the oracle follows of each combination of faults.
const CASES: usize = 60;
const FOLLOWED: usize = 256;

/// What a case cost each, minutes, and whether the first step helps.
struct Cost {
    level: Level,
    plan: f64,
    base: f64,
    oracle: f64,
    useful: bool,
    first: String,
}

/// The base rule's verdict, then the rest as it is usual.
fn by_base_rule(m: &Machine, notes: &Notes, k: usize) -> f64 {
    let verdict = base_rule(&read(k, &notes.toml)).verdict;
    let mut order = vec![Done::of([verdict])];
    order.extend(usual_order());
    minutes_until_safe(m, &order, Done::default())
}

fn cost(k: usize) -> Cost {
    let (machine, notes) = made(k);
    let dice = Dice::new(90_000 + k as u64);
    let oracle = Oracle::of(&notes, k as u64, FOLLOWED);
    let thought = Thought::of(&oracle, &dice);
    let walk = walked(&machine, &notes.toml, k, &dice);
    let (useful, first) = match walk.first {
        First::Mend(done) => {
            let mends: Vec<Verdict> = done.verdicts();
            let right = machine.rights(&name(mends.iter().copied()));
            // A late part is mended by another one, whatever that is called.
            let useful = right != Right::No || done.runs_safely(&machine);
            (useful, format!("{mends:?}"))
        }
        First::Look(look, cut) => (thought.separates(look, cut, &dice), format!("{look:?}")),
        First::Nothing => (false, "nothing".to_owned()),
    };
    Cost {
        level: notes.level,
        plan: walk.minutes,
        base: by_base_rule(&machine, &notes, k),
        oracle: by_oracle::walked(&machine, &thought, &dice),
        useful,
        first: format!("{:?}: {first}", machine.faults),
    }
}

#[test]
#[ignore = "some minutes: run with --release -- --ignored"]
fn minutes_until_mended_by_the_plan() {
    let cases = some_of(CASES);
    let costs = on_threads(&cases, cost);
    for (k, c) in cases.iter().zip(&costs) {
        println!(
            "{k} {:?} plan {:.0} base {:.0} oracle {:.0} {} {}",
            c.level,
            c.plan,
            c.base,
            c.oracle,
            if c.useful { "useful" } else { "useless" },
            c.first
        );
    }
    println!("            cases  plan  base  oracle  of base  of oracle  first step useful");
    let levels = [
        Some(Level::Rich),
        Some(Level::Usual),
        Some(Level::Poor),
        None,
    ];
    for (level, what) in levels.iter().zip(["much seen", "some", "little", "all"]) {
        let some: Vec<&Cost> = costs
            .iter()
            .filter(|c| level.is_none_or(|l| l == c.level))
            .collect();
        let n = some.len().max(1) as f64;
        let mean = |of: fn(&Cost) -> f64| some.iter().map(|c| of(c)).sum::<f64>() / n;
        let (plan, base, oracle) = (mean(|c| c.plan), mean(|c| c.base), mean(|c| c.oracle));
        println!(
            "{what:<11} {n:>5} {plan:>5.0} {base:>5.0} {oracle:>7.0} {:>8.2} {:>10.2} {:>12.0} %",
            plan / base,
            plan / oracle,
            100.0 * some.iter().filter(|c| c.useful).count() as f64 / n
        );
    }
    let sum = |of: fn(&Cost) -> f64| costs.iter().map(of).sum::<f64>();
    assert!(sum(|c| c.oracle) < sum(|c| c.plan) && sum(|c| c.plan) < sum(|c| c.base));
}
