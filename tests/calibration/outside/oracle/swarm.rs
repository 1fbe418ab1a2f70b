//! Machines of one combination of faults, followed from what is made at all to what the notes
//! leave: annealed sequential Monte Carlo (P. Del Moral, A. Doucet, A. Jasra, J. R. Stat. Soc. B
//! 68, 2006) in the numbers that the dice threw, where the prior is even. They move along
//! differences of others (C. J. F. ter Braak, Stat. Comput. 16, 2006).

use crate::outside::dice::Dice;
use crate::outside::machine::{Fault, Known, Machine, plate_over_rating};
use crate::outside::notes::{Chance, Notes, mixed};

/// Numbers that make a machine, and those that make its twin.
const NUMBERS: usize = 28;
const ALL: usize = NUMBERS + 2;
/// Throws a machine that is followed, at most.
const THROWS: usize = 60;
/// How often each is moved on average after every step of the annealing, in at most so many
/// attempts.
const MOVED: usize = 2;
const SWEEPS: usize = 40;
/// What the guesses are worth after a step, of what they were.
const KEPT: f64 = 0.7;

/// Throws of the plain way.
const PLAIN: u32 = 300_000;

type Numbers = [f64; ALL];

/// Machines with some faults that the notes leave, and the logarithm of what that is of all
/// machines.
pub struct Swarm {
    pub faults: &'static [Fault],
    pub ln_share: f64,
    pub machines: Vec<Machine>,
}

/// One guess.
#[derive(Clone)]
struct Guess {
    numbers: Numbers,
    machine: Machine,
    chance: Chance,
}

/// What is asked of guesses.
struct Question<'a> {
    notes: &'a Notes,
    known: Known,
}

impl Question<'_> {
    fn machine(&self, numbers: &Numbers) -> Option<Machine> {
        let machine = Machine::tried(&Dice::given(numbers), Some(&self.known));
        self.notes.agree_with(&machine).then_some(machine)
    }

    fn chance(&self, machine: &Machine, numbers: &Numbers) -> Chance {
        self.notes.chance(machine, &numbers[NUMBERS..])
    }
}

impl<'a> Question<'a> {
    /// With it the part of the prior that has the plate; `None`: no such machine has it.
    pub fn new(notes: &'a Notes, faults: &'static [Fault]) -> Option<(Self, f64)> {
        let rated_a = notes.facts.rated_a;
        let (from, to) = plate_over_rating(faults);
        let (low, high) = notes.facts.plate_a.as_ref().map_or((from, to), |plate| {
            let (low, high) = plate.ends();
            ((low / rated_a).max(from), (high / rated_a).min(to))
        });
        if low >= high {
            return None;
        }
        let question = Question {
            notes,
            known: Known {
                rated_a,
                faults,
                plate_over_rating: (low, high),
            },
        };
        Some((question, (high - low) / (to - from)))
    }
}

/// What the notes leave of machines with some faults, which are made so often; `size` of them are
/// followed.
pub fn followed(
    notes: &Notes,
    (faults, made): (&'static [Fault], f64),
    size: usize,
    seed: u64,
) -> Option<Swarm> {
    let dice = &Dice::new(seed);
    let (question, plate) = Question::new(notes, faults)?;
    let (mut swarm, met) = first(&question, size, dice)?;
    let mut ln_share = (made * met * plate).ln();
    let mut heat = 0.0;
    while heat < 1.0 {
        let next = next_heat(&swarm, heat);
        let weights: Vec<f64> = weights(&swarm, next - heat);
        ln_share += mixed(
            swarm
                .iter()
                .map(|g| (1.0 / swarm.len() as f64, (next - heat) * g.chance.soft)),
        );
        swarm = drawn(&swarm, &weights, dice.uniform());
        heat = next;
        let (mut accepted, mut sweeps) = (0, 0);
        while accepted < MOVED * swarm.len() && sweeps < SWEEPS {
            accepted += moved(&question, &mut swarm, heat, dice);
            sweeps += 1;
        }
    }
    // What cannot be goes.
    let hard = |g: &Guess| (g.chance.ln - g.chance.soft).exp();
    let weights: Vec<f64> = swarm.iter().map(hard).collect();
    let left = weights.iter().sum::<f64>();
    if left == 0.0 {
        return None;
    }
    ln_share += (left / swarm.len() as f64).ln();
    swarm = drawn(&swarm, &weights, dice.uniform());
    Some(Swarm {
        faults,
        ln_share,
        machines: swarm.into_iter().map(|g| g.machine).collect(),
    })
}

/// Machines as they are made, and what part of the throws was met.
fn first(question: &Question<'_>, size: usize, dice: &Dice) -> Option<(Vec<Guess>, f64)> {
    let mut swarm = Vec::with_capacity(size);
    let mut throws = 0;
    while swarm.len() < size && throws < THROWS * size {
        throws += 1;
        let numbers: Numbers = std::array::from_fn(|_| dice.uniform());
        let met = question.machine(&numbers).filter(Machine::is_met);
        swarm.extend(met.map(|machine| Guess {
            chance: question.chance(&machine, &numbers),
            machine,
            numbers,
        }));
    }
    let met = swarm.len() as f64 / throws as f64;
    let all = swarm.len();
    // Few that are met stand for many.
    let swarm = (0..size.min(all * size)).map(|k| swarm[k % all].clone());
    let swarm: Vec<Guess> = swarm.collect();
    (!swarm.is_empty()).then_some((swarm, met))
}

/// The same share by plain throws, for comparison: the mean chance of the notes over all that are
/// thrown.
pub fn plain_share(notes: &Notes, (faults, made): (&'static [Fault], f64), seed: u64) -> f64 {
    let dice = Dice::new(seed ^ 0x70_0000);
    let Some((question, plate)) = Question::new(notes, faults) else {
        return 0.0;
    };
    let chance = |_| {
        let numbers: Numbers = std::array::from_fn(|_| dice.uniform());
        let met = question.machine(&numbers).filter(Machine::is_met);
        met.map_or(0.0, |m| question.chance(&m, &numbers).ln.exp())
    };
    made * plate * (0..PLAIN).map(chance).sum::<f64>() / f64::from(PLAIN)
}

/// Weights of guesses when so much more of the notes is believed, relative to the greatest.
fn weights(swarm: &[Guess], more: f64) -> Vec<f64> {
    let most = swarm
        .iter()
        .fold(f64::NEG_INFINITY, |m, g| m.max(g.chance.soft));
    swarm
        .iter()
        .map(|g| (more * (g.chance.soft - most)).exp())
        .collect()
}

/// How much of the notes is believed next: half of the guesses are worth keeping.
fn next_heat(swarm: &[Guess], heat: f64) -> f64 {
    let is_enough = |to: f64| {
        let w = weights(swarm, to - heat);
        let (sum, squares) = w.iter().fold((0.0, 0.0), |s, w| (s.0 + w, s.1 + w * w));
        sum * sum / squares >= KEPT * swarm.len() as f64
    };
    if is_enough(1.0) {
        return 1.0;
    }
    let (mut low, mut high) = (heat, 1.0);
    for _ in 0..40 {
        let middle = 0.5 * (low + high);
        if is_enough(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    high
}

/// Guesses drawn by their weights, evenly.
fn drawn(swarm: &[Guess], weights: &[f64], offset: f64) -> Vec<Guess> {
    let step = weights.iter().sum::<f64>() / swarm.len() as f64;
    let (mut k, mut sum) = (0, weights[0]);
    (0..swarm.len())
        .map(|n| {
            while sum < (n as f64 + offset) * step && k + 1 < swarm.len() {
                k += 1;
                sum += weights[k];
            }
            swarm[k].clone()
        })
        .collect()
}

/// Every guess tries to move: along the difference of two others, in all numbers or in some, or one
/// number is thrown anew. Returns how many did.
fn moved(question: &Question<'_>, swarm: &mut [Guess], heat: f64, dice: &Dice) -> usize {
    let others: Vec<Numbers> = swarm.iter().map(|g| g.numbers).collect();
    let any = |n: usize| ((dice.uniform() * n as f64) as usize).min(n - 1);
    let mut accepted = 0;
    for guess in swarm.iter_mut() {
        let mut numbers = guess.numbers;
        let part = dice.one(&[1.0, 0.4, 0.15, 0.0]);
        if part > 0.0 {
            let (one, other) = (&others[any(others.len())], &others[any(others.len())]);
            let far = 2.38 / f64::sqrt(2.0 * part * ALL as f64) * dice.one(&[1.0, 0.5]);
            for (k, x) in numbers.iter_mut().enumerate() {
                if dice.flip(part) {
                    *x = reflected(*x + far * (one[k] - other[k]) + 0.004 * (dice.uniform() - 0.5));
                }
            }
        } else {
            numbers[any(ALL)] = dice.uniform();
        }
        let limit = heat * guess.chance.soft + dice.uniform().ln();
        let Some(machine) = question.machine(&numbers) else {
            continue;
        };
        let chance = question.chance(&machine, &numbers);
        if heat * chance.soft > limit && machine.is_met() {
            accepted += usize::from(part > 0.3);
            *guess = Guess {
                numbers,
                machine,
                chance,
            };
        }
    }
    accepted
}

/// Back into 0 to 1, where numbers are thrown.
fn reflected(x: f64) -> f64 {
    let x = x.abs() % 2.0;
    if x > 1.0 { 2.0 - x } else { x }
}
