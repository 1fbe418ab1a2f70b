//! Parts that were taken back, with their age and their state, held against the rates.

use super::{Failure, ReturnedRecord, WayRecord};
use serde::Deserialize;

/// Most parts of a table.
const MOST: u64 = 20_000;

/// How a part was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
#[non_exhaustive]
pub enum State {
    /// Within its limits, and holds its load.
    Sound,
    /// Trips later than its limits allow.
    Late,
    /// Trips at a load of its duty.
    Trips,
    /// Does not hold as long as its limits demand.
    Early,
}

/// Parts of one age in one state.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
#[non_exhaustive]
pub struct ReturnedPart {
    /// Years in service.
    pub age_years: f64,
    /// How it was found.
    pub state: State,
    /// So many; 1 where the column is left out.
    #[serde(default = "one")]
    pub count: u64,
}

impl ReturnedPart {
    /// So many of an age, in a state.
    pub fn of(age_years: f64, state: State, count: u64) -> ReturnedPart {
        ReturnedPart {
            age_years,
            state,
            count,
        }
    }
}

fn one() -> u64 {
    1
}

/// Parts from a table (CSV): `age_years`, `state` (sound, late, trips, early) and perhaps `count`.
///
/// # Errors
/// What is wrong, with its line.
pub fn read_returned(text: &str) -> Result<Vec<ReturnedPart>, String> {
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let help = "the table has the columns age_years, state (sound, late, trips or early) and, where it is more than \
                one part, count";
    let mut parts = Vec::new();
    for (k, row) in reader.deserialize().enumerate() {
        let part: ReturnedPart = row.map_err(|e| format!("{e}\n  = help: {help}"))?;
        if !(part.age_years >= 0.0 && part.age_years.is_finite()) {
            return Err(format!("row {}: an age of {} years", k + 1, part.age_years));
        }
        parts.push(part);
    }
    let all = parts
        .iter()
        .try_fold(0u64, |sum, p| sum.checked_add(p.count));
    match all {
        Some(1..=MOST) => Ok(parts),
        Some(0) => Err(format!("there is no part in it\n  = help: {help}")),
        _ => Err(format!("more than {MOST} parts")),
    }
}

/// Each way against what was found at these ages.
pub fn confront(ways: &[WayRecord], parts: &[ReturnedPart]) -> Vec<ReturnedRecord> {
    let one = |way: &WayRecord| {
        let state = match way.failure {
            Failure::LeavesLimitsLate => State::Late,
            Failure::TripsInService => State::Trips,
            Failure::LeavesLimitsEarly => State::Early,
        };
        let seen = parts.iter().filter(|p| p.state == state);
        let seen = seen.map(|p| p.count).sum();
        let shares = [0, 1, 2].map(|end| {
            let at = parts
                .iter()
                .map(|p| (share(way, p.age_years)[end], p.count));
            at.collect::<Vec<(f64, u64)>>()
        });
        let expected = shares
            .each_ref()
            .map(|s| s.iter().map(|(p, n)| p * *n as f64).sum());
        let chances = shares.iter().map(|s| chance(s, seen));
        let within = expected[0] <= seen as f64 && seen as f64 <= expected[2];
        ReturnedRecord {
            failure: way.failure,
            parts: parts.iter().map(|p| p.count).sum(),
            seen,
            expected,
            chance: if within {
                1.0
            } else {
                chances.fold(0.0, f64::max)
            },
        }
    };
    ways.iter().map(one).collect()
}

/// Share failed at an age, between the years: low, middle, high.
fn share(way: &WayRecord, age: f64) -> [f64; 3] {
    let after = way.by_year.iter().position(|y| y.years >= age);
    let last = after.unwrap_or(way.by_year.len() - 1);
    let (a, b) = (&way.by_year[last.saturating_sub(1)], &way.by_year[last]);
    let span = b.years - a.years;
    let part = if span > 0.0 {
        ((age - a.years) / span).min(1.0)
    } else {
        1.0
    };
    let of = |pick: fn(&super::RareShare) -> f64| {
        pick(&a.failed) + part * (pick(&b.failed) - pick(&a.failed))
    };
    [of(|s| s.low), of(|s| s.share), of(|s| s.high)]
}

/// Chance of a number of failures at least as far out on its side, twice (at most 1): the sum of
/// parts that each fail with a probability of their own (Poisson's binomial), exactly.
fn chance(shares: &[(f64, u64)], seen: u64) -> f64 {
    let seen = seen as usize;
    // Probability of 0 ... seen failures.
    let mut of = vec![0.0; seen + 1];
    of[0] = 1.0;
    for (p, count) in shares {
        for _ in 0..*count {
            for k in (1..=seen).rev() {
                of[k] += p * (of[k - 1] - of[k]);
            }
            of[0] *= 1.0 - p;
        }
    }
    let most: f64 = of.iter().sum();
    let least = 1.0 - of[..seen].iter().sum::<f64>();
    (2.0 * most.min(least)).clamp(0.0, 1.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ten parts alike are a binomial: 3 or more of 10 at 0.1 have 1 - (0.9^10 + 10 0.1 0.9^9 + 45
    /// 0.01 0.9^8).
    #[test]
    fn parts_alike_are_a_binomial() {
        let least = 1.0 - (0.9f64.powi(10) + 0.9f64.powi(9) + 0.45 * 0.9f64.powi(8));
        assert!((chance(&[(0.1, 10)], 3) - 2.0 * least).abs() < 1e-12);
        assert!((chance(&[(0.1, 4), (0.1, 6)], 0) - 2.0 * 0.9f64.powi(10)).abs() < 1e-12);
    }

    #[test]
    fn a_table_is_read_and_a_wrong_one_is_refused() {
        let parts = read_returned("age_years,state,count\n# a round\n3, sound, 40\n4.5,late,2\n");
        let parts = parts.expect("a table");
        assert_eq!(
            (parts.len(), parts[1].state, parts[1].count),
            (2, State::Late, 2)
        );
        assert_eq!(
            read_returned("age_years,state\n1,sound\n").expect("a table")[0].count,
            1
        );
        for wrong in [
            "age_years,state\n1,broken\n",
            "age,state\n1,late\n",
            "age_years,state\n-1,late\n",
            "",
        ] {
            assert!(read_returned(wrong).is_err(), "{wrong}");
        }
    }
}
