//! An entry as numbers: how it is written, and how probable it is of a machine.

use super::stated::Stated;
use super::{Scene, Wrong, bench, meters, places, trips};
use crate::outside::dice::Dice;
use crate::outside::machine::Fault;

/// What was seen or measured.
#[derive(Debug, Clone)]
pub enum Entry {
    Once {
        after: Option<Stated>,
    },
    Trip {
        after: Stated,
        twice: bool,
    },
    Again {
        rest_s: f64,
        after: Stated,
    },
    Held {
        hours: f64,
    },
    Reading {
        shown: Stated,
        said_true: bool,
        up_to: bool,
    },
    Air {
        at_part: bool,
        shown_c: Stated,
    },
    Bench {
        as_new: bool,
        current_a: f64,
        air_c: Stated,
        after: Stated,
    },
    Drop {
        shown_mv: Stated,
        current_a: Stated,
        sister_mv: Option<Stated>,
    },
    Terminals {
        hotter_c: Stated,
        other_c: Stated,
    },
    Swap {
        watched_s: f64,
        after: Option<Stated>,
    },
    Captured {
        peak_a: Stated,
        duration_s: Stated,
    },
}

impl Entry {
    /// Logarithm of its chance on a machine; the dice make a twin. What a trip that came once tells
    /// is its time only.
    pub fn chance(&self, scene: &Scene<'_>, twin: &Dice) -> f64 {
        match self {
            Entry::Once { after: None } => f64::ln(f64::from(u8::from(!scene.m.has(Fault::Late)))),
            Entry::Once { after: Some(after) } => trips::chance_of_trip(scene, after, false),
            Entry::Trip { after, twice } => trips::chance_of_trip(scene, after, *twice),
            Entry::Again { rest_s, after } => trips::chance_of_again(scene, *rest_s, after),
            Entry::Held { .. } => trips::chance_of_held(scene),
            Entry::Reading {
                shown,
                said_true,
                up_to,
            } => meters::chance_of_reading(scene, shown, *said_true, *up_to),
            Entry::Air { at_part, shown_c } => places::chance_of_air(scene, *at_part, shown_c),
            Entry::Bench {
                as_new,
                air_c,
                after,
                ..
            } => bench::chance_of_bench(scene, *as_new, air_c, after),
            Entry::Drop {
                shown_mv,
                current_a,
                sister_mv,
            } => meters::chance_of_drop(scene, shown_mv, current_a, sister_mv.as_ref()),
            Entry::Terminals { hotter_c, other_c } => {
                places::chance_of_terminals(scene, hotter_c, other_c)
            }
            Entry::Swap { after, .. } => bench::chance_of_swap(scene, twin, after.as_ref()),
            Entry::Captured { peak_a, duration_s } => {
                meters::chance_of_captured(scene, peak_a, duration_s)
            }
        }
    }

    /// Whether an entry of this kind comes out otherwise with something wrong.
    pub fn is_touched_by(&self, wrong: Wrong) -> bool {
        match wrong {
            Wrong::Reading | Wrong::DeclaredTrueRms => matches!(self, Entry::Reading { .. }),
            Wrong::AsNewOfAnother => matches!(self, Entry::Bench { as_new: true, .. }),
            Wrong::RoomForPart => matches!(self, Entry::Air { at_part: true, .. }),
            Wrong::HeldIdle => matches!(self, Entry::Held { .. }),
            Wrong::WarmCalledCold => {
                matches!(self, Entry::Trip { .. } | Entry::Once { after: Some(_) })
            }
            Wrong::SwapReMade => matches!(self, Entry::Swap { .. }),
        }
    }

    /// Whether it stands beside the line that says that it starts with a surge.
    pub fn says_start(&self) -> bool {
        use Entry::{Again, Held, Once, Trip};
        matches!(self, Once { .. } | Trip { .. } | Again { .. } | Held { .. })
    }

    /// As it stands in a case file; `start`: the line that a surge at the start gets.
    pub fn toml(&self, start: &str) -> String {
        match self {
            Entry::Once { after } => {
                let after = after.as_ref().map_or("not known", |a| a.text.as_str());
                format!("\n[[trip]]\nlabel = \"once, before I came\"\nafter = \"{after}\"\n{start}")
            }
            Entry::Trip { after, twice } => format!(
                "\n[[trip]]\nlabel = \"as the operator tells it\"\nafter = \"{}\"\nfrom = \"cold\"\n{start}{}",
                after.text,
                if *twice { "times = 2\n" } else { "" }
            ),
            Entry::Again { rest_s, after } => format!(
                "\n[[trip]]\nlabel = \"again, soon after the reset\"\nafter = \"{}\"\nfrom = \"{rest_s:.0} s after the trip\"\n{start}",
                after.text
            ),
            Entry::Held { hours } => format!(
                "\n[[held]]\nlabel = \"working as usual\"\nfor = \"{hours:.0} h\"\nfrom = \"cold\"\n{start}"
            ),
            Entry::Reading {
                shown,
                said_true,
                up_to,
            } => format!(
                "\n[[reading]]\nlabel = \"clamp meter\"\ncurrent = \"{} A\"\nmeter = \"{}\"\ntaken = \"{}\"\naccuracy = \"2 % + 3 digits\"\n",
                shown.text,
                if *said_true { "true RMS" } else { "unknown" },
                if *up_to {
                    "up to the trip"
                } else {
                    "while running"
                }
            ),
            Entry::Air { at_part, shown_c } => format!(
                "\n[[air]]\nat = \"{}\"\ntemperature = \"{} degC\"\n",
                if *at_part { "the part" } else { "the room" },
                shown_c.text
            ),
            Entry::Bench {
                as_new,
                current_a,
                air_c,
                after,
            } => {
                let (label, unit) = if *as_new {
                    ("label on the part", "part = \"as new\"\n")
                } else {
                    ("bench at 2 times", "")
                };
                format!(
                    "\n[[trip]]\nlabel = \"{label}\"\nafter = \"{} s\"\nfrom = \"cold\"\n{unit}on = \"bench\"\ncurrent = \"{current_a:.1} A +- 2 %\"\nair = \"{} degC\"\n",
                    after.text, air_c.text
                )
            }
            Entry::Drop {
                shown_mv,
                current_a,
                sister_mv,
            } => {
                let sister = sister_mv
                    .as_ref()
                    .map_or(String::new(), |v| format!("sister = \"{} mV\"\n", v.text));
                format!(
                    "\n[[drop]]\nvoltage = \"{} mV\"\ncurrent = \"{} A\"\n{sister}",
                    shown_mv.text, current_a.text
                )
            }
            Entry::Terminals { hotter_c, other_c } => format!(
                "\n[terminals]\nhotter = \"{} degC\"\nother = \"{} degC\"\n",
                hotter_c.text, other_c.text
            ),
            Entry::Swap { watched_s, after } => {
                let minutes = watched_s / 60.0;
                let (fault, after) = match after {
                    Some(after) => (
                        "stays at the place",
                        format!("twin_tripped_after = \"{}\"\n", after.text),
                    ),
                    None => ("follows the protector", String::new()),
                };
                format!("\n[swap]\nfault = \"{fault}\"\nwatched = \"{minutes:.0} min\"\n{after}")
            }
            Entry::Captured { peak_a, duration_s } => format!(
                "\n[start]\npeak = \"{} A\"\nduration = \"{} s\"\ncaptured_with = \"a recorder\"\n",
                peak_a.text, duration_s.text
            ),
        }
    }
}
