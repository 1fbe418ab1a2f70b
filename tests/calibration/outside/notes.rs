//! What a technician writes down of a machine: few numbers, coarse ones, now and then a wrong one.

use super::dice::Dice;
use super::machine::{Fault, Machine, WATCHED_S};
use super::part::Warm;
use std::fmt::Write;

/// How much was looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Level {
    Rich,
    Usual,
    Poor,
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

/// A case file and what is wrong in it.
pub struct Notes {
    pub toml: String,
    pub level: Level,
    pub wrong: Option<Wrong>,
}

/// Times as people tell them.
fn told(dice: &Dice, time_s: f64) -> String {
    let t = time_s * (1.0 + 0.05 * dice.normal());
    let coarse = |t: f64, to: f64| (t / to).round().max(1.0) * to;
    match dice.uniform() {
        u if u < 0.3 => match t {
            _ if t < 5.0 => format!("about {:.1} s", t.max(0.1)),
            _ if t < 100.0 => format!("about {:.0} s", coarse(t, 5.0)),
            _ if t < 3600.0 => format!("about {:.0} min", coarse(t / 60.0, 1.0)),
            _ => format!("about {:.0} h", coarse(t / 3600.0, 1.0)),
        },
        _ if t < 10.0 => format!("{:.1} s", t.max(0.1)),
        _ if t < 120.0 => format!("{t:.0} s"),
        _ => format!("{:.1} min", t / 60.0),
    }
}

struct Writer<'a> {
    m: &'a Machine,
    dice: &'a Dice,
    out: String,
    wrong: Option<Wrong>,
    used: bool,
    /// When it trips from cold, if it does.
    trip_s: Option<f64>,
}

impl Writer<'_> {
    fn put(&mut self, text: std::fmt::Arguments<'_>) {
        // Writing to a string does not fail.
        let _ = self.out.write_fmt(text);
    }

    fn is(&mut self, wrong: Wrong) -> bool {
        let yes = self.wrong == Some(wrong);
        self.used |= yes;
        yes
    }

    fn start_line(&self) -> &'static str {
        if self.m.start.is_some() {
            "start = true\n"
        } else {
            ""
        }
    }

    fn trip(&mut self) {
        let start = self.start_line();
        let Some(first_s) = self.trip_s else {
            if self.m.faults.is_empty() {
                let after = if self.dice.flip(0.5) {
                    "not known".to_owned()
                } else {
                    let load = [(WATCHED_S, self.m.once_a)];
                    match self.m.part.carry(Warm::COLD, &load, self.m.air_c).0 {
                        Some(t) => told(self.dice, t),
                        None => "not known".to_owned(),
                    }
                };
                self.put(format_args!(
                    "\n[[trip]]\nlabel = \"once, before I came\"\nafter = \"{after}\"\n{start}"
                ));
            }
            return;
        };
        let mut time_s = first_s;
        if self.wrong == Some(Wrong::WarmCalledCold) && self.m.stall.is_none() {
            self.used = true;
            let load = [(1800.0, 0.75 * self.m.other_a)];
            let (_, warm) = self.m.part.carry(Warm::COLD, &load, self.m.air_c);
            time_s = self
                .m
                .part
                .carry(warm, &self.m.load(self.m.run_a), self.m.air_c)
                .0
                .unwrap_or(first_s);
        }
        let after = told(self.dice, time_s);
        let times = if self.dice.flip(0.25) {
            "times = 2\n"
        } else {
            ""
        };
        self.put(format_args!(
            "\n[[trip]]\nlabel = \"as the operator tells it\"\nafter = \"{after}\"\nfrom = \"cold\"\n{start}{times}"
        ));
    }

    fn again(&mut self) {
        if self.trip_s.is_none() {
            return;
        }
        let m = self.m;
        let (_, warm) = m.part.carry(Warm::COLD, &m.load(m.run_a), m.air_c);
        let Some(wait_s) = m.part.relatches(warm, m.air_c) else {
            return;
        };
        let rest_s = (wait_s * self.dice.between(1.2, 4.0)).max(5.0).round();
        let (_, cooled) = m.part.carry(warm, &[(rest_s, 0.0)], m.air_c);
        if let (Some(t), _) = m.part.carry(cooled, &m.load(m.run_a), m.air_c) {
            let (after, start) = (told(self.dice, t), self.start_line());
            self.put(format_args!(
                "\n[[trip]]\nlabel = \"again, soon after the reset\"\nafter = \"{after}\"\nfrom = \"{rest_s:.0} s after the trip\"\n{start}"
            ));
        }
    }

    fn reading(&mut self) {
        let m = self.m;
        let up_to = self.trip_s.is_some() && m.stall.is_none() && self.dice.flip(0.45);
        let truth = if up_to { m.run_a } else { m.other_a };
        let is_true = self.dice.flip(0.5);
        let mut shown = truth * (1.0 + 0.01 * self.dice.normal());
        let mut meter = if is_true { "true RMS" } else { "unknown" };
        if !is_true {
            shown *= self.m.average(self.dice);
        }
        if m.distorted && !is_true && self.is(Wrong::DeclaredTrueRms) {
            meter = "true RMS";
        } else if self.is(Wrong::Reading) {
            shown *= self.dice.one(&[0.5, 0.7, 1.3, 1.5, 2.0]);
        }
        let taken = if up_to {
            "up to the trip"
        } else {
            "while running"
        };
        let amperes = if shown < 10.0 {
            format!("{shown:.2}")
        } else {
            format!("{shown:.1}")
        };
        self.put(format_args!(
            "\n[[reading]]\nlabel = \"clamp meter\"\ncurrent = \"{amperes} A\"\nmeter = \"{meter}\"\ntaken = \"{taken}\"\naccuracy = \"2 % + 3 digits\"\n"
        ));
    }

    fn air(&mut self, at_part: bool) {
        let (place, mut truth) = if at_part {
            ("the part", self.m.air_c)
        } else {
            ("the room", self.m.room_c)
        };
        if at_part && self.is(Wrong::RoomForPart) {
            truth = self.m.room_c;
        }
        let shown = truth + 1.0 * self.dice.normal();
        self.put(format_args!(
            "\n[[air]]\nat = \"{place}\"\ntemperature = \"{shown:.0} degC\"\n"
        ));
    }

    fn bench(&mut self, as_new: bool) {
        let current_a = 2.0 * self.m.part.rated_a;
        let real_a = current_a * (1.0 + 0.015 * self.dice.normal());
        let air_c = 23.0 + 2.0 * self.dice.normal();
        let part = if as_new {
            self.m.part.as_new()
        } else {
            self.m.part.clone()
        };
        let Some(mut t) = self.m.bench(&part, real_a, air_c) else {
            return;
        };
        if as_new && self.is(Wrong::AsNewOfAnother) {
            t *= self.dice.one(&[0.25, 0.4, 2.5, 4.0]);
        }
        t *= 1.0 + 0.05 * self.dice.normal();
        let (label, unit) = if as_new {
            ("label on the part", "part = \"as new\"\n")
        } else {
            ("bench at 2 times", "")
        };
        let after = if t < 10.0 {
            format!("{t:.1} s")
        } else {
            format!("{t:.0} s")
        };
        self.put(format_args!(
            "\n[[trip]]\nlabel = \"{label}\"\nafter = \"{after}\"\nfrom = \"cold\"\n{unit}on = \"bench\"\ncurrent = \"{current_a:.1} A +- 2 %\"\nair = \"{air_c:.0} degC\"\n"
        ));
    }

    fn held(&mut self) {
        let m = self.m;
        let idle = self.trip_s.is_some();
        if idle && !self.is(Wrong::HeldIdle) {
            return;
        }
        let hours = self.dice.one(&[1.0, 2.0, 3.0]);
        let start = self.start_line();
        if !idle
            && m.part
                .carry(Warm::COLD, &m.load(m.other_a), m.air_c)
                .0
                .is_some()
        {
            return;
        }
        self.put(format_args!(
            "\n[[held]]\nlabel = \"working as usual\"\nfor = \"{hours:.0} h\"\nfrom = \"cold\"\n{start}"
        ));
    }

    fn drop(&mut self) {
        let current_a = self.m.other_a;
        let mv = 1000.0 * self.m.part.drop_v(current_a) * (1.0 + 0.03 * self.dice.normal());
        let sister = self.dice.flip(0.6).then(|| {
            1000.0 * self.m.part.as_new().drop_v(current_a) * (1.0 + 0.08 * self.dice.normal())
        });
        let sister = sister.map_or(String::new(), |v| format!("sister = \"{v:.0} mV\"\n"));
        self.put(format_args!(
            "\n[[drop]]\nvoltage = \"{mv:.0} mV\"\ncurrent = \"{current_a:.1} A\"\n{sister}"
        ));
    }

    fn terminals(&mut self) {
        let apart_k = self.m.part.terminals_k(self.m.other_a) + 1.5 * self.dice.normal();
        let other = self.m.air_c + 0.25 * self.m.part.threshold_k();
        let hotter = other + apart_k.abs();
        self.put(format_args!(
            "\n[terminals]\nhotter = \"{hotter:.0} degC\"\nother = \"{other:.0} degC\"\n"
        ));
    }

    fn swap(&mut self) {
        let Some(first_s) = self.trip_s else { return };
        let re_made = self.m.has(Fault::Joint) && self.is(Wrong::SwapReMade);
        let twin = self.m.with_sister(self.dice, re_made);
        let watched_s = (4.0 * first_s).clamp(600.0, 7200.0);
        let trips = twin.trips().filter(|t| *t < watched_s);
        let fault = if trips.is_some() {
            "stays at the place"
        } else {
            "follows the protector"
        };
        let after = trips.map_or(String::new(), |t| {
            format!("twin_tripped_after = \"{}\"\n", told(self.dice, t))
        });
        let minutes = watched_s / 60.0;
        self.put(format_args!(
            "\n[swap]\nfault = \"{fault}\"\nwatched = \"{minutes:.0} min\"\n{after}"
        ));
    }

    fn captured(&mut self) {
        if let Some((a, s)) = self.m.start {
            let (a, s) = (
                a * (1.0 + 0.03 * self.dice.normal()),
                s * (1.0 + 0.05 * self.dice.normal()),
            );
            self.put(format_args!(
                "\n[start]\npeak = \"{a:.1} A\"\nduration = \"{s:.2} s\"\ncaptured_with = \"a recorder\"\n"
            ));
        }
    }
}

/// Notes of a machine.
pub fn of(m: &Machine, dice: &Dice, number: usize) -> Notes {
    let level = match dice.uniform() {
        u if u < 0.35 => Level::Rich,
        u if u < 0.73 => Level::Usual,
        _ => Level::Poor,
    };
    let wrong = (level != Level::Poor && dice.flip(0.3)).then(|| {
        dice.one(&[
            Wrong::Reading,
            Wrong::DeclaredTrueRms,
            Wrong::AsNewOfAnother,
            Wrong::RoomForPart,
            Wrong::HeldIdle,
            Wrong::WarmCalledCold,
            Wrong::SwapReMade,
        ])
    });
    let mut w = Writer {
        m,
        dice,
        out: format!("format = 1\nkind = \"case\"\ntitle = \"Made {number}\"\n\n[protector]\n"),
        wrong,
        used: false,
        trip_s: m.trips(),
    };
    w.put(format_args!("rating = \"{} A\"\n", m.part.rated_a));
    if dice.flip(0.7) {
        w.put(format_args!(
            "reference_air = \"{} degC\"\n",
            m.reference_c()
        ));
    }
    if dice.flip(0.3) {
        let resets = if m.is_self_resetting() {
            "by itself"
        } else {
            "by hand"
        };
        w.put(format_args!("resets = \"{resets}\"\n"));
    }
    w.put(format_args!("\n[machine]\nname = \"made machine\"\n"));
    let plate = dice.flip(match level {
        Level::Rich => 0.9,
        Level::Usual => 0.75,
        Level::Poor => 0.5,
    });
    if plate {
        w.put(format_args!("rated_current = \"{:.1} A\"\n", m.plate_a));
    }
    if dice.flip(0.6) {
        let form = if m.distorted { "distorted" } else { "sine" };
        w.put(format_args!("waveform = \"{form}\"\n"));
    }
    if dice.flip(0.6) {
        w.put(format_args!(
            "starts_with_a_surge = {}\n",
            m.start.is_some()
        ));
    }
    w.trip();
    let wanted = match level {
        Level::Rich => 4 + (4.0 * dice.uniform()) as usize,
        Level::Usual => 2 + (2.0 * dice.uniform()) as usize,
        Level::Poor => (2.0 * dice.uniform()) as usize,
    };
    // What happened after the reset stands right behind the trip.
    let mut left: Vec<usize> = (1..10).collect();
    if wanted > 2 && dice.flip(0.4) {
        w.again();
    }
    if m.has(Fault::Late) {
        w.bench(false);
        left.retain(|k| *k != 4);
    }
    // A reading of the current comes first nearly always.
    if wanted > 0 && dice.flip(0.9) {
        w.reading();
        left.retain(|k| *k != 1);
    }
    for _ in 0..wanted.saturating_sub(1) {
        if left.is_empty() {
            break;
        }
        let what = left.remove((dice.uniform() * left.len() as f64) as usize);
        match what {
            1 => w.reading(),
            2 => w.air(false),
            3 => w.air(true),
            4 => w.bench(false),
            5 => w.bench(true),
            6 => w.held(),
            7 => w.drop(),
            8 => w.terminals(),
            _ => {
                w.swap();
                if dice.flip(0.5) {
                    w.captured();
                }
            }
        }
    }
    Notes {
        wrong: w.used.then_some(wrong).flatten(),
        toml: w.out,
        level,
    }
}
