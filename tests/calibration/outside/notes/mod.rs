//! What a technician writes down of a machine: few numbers, coarse ones, now and then a wrong one.

mod bench;
mod entry;
mod frequencies;
mod meters;
mod places;
mod stated;
mod trips;

pub use entry::Entry;
pub use stated::{Stated, mixed, told};

use super::dice::Dice;
use super::machine::{Fault, Machine};
use std::cell::Cell;

/// How much was looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    Rich,
    Usual,
    Poor,
}

impl Level {
    /// The least that is looked at, and how many numbers from there on are as probable.
    pub fn wanted(self) -> (usize, usize) {
        match self {
            Level::Rich => (4, 4),
            Level::Usual => (2, 2),
            Level::Poor => (0, 2),
        }
    }
}

/// An entry that is plainly wrong.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wrong {
    /// A meter read or held wrongly.
    Reading,
    /// An average-responding meter called true RMS on a distorted current.
    DeclaredTrueRms,
    /// The time on the label belongs to another part.
    AsNewOfAnother,
    /// Air of the room written as that at the part.
    RoomForPart,
    /// Held with less to do than usual.
    HeldIdle,
    /// Called cold when it was warm.
    WarmCalledCold,
    /// The swap re-made the joint.
    SwapReMade,
}

impl Wrong {
    pub const ALL: [Wrong; 7] = [
        Wrong::Reading,
        Wrong::DeclaredTrueRms,
        Wrong::AsNewOfAnother,
        Wrong::RoomForPart,
        Wrong::HeldIdle,
        Wrong::WarmCalledCold,
        Wrong::SwapReMade,
    ];
    /// How often something is, where more than little was looked at.
    const OFTEN: f64 = 0.3;
}

/// A machine that is looked at, and what goes wrong then.
pub struct Scene<'a> {
    pub m: &'a Machine,
    /// When it trips from cold, if it does.
    pub trip_s: Option<f64>,
    wrong: Option<Wrong>,
    used: Cell<bool>,
}

impl<'a> Scene<'a> {
    pub fn new(m: &'a Machine, wrong: Option<Wrong>) -> Self {
        Scene {
            m,
            trip_s: m.trips(),
            wrong,
            used: Cell::new(false),
        }
    }

    fn is(&self, wrong: Wrong) -> bool {
        let yes = self.wrong == Some(wrong);
        self.used.set(self.used.get() || yes);
        yes
    }
}

/// What is plainly stated of a machine: exact, as far as it is said.
#[derive(Debug, Clone)]
pub struct Facts {
    pub rated_a: f64,
    reference: bool,
    self_resetting: Option<bool>,
    pub plate_a: Option<Stated>,
    distorted: Option<bool>,
    surge: Option<bool>,
}

impl Facts {
    fn drawn(m: &Machine, dice: &Dice, level: Level) -> Facts {
        Facts {
            rated_a: m.part.rated_a,
            reference: dice.flip(0.7),
            self_resetting: dice.flip(0.3).then(|| m.is_self_resetting()),
            plate_a: dice
                .flip(match level {
                    Level::Rich => 0.9,
                    Level::Usual => 0.75,
                    Level::Poor => 0.5,
                })
                .then(|| Stated::rounded(m.plate_a, 1)),
            distorted: dice.flip(0.6).then_some(m.distorted),
            surge: dice.flip(0.6).then_some(m.start.is_some()),
        }
    }

    fn toml(&self, m: &Machine) -> String {
        let mut out = format!("rating = \"{} A\"\n", self.rated_a);
        if self.reference {
            out += &format!("reference_air = \"{} degC\"\n", m.reference_c());
        }
        if let Some(by_itself) = self.self_resetting {
            let resets = if by_itself { "by itself" } else { "by hand" };
            out += &format!("resets = \"{resets}\"\n");
        }
        out += "\n[machine]\nname = \"made machine\"\n";
        if let Some(plate) = &self.plate_a {
            out += &format!("rated_current = \"{} A\"\n", plate.text);
        }
        if let Some(distorted) = self.distorted {
            let form = if distorted { "distorted" } else { "sine" };
            out += &format!("waveform = \"{form}\"\n");
        }
        if let Some(surge) = self.surge {
            out += &format!("starts_with_a_surge = {surge}\n");
        }
        out
    }
}

/// Logarithms of the chance of notes: as it is, and with entries that cannot be counted as hardly
/// possible, so that a way leads from machines that such notes exclude to others.
#[derive(Debug, Clone, Copy)]
pub struct Chance {
    pub ln: f64,
    pub soft: f64,
}

/// Least of an entry on that way.
const IMPOSSIBLE: f64 = -40.0;

/// What was written down, as data and as a case file, and what is wrong in it.
pub struct Notes {
    pub toml: String,
    pub facts: Facts,
    pub entries: Vec<Entry>,
    pub level: Level,
    pub wrong: Option<Wrong>,
    /// Whether it starts with a surge: that is said, or stands beside a trip or a run.
    starts: Option<bool>,
}

impl Notes {
    /// Whether a machine is as it is plainly stated to be, but for its ratings.
    pub fn agree_with(&self, m: &Machine) -> bool {
        let same = |said: Option<bool>, is: bool| said.is_none_or(|s| s == is);
        same(self.facts.self_resetting, m.is_self_resetting())
            && same(self.facts.distorted, m.distorted)
            && same(self.starts, m.start.is_some())
    }

    /// Chance of all entries on a machine, whatever may be wrong in them; `twin` makes its sister.
    pub fn chance(&self, m: &Machine, twin: &[f64]) -> Chance {
        let of = |scene: &Scene<'_>, e: &Entry| e.chance(scene, &Dice::given(twin));
        let scene = Scene::new(m, None);
        let plain: Vec<f64> = self.entries.iter().map(|e| of(&scene, e)).collect();
        let often = if self.level == Level::Poor {
            0.0
        } else {
            Wrong::OFTEN
        };
        let with = |wrong: Wrong| {
            let scene = Scene {
                wrong: Some(wrong),
                used: Cell::new(false),
                ..scene
            };
            let all = self.entries.iter().zip(&plain);
            let each = all.map(|(e, plain)| match e.is_touched_by(wrong) {
                true => of(&scene, e),
                false => *plain,
            });
            (often / Wrong::ALL.len() as f64, each.collect())
        };
        let wrongs = Wrong::ALL.into_iter().filter(|_| often > 0.0).map(with);
        let none: (f64, Vec<f64>) = (1.0 - often, plain.clone());
        let all: Vec<(f64, Vec<f64>)> = std::iter::once(none).chain(wrongs).collect();
        let sum = |least: f64| {
            let sums = all.iter();
            mixed(sums.map(|(w, each)| (*w, each.iter().map(|ln| ln.max(least)).sum())))
        };
        Chance {
            ln: sum(f64::NEG_INFINITY),
            soft: sum(IMPOSSIBLE),
        }
    }

    pub fn has(&self, kind: fn(&Entry) -> bool) -> bool {
        self.entries.iter().any(kind)
    }
}

/// Notes of a machine.
pub fn of(m: &Machine, dice: &Dice, number: usize) -> Notes {
    let level = match dice.uniform() {
        u if u < 0.35 => Level::Rich,
        u if u < 0.73 => Level::Usual,
        _ => Level::Poor,
    };
    let wrong = (level != Level::Poor && dice.flip(Wrong::OFTEN)).then(|| dice.one(&Wrong::ALL));
    let scene = Scene::new(m, wrong);
    let facts = Facts::drawn(m, dice, level);
    let mut entries = Vec::from_iter(trips::trip(&scene, dice));
    let (least, span) = level.wanted();
    let wanted = least + (span as f64 * dice.uniform()) as usize;
    // What happened after the reset stands right behind the trip.
    let mut left: Vec<usize> = (1..10).collect();
    if wanted > 2 && dice.flip(AGAIN) {
        entries.extend(trips::again(&scene, dice));
    }
    if m.has(Fault::Late) {
        entries.extend(bench::bench(&scene, dice, false));
        left.retain(|k| *k != 4);
    }
    // A reading of the current comes first nearly always.
    if wanted > 0 && dice.flip(READ_FIRST) {
        entries.push(meters::reading(&scene, dice));
        left.retain(|k| *k != 1);
    }
    for _ in 0..wanted.saturating_sub(1) {
        if left.is_empty() {
            break;
        }
        let what = left.remove((dice.uniform() * left.len() as f64) as usize);
        match what {
            1 => entries.push(meters::reading(&scene, dice)),
            2 => entries.push(places::air(&scene, dice, false)),
            3 => entries.push(places::air(&scene, dice, true)),
            4 => entries.extend(bench::bench(&scene, dice, false)),
            5 => entries.extend(bench::bench(&scene, dice, true)),
            6 => entries.extend(trips::held(&scene, dice)),
            7 => entries.push(meters::drop(&scene, dice)),
            8 => entries.push(places::terminals(&scene, dice)),
            _ => {
                entries.extend(bench::swap(&scene, dice));
                if dice.flip(0.5) {
                    entries.extend(meters::captured(&scene, dice));
                }
            }
        }
    }
    let start = match m.start {
        Some(_) => "start = true\n",
        None => "",
    };
    let head = "format = 1\nkind = \"case\"\ntitle = \"Made";
    let mut toml = format!("{head} {number}\"\n\n[protector]\n{}", facts.toml(m));
    let mut beside = false;
    for entry in &entries {
        toml += &entry.toml(start);
        beside |= entry.says_start();
    }
    Notes {
        toml,
        starts: facts.surge.or(beside.then_some(m.start.is_some())),
        facts,
        entries,
        level,
        wrong: scene.used.get().then_some(wrong).flatten(),
    }
}

/// How often it trips again while somebody looks, where more than two things are looked at; and how
/// often the current is read before anything else.
pub const AGAIN: f64 = 0.4;
pub const READ_FIRST: f64 = 0.9;
