//! A machine with something wrong (or nothing), and what really happens to it.

use super::dice::Dice;
use super::part::{Kind, Part, REFERENCE_C, Stretch, Warm};

/// What is out of order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    Overload,
    Start,
    Hot,
    Joint,
    Worn,
    Late,
    Rating,
}

impl Fault {
    /// What mends it, in the words of the answer.
    pub fn mend(self) -> &'static str {
        match self {
            Fault::Overload | Fault::Start => "find_the_load",
            Fault::Hot | Fault::Rating => "cool_or_re_rate",
            Fault::Joint => "re_make_the_connection",
            Fault::Worn => "replace_the_protector",
            Fault::Late => "do_not_re_energise",
        }
    }
}

/// Combinations and how often each is made.
pub const MADE: [(&[Fault], f64); 13] = [
    (&[Fault::Overload], 0.14),
    (&[Fault::Start], 0.11),
    (&[Fault::Hot], 0.14),
    (&[Fault::Joint], 0.12),
    (&[Fault::Worn], 0.14),
    (&[Fault::Late], 0.10),
    (&[Fault::Rating], 0.08),
    (&[], 0.08),
    (&[Fault::Overload, Fault::Hot], 0.02),
    (&[Fault::Hot, Fault::Worn], 0.02),
    (&[Fault::Joint, Fault::Worn], 0.02),
    (&[Fault::Overload, Fault::Joint], 0.02),
    (&[Fault::Hot, Fault::Joint], 0.01),
];

/// What the machine's plate says over the rating of its part.
pub fn plate_over_rating(faults: &[Fault]) -> (f64, f64) {
    if faults.contains(&Fault::Rating) {
        (1.25, 1.8)
    } else {
        (0.78, 0.99)
    }
}

/// What is known of a machine before the dice are thrown.
#[derive(Debug, Clone, Copy)]
pub struct Known {
    pub rated_a: f64,
    pub faults: &'static [Fault],
    /// From, to.
    pub plate_over_rating: (f64, f64),
}

/// Everything true of one machine.
#[derive(Debug, Clone)]
pub struct Machine {
    pub part: Part,
    pub faults: &'static [Fault],
    pub plate_a: f64,
    /// While it trips, and at other times, A.
    pub run_a: f64,
    pub other_a: f64,
    /// A start: how much, A, and how long, s.
    pub start: Option<Stretch>,
    /// A stall in mid-run: after how long, s, and how much, A.
    pub stall: Option<Stretch>,
    pub room_c: f64,
    pub air_c: f64,
    pub distorted: bool,
    /// A trip by something that passed: a current that was there once, A.
    pub once_a: f64,
}

/// What a meter for averages shows of a distorted current, from and to.
pub const AVERAGE: (f64, f64) = (0.62, 0.93);

/// Longest that anybody waits for a trip, s.
pub const WATCHED_S: f64 = 6.0 * 3600.0;

impl Machine {
    /// A machine whose faults make it trip, and that runs on once all of them are mended.
    pub fn draw(dice: &Dice) -> Machine {
        loop {
            let machine = Machine::tried(dice, None);
            if machine.is_met() {
                return machine;
            }
        }
    }

    /// Whether such a machine is met: its faults make it trip, and it runs on once all of them are
    /// mended.
    pub fn is_met(&self) -> bool {
        let late = self.faults == [Fault::Late];
        let rating = self.faults == [Fault::Rating];
        if late && self.part.later() <= 1.2 {
            return false;
        }
        let trip_s = self.trips();
        let needed = match self.faults {
            [] | [Fault::Late] => trip_s.is_none(),
            [_] => trip_s.is_some(),
            all => {
                // Each of two counts for something.
                trip_s.is_some()
                    && all.iter().all(|f| {
                        let alone: Vec<Fault> = all.iter().copied().filter(|g| g != f).collect();
                        self.without(&alone).trips() != trip_s
                    })
            }
        };
        needed && (late || rating || self.without(self.faults).trips().is_none())
    }

    /// A machine as the dice make it, met or not; some of it may be known.
    pub fn tried(dice: &Dice, known: Option<&Known>) -> Machine {
        let rated_a = dice.one(&[
            2.0, 3.0, 10.0, 10.0, 12.0, 15.0, 16.0, 16.0, 20.0, 25.0, 32.0, 40.0,
        ]);
        let rated_a = known.map_or(rated_a, |k| k.rated_a);
        let mut part = Part::draw(dice, rated_a);
        let mut pick = dice.uniform() * MADE.iter().map(|m| m.1).sum::<f64>();
        let faults = MADE
            .iter()
            .find(|m| {
                pick -= m.1;
                pick < 0.0
            })
            .map_or(MADE[0].0, |m| m.0);
        let faults = known.map_or(faults, |k| k.faults);
        let has = |f: Fault| faults.contains(&f);
        let (low, high) = known.map_or(plate_over_rating(faults), |k| k.plate_over_rating);
        let plate_a = rated_a * dice.between(low, high);
        let other_a = plate_a * dice.between(0.9, 1.0);
        let run_a = if has(Fault::Overload) {
            plate_a * dice.between(1.2, 2.0)
        } else {
            other_a
        };
        let motor = dice.flip(0.55) || has(Fault::Start);
        let mut start = motor.then(|| {
            (
                dice.between(3.0, 7.0) * plate_a,
                dice.log_between(0.03, 0.6),
            )
        });
        let mut stall = None;
        if has(Fault::Start) {
            if dice.flip(0.35) {
                stall = Some((
                    dice.log_between(60.0, 2400.0),
                    plate_a * dice.between(2.5, 6.0),
                ));
            } else {
                start = start.map(|s| (s.0, dice.log_between(0.8, 8.0)));
            }
        }
        let room_c = dice.between(13.0, 31.0);
        let warmer_k = if has(Fault::Hot) {
            dice.between(18.0, 50.0)
        } else {
            dice.between(0.0, 9.0)
        };
        if has(Fault::Worn) {
            part.loss = dice.between(0.25, 0.85);
        }
        if has(Fault::Late) {
            part.force = dice.between(1.6, 4.0);
        }
        if has(Fault::Joint) {
            part.joint_w = part.sound_w * dice.log_between(0.8, 8.0);
        }
        Machine {
            once_a: rated_a * dice.between(1.6, 6.0),
            part,
            faults,
            plate_a,
            run_a,
            other_a,
            start,
            stall,
            room_c,
            air_c: room_c + warmer_k,
            distorted: dice.flip(0.2),
        }
    }

    pub fn has(&self, fault: Fault) -> bool {
        self.faults.contains(&fault)
    }

    /// The load from standstill.
    pub fn load(&self, run_a: f64) -> Vec<Stretch> {
        let mut load = Vec::new();
        if let Some((a, s)) = self.start {
            load.push((s, a));
        }
        match self.stall {
            Some((after_s, a)) => load.extend([(after_s, run_a), (WATCHED_S, a)]),
            None => load.push((WATCHED_S, run_a)),
        }
        load
    }

    /// When it trips from cold.
    pub fn trips(&self) -> Option<f64> {
        let load = self.load(self.run_a);
        self.part.carry(Warm::COLD, &load, self.air_c).0
    }

    /// With faults put right.
    pub fn without(&self, faults: &[Fault]) -> Machine {
        let mut m = self.clone();
        for fault in faults {
            match fault {
                Fault::Overload => m.run_a = m.other_a.min(m.run_a),
                Fault::Start => {
                    m.stall = None;
                    m.start = m.start.map(|s| (s.0, s.1.min(0.3)));
                }
                Fault::Hot => m.air_c = m.air_c.min(m.room_c + 4.0),
                Fault::Joint => m.part.joint_w = 0.0,
                Fault::Worn => m.part.loss = 0.0,
                Fault::Late => m.part.force = 1.0,
                Fault::Rating => {}
            }
        }
        m
    }

    /// Whether an advice, what is to be mended joined by `+`, is right or at least a part of what
    /// is.
    pub fn rights(&self, advice: &str) -> Right {
        if self.has(Fault::Late) {
            return Right::when(advice == Fault::Late.mend());
        }
        if self.faults.is_empty() {
            return Right::when(advice == "nothing_to_mend");
        }
        let said: Vec<&str> = advice.split('+').collect();
        let true_ones: Vec<&str> = self.faults.iter().map(|f| f.mend()).collect();
        let hit = said.iter().filter(|s| true_ones.contains(s)).count();
        if hit < said.len() {
            return if hit > 0 { Right::Partly } else { Right::No };
        }
        let mended: Vec<Fault> = self
            .faults
            .iter()
            .copied()
            .filter(|f| said.contains(&f.mend()))
            .collect();
        if self.has(Fault::Rating) || self.without(&mended).trips().is_none() {
            Right::Yes
        } else {
            Right::Partly
        }
    }

    /// With a sister part in its place; `re_made`: whether fitting it re-made the joint.
    pub fn with_sister(&self, dice: &Dice, re_made: bool) -> Machine {
        let mut m = self.clone();
        m.part = m.part.sister(dice);
        if re_made {
            m.part.joint_w = 0.0;
        }
        m
    }

    /// Trip time on a bench from cold, s.
    pub fn bench(&self, part: &Part, current_a: f64, air_c: f64) -> Option<f64> {
        part.unwired()
            .carry(Warm::COLD, &[(3600.0, current_a)], air_c)
            .0
    }

    /// What a meter for averages shows of a true current: low where the current is distorted.
    pub fn average(&self, dice: &Dice) -> f64 {
        if self.distorted {
            dice.between(AVERAGE.0, AVERAGE.1)
        } else {
            1.0
        }
    }

    pub fn reference_c(&self) -> f64 {
        REFERENCE_C
    }

    pub fn is_self_resetting(&self) -> bool {
        self.part.kind == Kind::Snap
    }
}

/// How right an advice is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Right {
    Yes,
    Partly,
    No,
}

impl Right {
    fn when(yes: bool) -> Right {
        if yes { Right::Yes } else { Right::No }
    }
}
