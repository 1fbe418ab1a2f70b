//! What each piece of evidence says.

use crate::diagnose::{Evidence, Happened, Load, Says};
use crate::evidence::{Mend, Meter, Sign, Unit, Waveform};
use crate::present::language::worded;
use crate::present::number::{significant, spoken};

/// A piece of evidence with its label.
pub(crate) fn evidence(evidence: &Evidence) -> String {
    let label = evidence.label.trim();
    let name = bare(label);
    let line = &label[name.len()..];
    format!("{}{line}: {}", named(name), says(&evidence.says))
}

/// Words of a name that is short.
const SHORT: usize = 4;

/// The same without its line in the file, and without a name that says what it says; tersely without
/// its name, too, where that is long.
pub(crate) fn evidence_brief(evidence: &Evidence, is_terse: bool) -> String {
    let name = named(bare(&evidence.label));
    let says = says(&evidence.says);
    let is_long = name.split_whitespace().count() > SHORT;
    match is_terse && is_long || says_so(name, &says) {
        true => says,
        false => format!("{name}: {says}"),
    }
}

/// Whether a name says with a number and its unit what is told: it was made of a flag.
fn says_so(name: &str, says: &str) -> bool {
    const OF_A_FLAG: [&str; 6] = ["reading", "trip", "held", "drop", "terminals", "start"];
    let first = name.split_whitespace().next();
    let told = amounts(says);
    let named = amounts(name).first().copied();
    first.is_some_and(|first| OF_A_FLAG.contains(&first))
        && named.is_some_and(|n| told.contains(&n))
}

/// Numbers in a text, each with its unit.
fn amounts(text: &str) -> Vec<(f64, &str)> {
    let words = text.split_whitespace();
    let words: Vec<&str> = words.map(|w| w.trim_end_matches([',', ':', ';'])).collect();
    let pairs = words.windows(2);
    let read = pairs.filter_map(|w| Some((w[0].parse().ok()?, w[1].trim_start_matches("deg"))));
    read.map(|(number, unit)| (number, unit.trim_start_matches('°')))
        .collect()
}

/// Names that the program gives to entries which have none of their own.
const NAMES: [&str; 10] = [
    noted!("currents of the phases"),
    noted!("the machine"),
    noted!("the machine's plate"),
    noted!("air at the part"),
    noted!("air in the room"),
    noted!("drop across the closed part"),
    noted!("terminals"),
    noted!("supply"),
    noted!("start"),
    noted!("mended"),
];

/// The name of an entry in the language that is spoken.
fn named(name: &str) -> &str {
    if NAMES.contains(&name) {
        worded(name)
    } else {
        name
    }
}

/// The title of a case that was told by flags.
const OF_FLAGS: &str = "Case of the command line";

/// Whether a case was told by flags and has no title.
pub(crate) fn is_of_flags(title: &str) -> bool {
    title.trim() == OF_FLAGS
}

/// The title of a case; that of one without a file in the language that is spoken.
pub(crate) fn case_title(title: &str) -> &str {
    match title.trim() {
        OF_FLAGS => word!("Case of the command line"),
        "A protector that keeps tripping" => word!("A protector that keeps tripping"),
        title => title,
    }
}

/// The name of an entry without its line in the file.
pub(super) fn bare(label: &str) -> &str {
    let label = label.trim();
    let is_line = |(_, n): &(&str, &str)| n.trim_end_matches(')').parse::<usize>().is_ok();
    let name = label.rsplit_once(" (line ").filter(is_line);
    name.map_or(label, |(name, _)| name)
}

/// What it says.
pub(crate) fn says(says: &Says) -> String {
    match says {
        Says::Current {
            current_a,
            uncertainty_a,
            over_rated,
            meter,
            waveform,
        } => {
            let meter = match (meter, waveform) {
                (Meter::TrueRms, _) => word!("true RMS"),
                (_, Waveform::Sine) => word!("right on a sine"),
                (Meter::AverageResponding, _) => word!("average-responding: may read low"),
                (Meter::Unknown, _) => word!("meter not known: may read low"),
            };
            say!(
                "{} A ± {} A, {:.0} % of the rating; {meter}",
                significant(*current_a, 3),
                significant(2.0 * uncertainty_a, 2),
                100.0 * over_rated
            ; meter)
        }
        Says::Plate {
            rated_a,
            over_rated,
            drawn,
        } => {
            let drawn = drawn.map_or(String::new(), |over| {
                say!("; it draws {:.0} % of that", 100.0 * over)
            });
            say!(
                "{} A, {:.0} % of the protector's rating{drawn}",
                significant(*rated_a, 3),
                100.0 * over_rated
            ; drawn)
        }
        Says::Air {
            temperature_c,
            above_reference_k,
            ..
        } => {
            say!("{temperature_c:.0} °C, {above_reference_k:+.0} K from the reference air"; temperature_c, above_reference_k)
        }
        Says::Start { peak_a, duration_s } => {
            say!(
                "start of {} A for {}",
                significant(*peak_a, 3),
                spoken(*duration_s)
            )
        }
        Says::Phases {
            least_a,
            greatest_a,
        } => say!(
            "from {} A to {} A: the least is {:.0} % of the greatest",
            significant(*least_a, 3),
            significant(*greatest_a, 3),
            100.0 * least_a / greatest_a
        ),
        Says::Hums { hums: true } => word!("hums and does not start").into(),
        Says::Hums { hums: false } => word!("starts").into(),
        Says::Cycles { on_s, off_s } => say!(
            "on {}, off {}: {:.0} % of the time on",
            spoken(*on_s),
            spoken(*off_s),
            100.0 * on_s / (on_s + off_s)
        ),
        Says::Drop {
            voltage_v,
            current_a,
            over_sister,
        } => {
            let beside = over_sister.map_or(String::new(), |times| {
                say!(", {} times that of the sister", significant(times, 2))
            });
            say!(
                "{:.0} mV at {} A: {} mΩ{beside}",
                1e3 * voltage_v,
                significant(*current_a, 3),
                significant(1e3 * voltage_v / current_a, 3)
            ; beside)
        }
        Says::Terminals { hotter_c, other_c } => say!(
            "terminals at {hotter_c:.0} °C and {other_c:.0} °C: {:.0} K apart",
            hotter_c - other_c
        ; hotter_c, other_c),
        Says::Supply {
            nominal_v,
            at_rest_v,
            running_v,
        } => {
            let all = [
                (*running_v, word!("running")),
                (*at_rest_v, word!("at rest")),
                (*nominal_v, word!("nominal")),
            ];
            let told = all.iter().filter_map(|(volts, what)| {
                Some(format!("{} V {what}", significant((*volts)?, 3)))
            });
            let told = told.collect::<Vec<_>>().join(", ");
            match (running_v, nominal_v) {
                (Some(running), Some(nominal)) if *nominal > 0.0 => {
                    let change = 100.0 * (running / nominal - 1.0);
                    format!("{told}: {change:+.0} %")
                }
                _ => told,
            }
        }
        Says::Mended { what } => mend(*what).into(),
        Says::Event {
            unit,
            load,
            outcome,
            times,
        } => {
            let who = match unit {
                Unit::ThisPart => "",
                Unit::AsNew => word!("as new: "),
                Unit::Twin => word!("a sound twin: "),
            };
            let load = match load {
                Load::Bench { current_a } => {
                    say!(" at {} A on a bench", significant(*current_a, 3))
                }
                Load::Recorded => word!(" under the recorded current").into(),
                Load::InService => word!(" on the machine").into(),
            };
            let often = match times {
                0 | 1 => String::new(),
                n => say!(", {n} times"; n),
            };
            format!("{who}{}{load}{often}", happened(outcome))
        }
    }
}

fn happened(happened: &Happened) -> String {
    match happened {
        Happened::Tripped { after_s } => say!("tripped after {}", spoken(*after_s)),
        // Nobody knows when.
        Happened::TrippedWithin { from_s, to_s: None } if *from_s <= 0.0 => word!("tripped").into(),
        Happened::TrippedWithin { from_s, to_s: None } => {
            say!("tripped after more than {}", spoken(*from_s))
        }
        Happened::TrippedWithin {
            from_s,
            to_s: Some(to_s),
        } if *from_s <= 0.0 => say!("tripped within {}", spoken(*to_s)),
        Happened::TrippedWithin {
            from_s,
            to_s: Some(to_s),
        } => say!("tripped between {} and {}", spoken(*from_s), spoken(*to_s)),
        Happened::Held { for_s } => say!("held for {}", spoken(*for_s)),
    }
}

/// What was mended.
pub(crate) fn mend(mend: Mend) -> &'static str {
    match mend {
        Mend::Protector => word!("the protector, by one of the same type"),
        Mend::Load => word!("the load"),
        Mend::Air => word!("the air or the enclosure"),
        Mend::Supply => word!("the supply"),
        Mend::Joints => word!("both joints"),
        Mend::Meter => word!("the meter"),
    }
}

/// What was mended, and what came of it; nothing where nothing was.
pub(crate) fn since_mended(mended: &[Mend], since: Option<&Happened>) -> String {
    if mended.is_empty() {
        return String::new();
    }
    let what: Vec<&str> = mended.iter().map(|m| mend(*m)).collect();
    let what = super::list(&what);
    match since {
        Some(Happened::Held { for_s }) => {
            say!("Changed: {what}. Since then it has held for {}.", spoken(*for_s); what)
        }
        Some(_) => {
            say!("Changed: {what}. It trips all the same: that was not it, or not all."; what)
        }
        None => say!("Changed: {what}. Say whether it has held or tripped since."; what),
    }
}

/// A sign that was seen.
pub(crate) fn sign(sign: Sign) -> &'static str {
    match sign {
        Sign::Smell => word!("smell or smoke"),
        Sign::Soot => word!("soot or melted parts"),
        Sign::TripsAtOnceCold => word!("it trips at once from cold"),
        Sign::TripsWithoutLoad => word!("it trips with nothing connected"),
        Sign::LatchDoesNotHold => word!("the latch does not hold when cold"),
    }
}
