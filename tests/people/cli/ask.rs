//! `relatch diagnose` that asks its questions.

use super::on_a_terminal;
use relatch::internals::cli::Failure;
use relatch::internals::cli::ask::{Talk, Told, ask, keep};
use relatch::internals::diagnose::{Diagnosis, Energise, Look, Measurement, Step, diagnose};
use relatch::internals::evidence::{Case, Meter, read_text};
use std::collections::VecDeque;

/// Somebody who answers from a list, and then no more.
struct Answers {
    left: VecDeque<&'static str>,
    said: String,
}

impl Talk for Answers {
    fn say(&mut self, text: &str) -> Result<(), Failure> {
        self.said += text;
        Ok(())
    }

    fn answer(&mut self) -> Result<Option<String>, Failure> {
        Ok(self.left.pop_front().map(str::to_owned))
    }
}

fn weigh(case: &Case) -> Result<Diagnosis, Failure> {
    diagnose(case, 7).map_err(|e| Failure::Failed(e.to_string()))
}

fn asked(answers: &[&'static str]) -> (Result<Told, Failure>, String) {
    let mut talk = Answers {
        left: answers.iter().copied().collect(),
        said: String::new(),
    };
    let told = ask(&mut talk, &mut weigh);
    (told, talk.said)
}

/// Questions are lines after an empty one, before the forms of an answer.
fn questions(said: &str) -> Vec<&str> {
    let lines: Vec<&str> = said.lines().collect();
    let asks = lines
        .windows(2)
        .filter(|w| w[1].ends_with("Enter: don't know)"));
    asks.map(|w| w[0]).collect()
}

#[test]
fn what_is_answered_is_noted_weighed_and_kept_as_a_case_file() {
    let (told, said) = asked(&[
        "16",
        "no",
        "8 min from cold",
        "14,2 A",
        "true-rms",
        "",
        "don't know",
        "?",
        "",
        "",
        "",
        "",
    ]);
    let told = told.expect("a diagnosis");
    for noted in [
        "Noted: rated current: 16 A.",
        "Noted: no sign of a fault.",
        "Noted: trips after: 8 min; before it: cold.",
        "Noted: current: 14.2 A; read up to the trip.",
        "Noted: meter: true RMS.",
        "So far: ",
    ] {
        assert!(said.contains(noted), "{noted}\n{said}");
    }
    let reading = &told.case.readings[0];
    assert!((reading.current_a.value - 14.2).abs() < 1e-9 && reading.meter == Meter::TrueRms);
    let case = read_text("the case file", &told.text).expect("it reads");
    assert_eq!(case, told.case);
    assert_eq!(weigh(&case).expect("weighed"), told.diagnosis);
    let asks = questions(&said);
    let mut unique = asks.clone();
    unique.sort_unstable();
    unique.dedup();
    assert!(
        asks.len() == unique.len() && (6..=12).contains(&asks.len()),
        "{asks:#?}"
    );
}

/// What is asked next is what costs nothing, then what would be looked at or measured next.
#[test]
fn the_weighing_chooses_the_questions() {
    for current in ["8.2 A", "15 A", "?"] {
        let (told, said) = asked(&["10 A", "no", "2 min from cold", current, "true RMS"]);
        let diagnosis = told.expect("a diagnosis").diagnosis;
        assert_eq!(said.matches("So far: ").count(), 1, "{said}");
        let planned = diagnosis.plan.iter().filter_map(Step::measured);
        let told = planned.chain(diagnosis.next.iter().map(|n| n.measurement));
        let words = told.filter_map(|m| match m {
            Measurement::ReadThePlate => Some("machine's own plate"),
            Measurement::ReadTheMarking => Some("agree with the drawing"),
            Measurement::LookAtTheJoints => Some("marks of heat"),
            Measurement::TerminalTemperatures => Some("terminals"),
            Measurement::AirAtThePart => Some("How warm is the air"),
            Measurement::DropBesideASister => Some("drops across"),
            Measurement::TimedTrip { .. } => Some("timed from cold on a bench"),
            Measurement::HoldTest { .. } => Some("carry its current"),
            Measurement::CaptureOfAStart => Some("when it starts"),
            Measurement::SwapWithATwin => Some("swapped"),
            // Asked before.
            _ => None,
        });
        let asks = questions(&said);
        let first = if current == "?" { 4 } else { 5 };
        let free = diagnosis.looks.iter().filter_map(|look| match look {
            Look::Plate => Some("machine's own plate"),
            Look::Marking => Some("agree with the drawing"),
            _ => None,
        });
        for word in free.chain(words).take(1) {
            assert!(asks[first].contains(word), "{word}: {asks:#?}");
        }
    }
}

#[test]
fn an_answer_that_cannot_be_is_explained_and_asked_again() {
    let (told, said) = asked(&[
        "a fuse",
        "130 degC",
        "16 V",
        "16 A",
        "perhaps",
        "smell, soot",
    ]);
    let told = told.expect("a diagnosis");
    for why in [
        "\"fuse\" is no strip that its own current heats",
        "feels the machine's temperature, not its own current",
        "Not understood: ",
        "answer \"no\", or which: smell",
    ] {
        assert!(said.contains(why), "{why}\n{said}");
    }
    assert_eq!(said.matches("Not understood: ").count(), 4, "{said}");
    // A sign ends the questions: there is nothing that a number could change.
    assert!(matches!(told.diagnosis.energise, Energise::No { .. }));
    assert_eq!(
        questions(&said).len(),
        3,
        "rating, signs, the machine: {said}"
    );
}

#[test]
fn every_kind_of_answer_becomes_a_line_that_reads() {
    use relatch::internals::diagnose::interview::lines;
    use relatch::internals::evidence::Question::*;
    for (question, answer, line) in [
        (Held, "2 h", "for = \"2 h\""),
        (Air, "105 F", "temperature = \"40.6 degC\""),
        (Air, "room -5 degC", "at = \"the room\""),
        (Plate, "12,5", "rated_current = \"12.5 A\""),
        (Marking, "yes", "marking = \"agrees with the drawing\""),
        (Terminals, "31 and 58", "hotter = \"58 degC\""),
        (Drop, "123 mV at 13,6, sister 72 mV", "current = \"13.6 A\""),
        (Start, "50 for 0,7", "duration = \"0.7 s\""),
        (Supply, "196 running of 230", "running = \"196 V\""),
        (BenchTrip, "24 s at 26", "current = \"26 A\""),
        (BenchHold, "2 h at 13 A", "on = \"bench\""),
        (
            Swap,
            "it follows the protector",
            "fault = \"follows the protector\"",
        ),
        (Age, "about 18 months", "age = \"about 18 months\""),
        (Trip, "40 s from hot after 9", "from = \"hot after 9 A\""),
        (Trip, "cold", "after = \"not known\""),
        (Current, "11.3 while running", "taken = \"while running\""),
    ] {
        let text = lines(question, answer).unwrap_or_else(|e| panic!("{answer}: {e}"));
        assert!(text.contains(line), "{answer}: {text}");
    }
    for (question, answer) in [
        (Held, "40"),
        (Trip, "8"),
        (Terminals, "58"),
        (Drop, "123 mV"),
        (Meter, "a good one"),
        (Plate, "12 V"),
        (Air, "400 degC"),
        (Marking, "perhaps"),
        (Swap, "yes"),
    ] {
        assert!(lines(question, answer).is_err(), "{answer}");
    }
}

#[test]
fn without_a_rating_nothing_is_weighed() {
    for answers in [&[""][..], &[]] {
        let (told, _) = asked(answers);
        assert!(
            matches!(told, Err(Failure::Input(why)) if why.contains("printed on the part")),
            "{answers:?}"
        );
    }
}

#[test]
fn a_kept_case_file_never_replaces_another() {
    let folder = tempfile::tempdir().expect("a folder");
    let name = |name: &str| -> &'static str {
        Box::leak(
            folder
                .path()
                .join(name)
                .display()
                .to_string()
                .into_boxed_str(),
        )
    };
    std::fs::write(name("mill.toml"), "mine").expect("a file");
    let mut talk = Answers {
        left: [name("mill"), name("other.toml")].into(),
        said: String::new(),
    };
    keep(&mut talk, "theirs").expect("kept");
    let read = |file: &str| std::fs::read_to_string(name(file)).expect("a file");
    assert_eq!(read("mill.toml"), "mine");
    assert_eq!(read("other.toml"), "theirs");
    assert!(talk.said.contains("already there"), "{}", talk.said);
}

/// On a real terminal, by the program itself.
#[cfg(target_os = "linux")]
#[test]
fn on_a_terminal_it_asks_and_without_one_it_names_the_flag() {
    let folder = tempfile::tempdir().expect("a folder");
    let refused = crate::program::run(folder.path(), &["diagnose"]);
    assert_eq!(refused.code, 2);
    for named in ["--rating", "case file", "terminal"] {
        assert!(refused.err.contains(named), "{}", refused.err);
    }
    let shown = on_a_terminal(folder.path(), &["diagnose"], "10\nsmell\nmixer\nmixer\n");
    for told in [
        "rated current: 10 A",
        "NO: do not reset",
        "Written: mixer.toml",
    ] {
        assert!(shown.contains(told), "{told}\n{shown}");
    }
    let text = std::fs::read_to_string(folder.path().join("mixer.toml")).expect("a case");
    assert!(read_text("mixer.toml", &text).is_ok(), "{text}");
}
