//! A diagnosis with everything that a person at the machine may want to read.

use super::lines::{lines_of, say, together};
use crate::answer::Place;
use crate::diagnose::Diagnosis;
use crate::present::cautions::{Caution, diagnosis_cautions};
use crate::present::number::plain;
use crate::present::text::page::Page;
use crate::present::verdict::{
    actions, bar, cause_words, certainty, effort, in_words, lateness, percent, short_words,
    span_of_time, state_words, still_plausible, verdict_words, waits_remark,
};
use crate::present::words;

const BAR: usize = 20;
/// Causes that get a bar.
const BARS: usize = 4;
/// Letters that the base rule's sentence may fill.
const BASE_RULE: usize = 220;
/// Lines that the evidence may fill; the rest stands in the work order.
const EVIDENCE_LINES: usize = 8;

/// What a technician reads: may it be switched on, what is wrong and how sure that is, what to do now, why, what to
/// measure next, how long to wait. At most 100 columns wide; long lists are cut and say so.
///
/// The record it renders is filled by [`diagnose`](crate::diagnose).
pub fn diagnosis_text(diagnosis: &Diagnosis) -> String {
    let cautions = diagnosis_cautions(diagnosis);
    let mut page = Page::default();
    head(&mut page, diagnosis);
    energise(&mut page, diagnosis, &cautions);
    verdict(&mut page, diagnosis);
    do_now(&mut page, diagnosis);
    evidence(&mut page, diagnosis);
    next(&mut page, diagnosis, &cautions);
    waits(&mut page, diagnosis, &cautions);
    end(&mut page, diagnosis, &cautions);
    page.finish()
}

fn head(page: &mut Page, diagnosis: &Diagnosis) {
    say(page, "", &diagnosis.case, 2);
    let about = format!(
        "{} | {} A protector, rating stated for {} °C",
        diagnosis.equipment,
        plain(diagnosis.rated_current_a),
        plain(diagnosis.reference_ambient_c)
    );
    say(page, "", &about, 2);
    if let Some(text) = lateness(diagnosis) {
        page.blank();
        say(page, "!! ", &text, 3);
    }
}

fn energise(page: &mut Page, diagnosis: &Diagnosis, cautions: &[Caution]) {
    let answer = words::energise(&diagnosis.energise);
    page.heading(&format!("1  May it be switched on again?   {answer}"));
    say(page, "   ", &words::energise_text(&diagnosis.energise), 4);
    together(page, "!  ", cautions, &[Place::Top]);
}

fn verdict(page: &mut Page, diagnosis: &Diagnosis) {
    let verdict = verdict_words(diagnosis.verdict).to_uppercase();
    page.heading(&format!("2  What is wrong?   {verdict}"));
    let (words, probability) = certainty(diagnosis);
    page.push(format!(
        "   {words} {} {}",
        bar(probability, BAR),
        percent(probability)
    ));
    say(page, "   ", &diagnosis.sentence, 4);
    let base = format!(
        "{} \"Not shown to be below the rating\" is not \"above the rating\".",
        shortened(&diagnosis.base_rule.sentence, BASE_RULE)
    );
    say(page, "   Base rule, provisional: ", &base, 5);
}

fn do_now(page: &mut Page, diagnosis: &Diagnosis) {
    page.heading("3  What to do now");
    for (k, step) in actions(diagnosis).iter().enumerate() {
        say(page, &format!("   {}. ", k + 1), step, 3);
    }
}

fn evidence(page: &mut Page, diagnosis: &Diagnosis) {
    page.heading("4  What speaks for it   (causes can come together)");
    let mut shown = 0;
    let (mut less, mut below) = (Vec::new(), Vec::new());
    for share in &diagnosis.causes {
        let probability = percent(share.probability);
        if !still_plausible(diagnosis).any(|s| s == share) {
            below.push(short_words(share.cause));
        } else if shown < BARS {
            shown += 1;
            let name = cause_words(share.cause);
            page.push(format!(
                "   {name:<40} {} {probability}",
                bar(share.probability, BAR)
            ));
        } else {
            less.push(format!("{} {probability}", short_words(share.cause)));
        }
    }
    if !less.is_empty() {
        say(
            page,
            "   Less probable: ",
            &format!("{}.", less.join("; ")),
            2,
        );
    }
    if !below.is_empty() {
        say(page, "   Below 1 %: ", &format!("{}.", in_words(&below)), 2);
    }
    for clash in &diagnosis.contradictions {
        let text = format!(
            "\"{}\" against \"{}\": {}",
            clash.one, clash.other, clash.sentence
        );
        say(page, "!  These do not go together: ", &text, 3);
    }
    let mut left = EVIDENCE_LINES;
    let mut shown = 0;
    for line in &diagnosis.evidence {
        let lines = lines_of("   * ", &format!("{}: {}", line.label, line.sentence), 2);
        if lines.len() > left {
            break;
        }
        left -= lines.len();
        shown += 1;
        lines.into_iter().for_each(|line| page.push(line));
    }
    let more = diagnosis.evidence.len() - shown;
    if more > 0 {
        page.push(format!("   … and {more} more, in the work order."));
    }
    if !diagnosis.ruled_out.is_empty() {
        say(page, "   Still open: ", &diagnosis.ruled_out.join(" "), 3);
    }
    let state = state_words(&diagnosis.state);
    if !state.is_empty() {
        say(page, "   As it now seems: ", &state, 3);
    }
}

fn next(page: &mut Page, diagnosis: &Diagnosis, cautions: &[Caution]) {
    let Some(best) = diagnosis.next.first() else {
        page.heading("5  What to measure next?   Nothing more would change what to do.");
        return;
    };
    page.heading("5  What to measure next?");
    together(page, "!  ", cautions, &[Place::Measuring]);
    if best.trips_used > 0.0 {
        together(page, "!  ", cautions, &[Place::Testing]);
    }
    say(
        page,
        "   ",
        &format!("{} ({}).", best.what, effort(best)),
        2,
    );
    say(page, "   ", &best.how, 3);
    for outcome in best.outcomes.iter().take(3) {
        let probability = percent(outcome.probability);
        let text = format!("{} ({probability}): {}", outcome.outcome, outcome.meaning);
        say(page, "   -> ", &text, 3);
    }
}

fn waits(page: &mut Page, diagnosis: &Diagnosis, cautions: &[Caution]) {
    page.heading("6  How long to wait after a trip?   (counted from open contacts)");
    together(
        page,
        "!  ",
        cautions,
        &[Place::BeforeWaits, Place::BesideWaits],
    );
    if let Some(remark) = waits_remark(diagnosis) {
        say(page, "   ", remark, 2);
    }
    let Some(waits) = &diagnosis.waits else {
        return;
    };
    let reset = waits.reset_s.as_ref().and_then(span_of_time);
    let start = waits.start_s.as_ref().and_then(span_of_time);
    if reset == start {
        if let Some(told) = reset {
            page.push(format!(
                "   The latch holds, and the machine can be started, after {told}"
            ));
        }
    } else {
        let rows = [
            ("The latch holds again after", reset),
            ("The machine can be started after", start),
        ];
        for (name, told) in rows {
            if let Some(told) = told {
                page.push(format!("   {name:<34}{told}"));
            }
        }
    }
    say(page, "   ", &waits.sentence, 3);
}

fn end(page: &mut Page, diagnosis: &Diagnosis, cautions: &[Caution]) {
    page.blank();
    together(page, "!  ", cautions, &[Place::End]);
    if !diagnosis.assumed.is_empty() {
        let assumed = format!("{}.", diagnosis.assumed.join("; "));
        say(page, "Assumed: ", &assumed, 3);
    }
    let made = format!(
        "relatch {}, seed {}. {}",
        diagnosis.version, diagnosis.seed, diagnosis.computed_with
    );
    say(page, "", &made, 2);
}

/// A text cut to so many letters.
fn shortened(text: &str, letters: usize) -> String {
    match text.char_indices().nth(letters) {
        Some((end, _)) => format!("{} …", text[..end].trim_end()),
        None => text.to_owned(),
    }
}
