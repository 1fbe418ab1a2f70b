//! The screen of a diagnosis: everything that is needed now, and no line too many.

use super::diagnosed::{crowded, late, unsure, worn};
use relatch::internals::diagnose::{Diagnosis, Verdict};
use relatch::internals::evidence::Case;
use relatch::internals::present::{diagnosis_screen, diagnosis_text, verdict_words};

/// Lines and columns of the screen.
const LINES: usize = 40;
const COLUMNS: usize = 100;

/// Across the ends of lines.
fn as_read(screen: &str) -> String {
    screen.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Each caution, once, behind the heading where it is needed.
const CAUTIONS: [(&str, &str); 8] = [
    ("1 May it", "Find the cause first"),
    ("1 May it", "a trip with no load: do not reset"),
    ("1 May it", "repeated reclosing by hand is prohibited"),
    ("5 What to measure", "Live measuring: qualified people"),
    ("6 How long", "may start by itself"),
    ("6 How long", "Never hold, tape or bridge the reset button"),
    ("6 How long", "motor winding may cool far slower"),
    ("6 How long", "Never raise the rating to stop the tripping."),
];

fn assert_screen(diagnosis: &Diagnosis, case: &Case) {
    let screen = diagnosis_screen(diagnosis, case);
    let lines = screen.lines().count();
    assert!(lines <= LINES, "{lines} lines\n{screen}");
    for line in screen.lines() {
        assert!(line.chars().count() <= COLUMNS, "{line}\n{screen}");
    }
    let text = as_read(&screen);
    for (heading, caution) in CAUTIONS {
        let at = text
            .find(heading)
            .unwrap_or_else(|| panic!("{heading}\n{screen}"));
        assert!(text[at..].contains(caution), "{caution}\n{screen}");
        assert_eq!(text.matches(caution).count(), 1, "{caution}\n{screen}");
    }
    for part in [
        "2 What is wrong?",
        &verdict_words(diagnosis.verdict).to_uppercase(),
        "Base rule, provisional:",
        "3 What to do now 1.",
        "4 Why",
        "curve, local rules prevail",
        "seed 7",
        "--full",
    ] {
        assert!(text.contains(part), "{part}\n{screen}");
    }
    let asks = diagnosis.next.first().is_some_and(|n| n.trips_used > 0.0);
    let times_the_new_part = diagnosis.verdict == Verdict::ReplaceTheProtector;
    assert_eq!(
        text.contains("Force a trip only with the part removed"),
        asks || times_the_new_part,
        "{screen}"
    );
}

#[test]
fn it_fits_and_carries_every_caution() {
    for (diagnosis, case) in [worn(), unsure(), late()] {
        assert_screen(&diagnosis, &case);
    }
}

/// The same for the cases that are shipped, by the real inference.
#[test]
fn shipped_cases_fit_and_carry_every_caution() {
    let mut seen = 0;
    for entry in std::fs::read_dir("scenarios/cases").unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|e| e != "toml") {
            continue;
        }
        let case = relatch::internals::evidence::read(&path).unwrap();
        let diagnosis = relatch::internals::diagnose::diagnose(&case, 7).unwrap();
        assert_screen(&diagnosis, &case);
        if let Some(folder) = std::env::var_os("WORK_ORDERS") {
            let name = path.file_stem().unwrap().to_string_lossy().into_owned();
            let path = std::path::Path::new(&folder).join(format!("{name}.screen.txt"));
            std::fs::write(path, diagnosis_screen(&diagnosis, &case)).unwrap();
        }
        seen += 1;
    }
    assert!(seen >= 9);
}

/// However much was seen, nothing runs off the screen but what a person at the machine must be told.
#[test]
fn a_case_with_far_too_much_text_is_cut() {
    let (diagnosis, case) = crowded();
    let screen = diagnosis_screen(&diagnosis, &case);
    assert!(screen.lines().count() <= 48, "{screen}");
    assert!(
        screen.lines().all(|l| l.chars().count() <= COLUMNS),
        "{screen}"
    );
    let text = as_read(&screen);
    for (_, caution) in CAUTIONS {
        assert!(text.contains(caution), "{caution}\n{screen}");
    }
    assert!(
        text.contains("These do not go together (3 more)"),
        "{screen}"
    );
}

/// What must stand there takes the place of evidence before it runs off the screen.
#[test]
fn evidence_gives_way_to_what_must_be_said() {
    let (mut diagnosis, case) = worn();
    let long = "a sentence that goes on and on, as people write when they have seen a great deal and want to say all";
    let count = |screen: &str| screen.lines().filter(|l| l.starts_with("   * ")).count();
    assert_eq!(count(&diagnosis_screen(&diagnosis, &case)), 3);
    diagnosis.contradictions = late().0.contradictions;
    diagnosis.next[0].how = long.repeat(3);
    let outcome = diagnosis.next[0].outcomes[0].clone();
    diagnosis.next[0].outcomes.push(outcome);
    diagnosis
        .evidence
        .iter_mut()
        .for_each(|e| e.sentence = long.repeat(2));
    let screen = diagnosis_screen(&diagnosis, &case);
    assert!(screen.lines().count() <= LINES, "{screen}");
    assert!((1..3).contains(&count(&screen)), "{screen}");
    assert_screen(&diagnosis, &case);
}

#[test]
fn a_part_that_may_be_late_comes_before_everything_else() {
    let (diagnosis, case) = late();
    let screen = diagnosis_screen(&diagnosis, &case);
    let loud = screen.find("!! LATE OR NO TRIP").expect("the loudest line");
    assert!(loud < screen.find("1  May it").unwrap(), "{screen}");
    assert!(screen.contains("NO - do not reset"));
    assert!(as_read(&screen).contains("No number: do not reset."));
}

#[test]
fn nothing_told_yet_is_not_told_as_sure() {
    let (diagnosis, case) = unsure();
    let screen = diagnosis_screen(&diagnosis, &case);
    assert!(
        screen.contains("(most probable so far, overload: 55 %)"),
        "{screen}"
    );
    assert!(!screen.contains(" sure"), "{screen}");
}

/// Every number of the screen stands in the long form as well: the screen computes nothing.
#[test]
fn the_screen_has_no_number_of_its_own() {
    for (diagnosis, case) in [worn(), unsure(), late()] {
        let (screen, full) = (
            diagnosis_screen(&diagnosis, &case),
            diagnosis_text(&diagnosis),
        );
        let numbers = |text: &str| -> Vec<String> {
            text.split(|c: char| !(c.is_ascii_digit() || c == '.'))
                .map(|n| n.trim_matches('.').to_owned())
                .filter(|n| n.len() > 1)
                .collect()
        };
        let known = numbers(&full);
        for number in numbers(&screen) {
            assert!(known.contains(&number), "{number}\n{screen}\n{full}");
        }
    }
}

/// What speaks about a joint is shown for a joint, wherever it stands in the case.
#[test]
fn the_evidence_that_bears_on_the_verdict_is_chosen() {
    let path = std::path::Path::new("scenarios/cases/03-sister-bakery.toml");
    let case = relatch::internals::evidence::read(path).unwrap();
    let (mut diagnosis, _) = worn();
    diagnosis.verdict = Verdict::ReMakeTheConnection;
    diagnosis.causes[0].cause = relatch::internals::diagnose::Cause::BadConnection;
    let label = |label: &str| relatch::internals::diagnose::EvidenceLine {
        label: label.into(),
        sentence: "a sentence".into(),
    };
    diagnosis.evidence = case
        .readings
        .iter()
        .map(|r| label(&r.label))
        .chain(case.air.iter().map(|a| label(&a.label)))
        .chain(case.drops.iter().map(|d| label(&d.label)))
        .chain(case.terminals.iter().map(|t| label(&t.label)))
        .chain(case.events.iter().map(|e| label(&e.label)))
        .collect();
    let screen = diagnosis_screen(&diagnosis, &case);
    for shown in [
        &case.drops[0].label,
        &case.terminals.as_ref().unwrap().label,
    ] {
        assert!(screen.contains(shown.as_str()), "{shown}\n{screen}");
    }
    assert!(!screen.contains(&case.events[0].label), "{screen}");
    // Where nothing of the record is known to the case, its order decides.
    let (diagnosis, case) = worn();
    let screen = diagnosis_screen(&diagnosis, &case);
    assert!(screen.contains("trip 3: 40 A on the bench"), "{screen}");
}

#[test]
fn texts_of_a_case_cannot_command_a_terminal() {
    let (mut diagnosis, case) = unsure();
    diagnosis.case = "a\u{1b}[2Jb".into();
    diagnosis.assumed = vec!["c\u{1b}]0;d".into()];
    diagnosis.next[0].outcomes[0].outcome = "e\u{9b}f".into();
    assert!(
        !diagnosis_screen(&diagnosis, &case)
            .chars()
            .any(|c| c.is_control() && c != '\n')
    );
}

#[test]
fn while_it_must_not_be_switched_on_the_screen_gives_no_wait() {
    let (diagnosis, case) = late();
    let waits = worn().0.waits;
    let screen = diagnosis_screen(&Diagnosis { waits, ..diagnosis }, &case);
    assert!(as_read(&screen).contains("Do not reset now."), "{screen}");
    assert!(!screen.contains("14 s"), "{screen}");
}
