//! What is asked of a person at the machine. Every question may be left open.

use super::diagnosis::{advice, verdict};
use super::{list, mend, sign};
use crate::diagnose::interview::Lines;
use crate::diagnose::{Diagnosis, Energise, Verdict};
use crate::evidence::{Mend, Question, Sign};
use crate::present::language::marked;
use crate::present::number::percent;
use toml_edit::Value;

/// What stands over the questions.
pub(crate) fn ask_head() -> &'static str {
    word!(
        "What is known of the protector that trips? One question at a \
time; Enter where you \
    do not know, Ctrl-D when there is no more to say. Measure nothing live for it unless you are \
    qualified.\n"
    )
}

/// Nothing can be weighed.
pub(crate) fn no_rating() -> &'static str {
    word!(
        "without the rated current of the protector nothing can be \
weighed\n  \
    = help: it is printed on the part, a number before an A, or in the machine's drawing; \
    `relatch diagnose` asks again"
    )
}

/// The same beside the question itself.
pub(crate) fn rating_needed() -> &'static str {
    word!(
        "without the rated current nothing can be weighed; it is printed on the part, a number before an A"
    )
}

/// Where a protector sits, for a wait.
pub(crate) fn sits() -> &'static str {
    word!(
        "Where does the protector sit: on or in a motor, pump or \
compressor, or in a box of its \
    own? (motor, box; Enter: don't know)\n> "
    )
}

/// Whether the answers are to be kept.
pub(crate) fn keep() -> &'static str {
    word!("\nKeep the answers as a case file? (a name, as dough-divider.toml; Enter: no)\n> ")
}

/// Where they are.
pub(crate) fn kept(name: &str) -> String {
    let quoted = match name.contains(char::is_whitespace) {
        true => format!("\"{name}\""),
        false => name.to_owned(),
    };
    say!(
        "Written: {name}. More can be added there; weigh it again with `relatch diagnose {quoted}`.\n"
    ; name, quoted)
}

/// What is known so far, in a line.
pub(crate) fn so_far(diagnosis: &Diagnosis) -> String {
    let may = match diagnosis.energise {
        Energise::No { .. } => word!("NO"),
        Energise::NotYet { .. } => word!("NOT YET"),
        Energise::Yes => word!("YES, once mended"),
    };
    let sure = percent(diagnosis.confidence);
    let what = match diagnosis.verdict {
        Verdict::NotEnoughEvidence => {
            say!(
                "cannot tell yet; most likely {} ({sure})",
                advice(&diagnosis.likely)
            ; sure)
        }
        told => say!("{} ({sure} sure)", verdict(told).to_uppercase(); sure),
    };
    say!("So far: {what}. May it be switched on again? {may}."; what, may)
}

/// What was understood of an answer.
pub(crate) fn noted(lines: &[Lines]) -> String {
    let told: Vec<String> = match lines {
        [("[signs]", keys)] => vec![signs(keys)],
        lines => lines.iter().flat_map(|(_, keys)| keys).map(entry).collect(),
    };
    match told.is_empty() {
        true => word!("Noted.").to_owned(),
        false => say!("Noted: {}.", told.join("; ")),
    }
}

fn signs(keys: &[(&'static str, Value)]) -> String {
    let is_seen = |name: &str| {
        let entry = keys.iter().find(|(key, _)| *key == name);
        entry.is_some_and(|(_, value)| value.as_bool() == Some(true))
    };
    let seen = Sign::NAMES.iter().filter(|(name, _)| is_seen(name));
    let seen: Vec<&str> = seen.map(|(_, s)| sign(*s)).collect();
    match seen.is_empty() {
        true => word!("no sign of a fault").to_owned(),
        false => list(&seen),
    }
}

/// A key of a case file with its value; a unit as people write it.
fn entry((key, value): &(&'static str, Value)) -> String {
    let said = value.as_str().unwrap_or_default();
    let said = said.replace("degC", "°C").replace("degF", "°F");
    let said = match valued(&said) {
        Some(words) => words.to_owned(),
        None if said.starts_with(|c: char| c.is_ascii_digit()) => marked(said),
        None => said,
    };
    match named(key) {
        "" => said,
        name => format!("{name}: {said}"),
    }
}

fn named(key: &str) -> &'static str {
    match key {
        "rating" => word!("rated current"),
        "rated_current" => word!("current on the plate"),
        "current" => word!("current"),
        "meter" => word!("meter"),
        "after" => word!("trips after"),
        "for" => word!("runs for"),
        "from" => word!("before it"),
        "at" => word!("air of"),
        "marking" => word!("marking"),
        "joints" => word!("joints"),
        "hotter" => word!("hotter terminal"),
        "other" => word!("other terminal"),
        "voltage" => word!("drop"),
        "sister" => word!("sister part"),
        "peak" => word!("start"),
        "duration" => word!("for"),
        "nominal" => word!("nominal voltage"),
        "running" => word!("voltage while it runs"),
        "fault" => word!("after the swap"),
        "what" => word!("mended"),
        "age" => word!("age"),
        "name" => word!("machine"),
        _ => "",
    }
}

fn valued(value: &str) -> Option<&'static str> {
    Some(match value {
        "not known" => word!("not known"),
        "cold" => word!("cold"),
        "hot" => word!("hot"),
        "bench" => word!("on a bench"),
        "up to the trip" => word!("read up to the trip"),
        "while running" => word!("read while it runs"),
        "after a reset" => word!("read after a reset"),
        "true RMS" => word!("true RMS"),
        "average responding" => word!("average-responding"),
        "the part" => word!("the protector"),
        "the room" => word!("the room"),
        "agrees with the drawing" => word!("agrees with the drawing"),
        "differs from the drawing" => word!("differs from the drawing"),
        "no marks" => word!("no marks of heat"),
        "marks of heat" => word!("marks of heat"),
        "re-made" => word!("re-made, and it has tripped since"),
        written if Mend::NAMES.iter().any(|n| n.0 == written) => mend(Mend::read(written).ok()?),
        "follows the protector" => word!("the trouble follows the protector"),
        "stays at the place" => word!("the trouble stays at the place"),
        _ => return None,
    })
}

/// What was not understood of an answer.
pub(crate) fn not_understood(why: &str) -> String {
    say!("Not understood: {why}."; why)
}

/// The question, and answers as they may be given.
pub(crate) fn question(question: Question) -> (&'static str, &'static str) {
    match question {
        Question::Rating => (
            word!("Which rated current is printed on the protector?"),
            word!("16 A, 13; or what else it is: fuse, electronic, dashpot, thermistor, 130 degC"),
        ),
        Question::Signs => (
            word!(
                "Is there smell or smoke, soot, a trip at once from cold, a trip with nothing \
             connected, or a latch that does \
             not hold when cold?"
            ),
            word!("no; smell; soot; trips at once cold; trips without load; does not latch cold"),
        ),
        Question::Trip => (
            word!("How long after switching on does it trip, and was it cold or hot before?"),
            word!("8 min from cold; 40 s; 2 min from hot after 9 A; not known"),
        ),
        Question::Current => (
            word!(
                "Which current does the machine draw, read right up to the trip? Live work: qualified \
             people only."
            ),
            word!("14,2 A; 11.3 while running"),
        ),
        Question::Meter => (
            word!("With which meter was that read?"),
            word!("true RMS; average responding"),
        ),
        Question::Held => (
            word!("How long has it run without a trip at other times?"),
            word!("2 h; 20 min from cold; never"),
        ),
        Question::Air => (
            word!(
                "How warm is the air 10 to 20 mm from the protector when it trips? Or the air of the \
             room?"
            ),
            word!("52 degC; 105 F; room 24 degC"),
        ),
        Question::Plate => (
            word!("Which current stands on the machine's own plate?"),
            "12 A; 12,5",
        ),
        Question::Marking => (
            word!(
                "Do rating, type and reference air on the protector agree with the drawing or the \
             maker's list?"
            ),
            word!("yes; no"),
        ),
        Question::Joints => (
            word!(
                "Does a joint of the protector show marks of heat (discoloured, brittle, molten), or were both re-made and \
                 it has tripped since? Isolate, lock, prove dead before you open anything."
            ),
            word!("no marks; marks of heat; re-made"),
        ),
        Question::Terminals => (
            word!(
                "How warm are its two terminals after half an hour of load? Fix the sensors while \
             dead."
            ),
            word!("58 degC and 31 degC"),
        ),
        Question::Drop => (
            word!(
                "Which voltage drops across the closed protector, at which current, and across a \
             sister part? Live work: \
             qualified people only."
            ),
            word!("123 mV at 13.6 A, sister 72 mV"),
        ),
        Question::Start => (
            word!("How much does the machine draw when it starts, and for how long?"),
            word!("50 A for 0.7 s"),
        ),
        Question::Supply => (
            word!(
                "Which voltage is there while the machine runs, of which nominal one? Live work: \
             qualified people only."
            ),
            word!("196 V running of 230 V"),
        ),
        Question::BenchTrip => (
            word!("Has a trip of this part been timed from cold on a bench, at a known current?"),
            word!("24 s at 26 A"),
        ),
        Question::BenchHold => (
            word!("Has this part been tested on a bench to carry its current?"),
            word!("2 h at 13 A"),
        ),
        Question::Swap => (
            word!("Was it swapped with an identical, sound part, and where did the trouble go?"),
            word!("follows the protector; stays at the place"),
        ),
        Question::Mended => (
            word!(
                "Was something mended since it tripped, nothing else changed, and what came of it?"
            ),
            word!(
                "no; load, then held 2 h; joints, then tripped after 9 min; protector; air; supply; meter"
            ),
        ),
        Question::Age => (
            word!("How old is the protector?"),
            word!("9 years; about 18 months"),
        ),
        Question::Machine => (
            word!("Which machine is it, in a few words?"),
            word!("dough divider"),
        ),
    }
}
