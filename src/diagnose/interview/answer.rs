//! What an answer says, as lines of a case file.

use super::draft::{HELD_SINCE, TRIPPED_SINCE};
use crate::diagnostic::nearest;
use crate::evidence::{Mend, Meter, Question, Sign, is_other, read_before, read_time};
use crate::quantity::{Dimension, Quantity, beside, strict, two};
use toml_edit::Value;

/// A table of a case file with some of its keys.
pub type Lines = (&'static str, Vec<(&'static str, Value)>);

/// Words of what was found at the joints, and what they say.
const JOINTS: [(&str, &str); 4] = [
    ("re-made", "re-made"),
    ("remade", "re-made"),
    ("no", "no marks"),
    ("mark", "marks of heat"),
];

/// Whether somebody says that it is not known.
pub fn is_open(answer: &str) -> bool {
    let words = answer.trim().to_lowercase();
    let words = words.trim_end_matches('.');
    const OPEN: [&str; 14] = [
        "",
        "?",
        "-",
        "don't know",
        "dont know",
        "do not know",
        "unknown",
        "not known",
        "weiß nicht",
        "nicht bekannt",
        "no sé",
        "no lo sé",
        "je ne sais pas",
        "inconnu",
    ];
    OPEN.contains(&words)
}

/// What answers are made of in the other languages of the questions, longer ones first.
const IN_ENGLISH: [(&str, &str); 24] = [
    ("aus kaltem zustand", "from cold"),
    ("ab kalt", "from cold"),
    ("aus kalt", "from cold"),
    ("heiß nach", "hot after"),
    ("warm nach", "hot after"),
    ("kalt", "cold"),
    ("nein", "no"),
    ("keine", "none"),
    ("nie", "never"),
    ("ja", "yes"),
    ("und", "and"),
    ("en frío", "from cold"),
    ("desde frío", "from cold"),
    ("caliente después de", "hot after"),
    ("frío", "cold"),
    ("sí", "yes"),
    ("y", "and"),
    ("à froid", "from cold"),
    ("chaud après", "hot after"),
    ("froid", "cold"),
    ("non", "no"),
    ("jamais", "never"),
    ("oui", "yes"),
    ("et", "and"),
];

/// An answer with its words in English, whatever language the question was asked in. What is an
/// answer in English stays as it is.
fn in_english(answer: &str) -> String {
    let mut said = format!(" {answer} ");
    for (word, english) in IN_ENGLISH {
        let found = said.to_lowercase().find(&format!(" {word} "));
        let is_alone = answer.chars().count() == 1;
        if let Some(at) = found.filter(|at| !is_alone && said.is_char_boundary(*at)) {
            let end = at + 1 + word.len();
            if said.is_char_boundary(end) {
                said.replace_range(at + 1..end, english);
            }
        }
    }
    said.trim().to_owned()
}

/// The lines of an answer; whether their values can be is for the reader of case files to say.
///
/// # Errors
/// What was not understood, and how to answer.
pub fn lines(question: Question, answer: &str) -> Result<Vec<Lines>, String> {
    let answer = in_english(answer.trim().trim_end_matches('.'));
    let answer = answer.as_str();
    let lower = answer.to_lowercase();
    let is_no = ["no", "none", "never", "n"].contains(&lower.as_str());
    let current = |text: &str| strict(text, Dimension::Current);
    let table = |name, keys| Ok(vec![(name, keys)]);
    match question {
        Question::Rating => rating(answer),
        Question::Signs => signs(&lower, is_no),
        Question::Trip => {
            let (time, from) = time_from(answer);
            let after = if is_open(&time) {
                "not known".into()
            } else {
                time
            };
            table("[[trip]]", with_from(("after", after.into()), from))
        }
        Question::Held if is_no => Ok(Vec::new()),
        Question::Held => {
            let (time, from) = time_from(answer);
            table("[[held]]", with_from(("for", time.into()), from))
        }
        Question::Current => {
            const TAKEN: [&str; 3] = ["up to the trip", "while running", "after a reset"];
            let said = TAKEN.into_iter().find(|t| lower.ends_with(t));
            let amperes = &answer[..answer.len() - said.map_or(0, str::len)];
            table(
                "[[reading]]",
                vec![
                    ("current", current(amperes).into()),
                    ("taken", said.unwrap_or(TAKEN[0]).into()),
                ],
            )
        }
        Question::Meter => table("[[reading]]", vec![("meter", meter(&lower)?.into())]),
        Question::Air => {
            let in_room = lower.contains("room");
            let words = lower.replace("in the room", "").replace("room", "");
            let place = if in_room { "the room" } else { "the part" };
            let air = strict(&words, Dimension::Temperature);
            table(
                "[[air]]",
                vec![("at", place.into()), ("temperature", air.into())],
            )
        }
        Question::Plate => table("[machine]", vec![("rated_current", current(answer).into())]),
        Question::Marking => {
            let agrees = yes_or_no(&lower)?;
            let said = if agrees {
                "agrees with the drawing"
            } else {
                "differs from the drawing"
            };
            table("[protector]", vec![("marking", said.into())])
        }
        Question::Joints => {
            let said = JOINTS.into_iter().find(|(word, _)| lower.contains(word));
            let said = said.ok_or("answer \"no marks\", \"marks of heat\" or \"re-made\"")?;
            table("[history]", vec![("joints", said.1.into())])
        }
        Question::Terminals => {
            let both = [Dimension::Temperature; 2];
            let (one, other) = two(answer, " and ", both)
                .ok_or("two temperatures are meant, as \"58 degC and 31 degC\"")?;
            let kelvin =
                |text: &str| Quantity::read(text, Dimension::Temperature).map(|q| q.value_si);
            let is_first = kelvin(&one).ok() >= kelvin(&other).ok();
            let (hotter, other) = if is_first { (one, other) } else { (other, one) };
            table(
                "[terminals]",
                vec![("hotter", hotter.into()), ("other", other.into())],
            )
        }
        Question::Drop => {
            let (own, sister) = beside(answer, "sister");
            let (volts, amperes) = two(&own, " at ", [Dimension::Voltage, Dimension::Current])
                .ok_or("voltage and current are meant, as \"123 mV at 13.6 A\"")?;
            let mut keys = vec![("voltage", volts.into()), ("current", amperes.into())];
            keys.extend(sister.map(|s| ("sister", strict(&s, Dimension::Voltage).into())));
            table("[[drop]]", keys)
        }
        Question::Start => {
            let (peak, time) = two(answer, " for ", [Dimension::Current, Dimension::Time])
                .ok_or("a current and its time are meant, as \"50 A for 0.7 s\"")?;
            table(
                "[start]",
                vec![("peak", peak.into()), ("duration", time.into())],
            )
        }
        Question::Supply => {
            let plain = lower.replace("running", "");
            let (running, nominal) = two(&plain.to_uppercase(), " OF ", [Dimension::Voltage; 2])
                .ok_or("two voltages are meant, as \"196 V of 230 V\"")?;
            table(
                "[supply]",
                vec![("nominal", nominal.into()), ("running", running.into())],
            )
        }
        Question::BenchTrip | Question::BenchHold => {
            let is_trip = question == Question::BenchTrip;
            let (time, amperes) = answer
                .split_once(" at ")
                .ok_or("a time and its current are meant, as \"24 s at 26 A\"")?;
            let (name, key) = if is_trip {
                ("[[trip]]", "after")
            } else {
                ("[[held]]", "for")
            };
            let time = time.trim().trim_start_matches("after ");
            table(
                name,
                vec![
                    (key, time.into()),
                    ("from", "cold".into()),
                    ("on", "bench".into()),
                    ("current", current(amperes).into()),
                ],
            )
        }
        Question::Swap if is_no => Ok(Vec::new()),
        Question::Swap => {
            let said = match (lower.contains("follow"), lower.contains("stay")) {
                (true, false) => "follows the protector",
                (false, true) => "stays at the place",
                _ => {
                    return Err("answer \"follows the protector\" or \"stays at the place\"".into());
                }
            };
            table("[swap]", vec![("fault", said.into())])
        }
        Question::Mended if is_no => Ok(Vec::new()),
        Question::Mended => {
            let (what, then) = match lower.split_once(", then ") {
                Some((what, then)) => (what, Some(then.trim())),
                None => (lower.as_str(), None),
            };
            let what = Mend::read(what)?.name();
            let mut lines = vec![("[[mended]]", vec![("what", what.into())])];
            if let Some(then) = then {
                let (tripped, said) = (then.strip_prefix("tripped"), then.strip_prefix("held"));
                let (table, key) = match (tripped, said) {
                    (Some(_), _) => (TRIPPED_SINCE, "after"),
                    (_, Some(_)) => (HELD_SINCE, "for"),
                    _ => {
                        return Err(
                            "answer \"load, then held 2 h\" or \"load, then tripped\"".into()
                        );
                    }
                };
                let (time, from) = time_from(tripped.or(said).unwrap_or_default());
                let time = match (is_open(&time), tripped) {
                    (true, Some(_)) => "not known".to_owned(),
                    _ => time,
                };
                lines.push((table, with_from((key, time.into()), from)));
            }
            Ok(lines)
        }
        Question::Age => table("[history]", vec![("age", answer.into())]),
        Question::Machine => table("[machine]", vec![("name", answer.into())]),
    }
}

/// The rating; what is no current-heated strip is recognised.
fn rating(answer: &str) -> Result<Vec<Lines>, String> {
    if let Some(why) = is_other(answer) {
        return Err(why);
    }
    let rating = strict(answer, Dimension::Current);
    Ok(vec![("[protector]", vec![("rating", rating.into())])])
}

fn signs(lower: &str, is_no: bool) -> Result<Vec<Lines>, String> {
    let mut seen = Vec::new();
    let parts = lower.split([',', ';']).flat_map(|p| p.split(" and "));
    let said = |w: &&str| !w.is_empty() && !is_no && !Sign::is_denied(w);
    for word in parts.map(str::trim).filter(said) {
        let key = word.replace([' ', '-'], "_");
        let known = || Sign::NAMES.iter().map(|(name, _)| *name);
        let found = known()
            .find(|name| *name == key)
            .or_else(|| nearest(&key, known()));
        match found {
            Some(name) => seen.push(name),
            None => {
                let names: Vec<String> = known().map(|n| n.replace('_', " ")).collect();
                return Err(format!("answer \"no\", or which: {}", names.join(", ")));
            }
        }
    }
    let keys = Sign::NAMES.map(|(name, _)| (name, seen.contains(&name).into()));
    Ok(vec![("[signs]", keys.into())])
}

fn meter(lower: &str) -> Result<&'static str, String> {
    match Meter::spoken(lower) {
        Some(Meter::TrueRms) => Ok("true RMS"),
        Some(Meter::AverageResponding) => Ok("average responding"),
        _ => Err("answer \"true RMS\" (it says so on the meter) or \"average responding\"".into()),
    }
}

fn yes_or_no(lower: &str) -> Result<bool, String> {
    match lower {
        "y" | "yes" | "it agrees" | "agrees" => Ok(true),
        "n" | "no" | "differs" => Ok(false),
        _ => Err("answer \"yes\" or \"no\"".into()),
    }
}

/// `8 min from cold`: a time, and the state before it.
fn time_from(answer: &str) -> (String, Option<String>) {
    let spoken = answer
        .trim()
        .trim_start_matches("after ")
        .trim_start_matches("for ");
    let (time, from) = match spoken.split_once(" from ").or(spoken.split_once(", ")) {
        Some((time, from)) => (time.trim(), Some(from.trim())),
        None if read_before(spoken).is_ok() && read_time(spoken).is_err() => ("", Some(spoken)),
        None => (spoken, None),
    };
    let from = from.map(|from| match from.strip_prefix("hot after ") {
        Some(a) => format!("hot after {}", strict(a, Dimension::Current)),
        None => from.to_owned(),
    });
    (time.to_owned(), from)
}

fn with_from(first: (&'static str, Value), from: Option<String>) -> Vec<(&'static str, Value)> {
    let from = from.map(|from| ("from", from.into()));
    std::iter::once(first).chain(from).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn answers_are_understood_in_the_languages_of_the_questions() {
        for (said, english) in [
            ("nein", "no"),
            ("non", "no"),
            ("8 min ab kalt", "8 min from cold"),
            ("8 min en frío", "8 min from cold"),
            ("58 °C und 31 °C", "58 °C and 31 °C"),
            ("58 °C et 31 °C", "58 °C and 31 °C"),
            ("2 min heiß nach 9 A", "2 min hot after 9 A"),
            ("y", "y"),
            ("room 24 degC", "room 24 degC"),
        ] {
            assert_eq!(in_english(said), english);
        }
        assert!(lines(Question::Signs, "nein").is_ok());
        assert!(is_open("weiß nicht"));
    }

    #[test]
    fn a_sign_that_is_denied_is_none() {
        let said = lines(Question::Signs, "no smell, soot").expect("signs");
        let seen: Vec<_> = said[0]
            .1
            .iter()
            .filter(|(_, v)| v.as_bool() == Some(true))
            .collect();
        assert_eq!(seen.len(), 1);
        assert_eq!(seen[0].0, "soot");
    }

    #[test]
    fn what_was_mended_is_a_line_and_what_came_of_it_one_below() {
        let of = |said| lines(Question::Mended, said);
        let held = of("the load, then held 2 h from cold").expect("lines");
        assert_eq!(held[0].1[0].1.as_str(), Some("load"));
        assert_eq!((held[1].0, held[1].1[0].0), (HELD_SINCE, "for"));
        assert_eq!(held[1].1[0].1.as_str(), Some("2 h"));
        let tripped = of("joints, then tripped").expect("lines");
        assert_eq!(tripped[1].1[0].1.as_str(), Some("not known"));
        assert!(of("no").is_ok_and(|lines| lines.is_empty()));
        assert!(of("another protector").is_err() && of("load, then fine").is_err());
    }

    #[test]
    fn what_was_found_at_the_joints_is_a_line() {
        for (said, found) in [
            ("No marks", "no marks"),
            ("marks of heat", "marks of heat"),
            ("re-made, and it tripped", "re-made"),
        ] {
            let line = lines(Question::Joints, said).expect("a line");
            assert_eq!(line[0].1[0].1.as_str(), Some(found));
        }
        assert!(lines(Question::Joints, "blue").is_err());
    }
}
