//! What looks and measurements show on a made machine, and what is written down of them.

use crate::outside::dice::Dice;
use crate::outside::machine::{Fault, Machine};
use crate::outside::notes::{Entry, Stated, told};
use relatch::internals::diagnose::Measurement;

/// How often a bad joint can be seen, and a sound one seems bad; how often a marking differs where
/// the part does not suit, and else (common practice, no source: the machines have neither).
const JOINT_SEEN: [f64; 2] = [0.65, 0.05];
const MARKING_DIFFERS: [f64; 2] = [0.5, 0.02];

/// What was seen.
pub struct Seen {
    /// The number, in the unit of the measurement.
    pub value: f64,
    written: Written,
}

enum Written {
    /// Under a heading that is there.
    Under(&'static str, String),
    Behind(String),
    Joints(&'static str),
    Nothing,
}

impl Seen {
    fn entry(value: f64, entry: &Entry) -> Seen {
        let written = Written::Behind(entry.toml(""));
        Seen { value, written }
    }

    fn yes(yes: bool, written: Written) -> Seen {
        let value = f64::from(u8::from(yes));
        Seen { value, written }
    }

    /// The case file with it.
    pub fn added_to(&self, toml: &str) -> String {
        match &self.written {
            Written::Under(heading, line) => {
                toml.replacen(heading, &format!("{heading}{line}\n"), 1)
            }
            Written::Behind(entry) => format!("{toml}{entry}"),
            Written::Joints(found) => joints_are(found, toml),
            Written::Nothing => toml.to_owned(),
        }
    }
}

/// A case file with what was found or done at the joints, in place of what was found before.
pub fn joints_are(found: &str, toml: &str) -> String {
    const TABLE: &str = "\n[history]\njoints = ";
    let before = toml.split_once(TABLE).map(|(before, rest)| {
        let after = rest.split_once('\n').map_or("", |(_, after)| after);
        format!("{before}{after}")
    });
    format!("{}{TABLE}\"{found}\"\n", before.as_deref().unwrap_or(toml))
}

/// What a measurement shows.
pub fn seen(m: &Machine, measurement: Measurement, dice: &Dice) -> Seen {
    let off = |part: f64| 1.0 + part * dice.normal();
    let often =
        |[bad, sound]: [f64; 2], fault: Fault| dice.flip(if m.has(fault) { bad } else { sound });
    let reading = |true_a: f64, up_to: bool| {
        let shown = true_a * off(0.01);
        let entry = Entry::Reading {
            shown: Stated::rounded(shown, 2),
            said_true: true,
            up_to,
        };
        Seen::entry(shown, &entry)
    };
    match measurement {
        Measurement::ReadThePlate => {
            let line = format!("rated_current = \"{:.1} A\"", m.plate_a);
            Seen {
                value: m.plate_a,
                written: Written::Under("[machine]\n", line),
            }
        }
        Measurement::ReadTheMarking => {
            let differs = often(MARKING_DIFFERS, Fault::Rating);
            let word = if differs {
                "differs from"
            } else {
                "agrees with"
            };
            let line = format!("marking = \"{word} the drawing\"");
            Seen::yes(differs, Written::Under("[protector]\n", line))
        }
        Measurement::LookAtTheJoints => {
            let marks = often(JOINT_SEEN, Fault::Joint);
            let found = if marks { "marks of heat" } else { "no marks" };
            Seen::yes(marks, Written::Joints(found))
        }
        Measurement::RunningCurrent => reading(m.other_a, false),
        // Machines on one phase are not asked for it.
        Measurement::PhaseCurrents => Seen::yes(false, Written::Nothing),
        // A stall is what flows when it trips.
        Measurement::CurrentUpToTheTrip => reading(m.stall.map_or(m.run_a, |s| s.1), true),
        Measurement::AirAtThePart => {
            let air_c = m.air_c + dice.normal();
            let shown_c = Stated::rounded(air_c, 0);
            Seen::entry(
                air_c,
                &Entry::Air {
                    at_part: true,
                    shown_c,
                },
            )
        }
        Measurement::DropBesideASister => {
            let mv = 1000.0 * m.part.drop_v(m.other_a) * off(0.03);
            let sister_mv = 1000.0 * m.part.as_new().drop_v(m.other_a) * off(0.08);
            let entry = Entry::Drop {
                shown_mv: Stated::rounded(mv, 0),
                current_a: Stated::rounded(m.other_a, 1),
                sister_mv: Some(Stated::rounded(sister_mv, 0)),
            };
            Seen::entry(mv / sister_mv, &entry)
        }
        Measurement::TerminalTemperatures => {
            let apart_k = (m.part.terminals_k(m.other_a) + 1.5 * dice.normal()).abs();
            let other_c = m.air_c + 0.25 * m.part.threshold_k();
            let entry = Entry::Terminals {
                hotter_c: Stated::rounded(other_c + apart_k, 0),
                other_c: Stated::rounded(other_c, 0),
            };
            Seen::entry(apart_k, &entry)
        }
        Measurement::TimedTrip { current_a } => {
            on_bench(m, current_a, Measurement::LONGEST_TRIP_S, dice)
        }
        Measurement::HoldTest { current_a } => {
            on_bench(m, current_a, Measurement::LONGEST_HOLD_S, dice)
        }
        Measurement::CaptureOfAStart => {
            let Some((a, s)) = m.start else {
                return Seen::yes(false, Written::Nothing);
            };
            let (a, s) = (a * off(0.03), s * off(0.05));
            let entry = Entry::Captured {
                peak_a: Stated::rounded(a, 1),
                duration_s: Stated::rounded(s, 2),
            };
            Seen::entry(s, &entry)
        }
        Measurement::SwapWithATwin => {
            let watched_s = m.trips().map_or(1800.0, |t| (4.0 * t).clamp(600.0, 7200.0));
            let trips = m.with_sister(dice, false).trips();
            let after = trips.filter(|t| *t < watched_s).map(|t| told(dice, t));
            let trips = after.is_some();
            let entry = Entry::Swap { watched_s, after };
            Seen::yes(trips, Written::Behind(entry.toml("")))
        }
        other => panic!("not known: {other:?}"),
    }
}

fn on_bench(m: &Machine, current_a: f64, longest_s: f64, dice: &Dice) -> Seen {
    let (real_a, air_c) = (
        current_a * (1.0 + 0.015 * dice.normal()),
        23.0 + 2.0 * dice.normal(),
    );
    let timed = m.bench(&m.part, real_a, air_c);
    let timed = timed.map(|t| t * (1.0 + 0.05 * dice.normal()));
    let (value, seen) = match timed.filter(|t| *t < longest_s) {
        Some(t) => (
            t,
            format!("[[trip]]\nlabel = \"timed\"\nafter = \"{t:.1} s\""),
        ),
        None => {
            let minutes = longest_s / 60.0;
            let held = format!("[[held]]\nlabel = \"not tripped\"\nfor = \"{minutes:.0} min\"");
            (longest_s, held)
        }
    };
    let how = format!(
        "from = \"cold\"\non = \"bench\"\ncurrent = \"{current_a:.1} A +- 2 %\"\nair = \"{air_c:.0} degC\""
    );
    Seen {
        value,
        written: Written::Behind(format!("\n{seen}\n{how}\n")),
    }
}
