//! The screen: may it be switched on, what is wrong, what to do now; its order and its two ends.

use super::lines::{one_line, say, together};
use super::screen_why::Room;
use super::{screen_next, screen_why};
use crate::answer::Place;
use crate::diagnose::{Diagnosis, Energise, Verdict};
use crate::evidence::Case;
use crate::present::cautions::Caution;
use crate::present::cautions_brief::brief_cautions;
use crate::present::number::plain;
use crate::present::text::page::Page;
use crate::present::verdict::{actions, certainty, lateness, log_line, percent, verdict_words};
use crate::present::words;

/// Logs that get a line of their own.
const LOGS: usize = 2;

/// Lines of the screen.
const LINES: usize = 40;

/// Less and less, until the screen holds everything that must stand on it.
const ROOMS: [Room; 4] = [
    Room {
        pieces: 3,
        lines: 2,
    },
    Room {
        pieces: 3,
        lines: 1,
    },
    Room {
        pieces: 2,
        lines: 1,
    },
    Room {
        pieces: 1,
        lines: 1,
    },
];

/// What a technician reads in ten seconds, at most 40 lines of 100 columns: may it be switched on, what is wrong and
/// how sure that is, what to do now, the evidence that bears most on it, the one next measurement, the waits. Each
/// caution stands where it is needed, once and tersely. What is left out stands in
/// [`diagnosis_text`](super::diagnosis_text), and the last line says so.
pub fn diagnosis_screen(diagnosis: &Diagnosis, case: &Case) -> String {
    let mut text = String::new();
    for room in &ROOMS {
        text = in_room(diagnosis, case, room);
        if text.lines().count() <= LINES {
            break;
        }
    }
    text
}

fn in_room(diagnosis: &Diagnosis, case: &Case, room: &Room) -> String {
    let cautions = brief_cautions(diagnosis);
    let mut page = Page::default();
    head(&mut page, diagnosis, case);
    energise(&mut page, diagnosis, &cautions);
    verdict(&mut page, diagnosis);
    do_now(&mut page, diagnosis);
    page.blank();
    screen_why::why(&mut page, diagnosis, case, room);
    page.blank();
    screen_next::next(&mut page, diagnosis, &cautions);
    screen_next::waits(&mut page, diagnosis, &cautions);
    end(&mut page, diagnosis, &cautions);
    page.finish()
}

fn head(page: &mut Page, diagnosis: &Diagnosis, case: &Case) {
    page.push(one_line("", &diagnosis.case));
    let about = format!(
        "{} | {} A protector, rating stated for {} °C",
        diagnosis.equipment,
        plain(diagnosis.rated_current_a),
        plain(diagnosis.reference_ambient_c)
    );
    page.push(one_line("", about.trim_start_matches(" | ")));
    for log in case.logs.iter().take(LOGS) {
        say(page, "Log ", &log_line(log), 2);
    }
    if case.logs.len() > LOGS {
        page.push(format!("… and {} more logs.", case.logs.len() - LOGS));
    }
    if let Some(text) = lateness(diagnosis) {
        say(page, "!! ", &text, 2);
    }
    page.blank();
}

fn energise(page: &mut Page, diagnosis: &Diagnosis, cautions: &[Caution]) {
    let answer = words::energise(&diagnosis.energise);
    page.push(format!("1  May it be switched on again?   {answer}"));
    // Where it may be, the caution says what the sentence says.
    if diagnosis.energise != Energise::Yes {
        say(page, "   ", &words::energise_text(&diagnosis.energise), 2);
    }
    together(page, "!  ", cautions, &[Place::Top]);
}

fn verdict(page: &mut Page, diagnosis: &Diagnosis) {
    let verdict = verdict_words(diagnosis.verdict).to_uppercase();
    let sure = match diagnosis.verdict {
        Verdict::NotEnoughEvidence => {
            let (words, probability) = certainty(diagnosis);
            format!("({} {})", lowered(&words), percent(probability))
        }
        _ => format!("({} sure)", percent(diagnosis.confidence)),
    };
    page.push(one_line(
        "2  What is wrong?   ",
        &format!("{verdict} {sure}"),
    ));
    // Where it may not be switched on, the reason for that says what the verdict says; where something can be done,
    // the steps below say the rest.
    let sentence = match diagnosis.verdict {
        Verdict::NotEnoughEvidence => &diagnosis.sentence,
        _ => first_sentence(&diagnosis.sentence),
    };
    if !matches!(diagnosis.energise, Energise::No { .. }) {
        say(page, "   ", sentence, 2);
    }
    page.push(one_line(
        "   Base rule, provisional: ",
        &diagnosis.base_rule.sentence,
    ));
}

fn do_now(page: &mut Page, diagnosis: &Diagnosis) {
    page.push("3  What to do now".to_owned());
    for (k, step) in actions(diagnosis).iter().enumerate() {
        say(page, &format!("   {}. ", k + 1), step, 2);
    }
}

fn end(page: &mut Page, diagnosis: &Diagnosis, cautions: &[Caution]) {
    together(page, "!  ", cautions, &[Place::End]);
    if !diagnosis.assumed.is_empty() {
        page.push(one_line("Assumed: ", &diagnosis.assumed.join("; ")));
    }
    page.push(one_line(
        "",
        &format!(
            "relatch {}, seed {}. Every reason, state and caution in full: add --full",
            diagnosis.version, diagnosis.seed
        ),
    ));
}

/// Up to the first end of a sentence.
fn first_sentence(text: &str) -> &str {
    text.find(". ").map_or(text, |end| &text[..=end])
}

/// With a small first letter, behind an opening bracket.
fn lowered(text: &str) -> String {
    let mut letters = text.chars();
    match letters.next() {
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => String::new(),
    }
}
