//! Cases as a technician would write them, with what was really wrong; `tests/field` says who made
//! them.
//!
//! `cargo test --release --test calibration field -- --ignored --nocapture` prints the table in
//! DEVELOPERS.md.

use crate::screens::assert_reads_well;
use relatch::internals::diagnose::{Action, Diagnosis, Energise, Verdict, diagnose};
use relatch::internals::evidence;
use serde_json::Value;
use std::path::Path;

/// What became of the cases of one level.
#[derive(Default)]
struct Tally {
    cases: usize,
    right: usize,
    partial: usize,
    wrong: usize,
    said: f64,
}

impl Tally {
    fn given(&self) -> usize {
        self.right + self.partial + self.wrong
    }

    fn add(&mut self, answer: Option<(&str, f64)>) {
        self.cases += 1;
        let Some((right, said)) = answer else { return };
        self.said += said;
        match right {
            "right" => self.right += 1,
            "partial" => self.partial += 1,
            _ => self.wrong += 1,
        }
    }

    fn print(&self, what: &str) {
        println!(
            "{what:<8} {:>5} {:>6} {:>7} {:>6} {:>11}   said {:.0} % of those given",
            self.cases,
            self.right,
            self.partial,
            self.wrong,
            self.cases - self.given(),
            100.0 * self.said / self.given().max(1) as f64
        );
    }
}

/// What is mended in the words of the truth: by name, in the order of the letters.
fn name(mend: &[Verdict]) -> String {
    let mut names: Vec<String> = mend
        .iter()
        .map(|v| {
            serde_json::to_value(v)
                .expect("JSON")
                .as_str()
                .expect("a name")
                .to_owned()
        })
        .collect();
    names.sort();
    names.join("+")
}

/// Whether what is said is right, and how sure it was said; `None`: it cannot tell.
fn answer<'t>(diagnosis: &Diagnosis, truth: &'t Value) -> Option<(&'t str, f64)> {
    let mend = match diagnosis.verdict {
        Verdict::NotEnoughEvidence => return None,
        Verdict::DoNotReEnergise => name(&[diagnosis.verdict]),
        _ => name(&diagnosis.mend),
    };
    let right = truth["rights"][&mend].as_str().unwrap_or("wrong");
    Some((right, diagnosis.confidence))
}

#[test]
#[ignore = "a minute: run with --release -- --ignored"]
fn verdicts_on_field_cases() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/field");
    let truths = std::fs::read_to_string(folder.join("truth.json")).expect("the truth");
    let truths: Value = serde_json::from_str(&truths).expect("JSON");
    let levels = ["rich", "usual", "poor"];
    let mut tallies: [Tally; 3] = Default::default();
    let mut all = Tally::default();
    let (mut misled, mut named, mut clean, mut accused) = (0, 0, 0, 0);
    let (mut held, mut plans, mut first_mends_right, mut yes_unsafe) = (0, 0, 0, Vec::new());
    for (case_name, truth) in truths.as_object().expect("cases") {
        let case = evidence::read(&folder.join(format!("{case_name}.toml")))
            .unwrap_or_else(|e| panic!("{case_name}: {e}"));
        let found = diagnose(&case, 1).expect("a diagnosis");
        assert_reads_well(&found, &case);
        let answer = answer(&found, truth);
        let level = levels
            .iter()
            .position(|l| truth["level"] == *l)
            .expect("a level");
        tallies[level].add(answer);
        all.add(answer);
        let is_named = !found.does_not_fit.is_empty();
        if truth["mislead"].is_null() {
            clean += 1;
            accused += usize::from(is_named);
        } else {
            misled += 1;
            named += usize::from(is_named);
        }
        let loss = truth["loss"].as_f64().expect("a loss");
        let range = found.state.preload_loss;
        held += usize::from((range.low - 1e-6..=range.high + 1e-6).contains(&loss));
        if let Some(step) = found.plan.first() {
            plans += 1;
            if let Action::Mend { mend, .. } = &step.action {
                // A late part is mended by another one: the truth calls that partial, for it asks
                // for the word that forbids to switch on.
                let is_late = truth["faults"].to_string().contains("late");
                let replaces = is_late && mend[..] == [Verdict::ReplaceTheProtector];
                let is_right = truth["rights"][&name(mend)] == "right";
                first_mends_right += usize::from(is_right || replaces);
            } else {
                first_mends_right += 1;
            }
        }
        let faults = truth["faults"].to_string();
        let burns_or_bare = faults.contains("joint") || faults.contains("late");
        if found.energise == Energise::Yes && burns_or_bare {
            yes_unsafe.push(case_name.clone());
        }
        println!(
            "{case_name:<14} {:?} {:.2} {:?} {:?}",
            answer.map(|a| a.0),
            found.confidence,
            found
                .does_not_fit
                .iter()
                .map(|m| &m.entry)
                .collect::<Vec<_>>(),
            found
                .causes
                .iter()
                .filter(|c| c.probability > 0.05)
                .map(|c| format!("{:?} {:.2}", c.cause, c.probability))
                .collect::<Vec<_>>()
        );
    }
    println!("         cases  right partial  wrong cannot tell");
    for (tally, level) in tallies.iter().zip(levels) {
        tally.print(level);
    }
    all.print("all");
    println!("wrong entries named: {named} of {misled}; clean cases accused: {accused} of {clean}");
    println!(
        "90 % interval of the lost preload holds the truth: {held} of {}",
        all.cases
    );
    println!("plans: {plans}, whose first step looks or mends rightly: {first_mends_right}");
    println!("YES with a joint that burns or a late part: {yes_unsafe:?}");
    assert_eq!(all.cases, 43);
    assert!(all.wrong <= 2, "{}", all.wrong);
    assert!(all.right >= 10, "{}", all.right);
    assert!(named >= 3 && accused <= 1, "{named} {accused}");
    assert!(yes_unsafe.is_empty(), "{yes_unsafe:?}");
}
