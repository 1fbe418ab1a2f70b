//! What can be known at best: a diagnosis that knows how the machines are made and how their notes
//! scatter.

mod habits;
mod swarm;

pub use swarm::plain_share;

use super::machine::{Fault, MADE, Machine, Right};
use super::notes::{Notes, mixed};
use habits::habit;
use swarm::{Swarm, followed};

/// Machines followed of each combination of faults that has such a share after a third of them
/// were.
pub const MANY: usize = 384;
const LEFT: f64 = 0.001;

/// Everything that the notes leave.
pub struct Oracle {
    swarms: Vec<Swarm>,
    /// What the notes' own habits say of each combination: what is looked at depends on what is
    /// wrong.
    habits: Vec<f64>,
}

/// What is probably right, and how probably.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Advised {
    /// Number of the advice.
    pub advice: usize,
    pub right: f64,
}

impl Oracle {
    /// With so many machines followed of each combination of faults that is left.
    pub fn of(notes: &Notes, seed: u64, many: usize) -> Oracle {
        // A few of each first; then many of those that are left.
        let follow = |k: usize, size: usize| {
            followed(notes, MADE[k], size, seed.wrapping_mul(64) + k as u64)
        };
        let few: Vec<(usize, Swarm)> = (0..MADE.len())
            .filter_map(|k| Some((k, follow(k, many / 3)?)))
            .collect();
        let all = mixed(few.iter().map(|(_, s)| (1.0, s.ln_share)));
        let swarms: Vec<Swarm> = few
            .into_iter()
            .filter_map(|(k, few)| match few.ln_share - all > LEFT.ln() {
                true => follow(k, many),
                false => Some(few),
            })
            .collect();
        let habits = swarms.iter().map(|s| habit(notes, s.faults)).collect();
        Oracle { swarms, habits }
    }

    /// Probabilities of the combinations; whether the habits are known too.
    pub fn shares(&self, with_habits: bool) -> Vec<(&'static [Fault], f64)> {
        let habits = self
            .habits
            .iter()
            .map(|h| if with_habits { *h } else { 0.0 });
        let ln: Vec<f64> = self
            .swarms
            .iter()
            .zip(habits)
            .map(|(s, h)| s.ln_share + h)
            .collect();
        let all = mixed(ln.iter().map(|x| (1.0, *x)));
        let share = |(s, x): (&Swarm, &f64)| (s.faults, (x - all).exp());
        self.swarms.iter().zip(&ln).map(share).collect()
    }

    /// So many machines, as probable as they are; the offset, 0 to 1, draws them.
    pub fn machines(&self, many: usize, offset: f64) -> Vec<Machine> {
        let shares = self.shares(false);
        let mut all = self
            .swarms
            .iter()
            .zip(shares)
            .flat_map(|(swarm, (_, share))| {
                let each = share / swarm.machines.len() as f64;
                swarm.machines.iter().map(move |m| (m, each))
            });
        let (mut last, mut sum) = (None, 0.0);
        let mut drawn = Vec::with_capacity(many);
        for n in 0..many {
            while sum * many as f64 <= n as f64 + offset {
                let Some((machine, each)) = all.next() else {
                    break;
                };
                (last, sum) = (Some(machine), sum + each);
            }
            drawn.extend(last.cloned());
        }
        drawn
    }

    /// The advice that is most probably right, of some.
    pub fn advised(&self, advices: &[String], with_habits: bool) -> Advised {
        let shares = self.shares(with_habits);
        let mut right = vec![0.0; advices.len()];
        for (swarm, (_, share)) in self.swarms.iter().zip(shares) {
            let each = share / swarm.machines.len() as f64;
            for machine in swarm.machines.iter().filter(|_| share > 1e-4) {
                for (sum, advice) in right.iter_mut().zip(advices) {
                    *sum += each * f64::from(u8::from(machine.rights(advice) == Right::Yes));
                }
            }
        }
        let best = (0..right.len()).max_by(|a, b| right[*a].total_cmp(&right[*b]));
        best.map_or(
            Advised {
                advice: 0,
                right: 0.0,
            },
            |advice| Advised {
                advice,
                right: right[advice],
            },
        )
    }
}
