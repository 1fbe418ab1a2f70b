//! The screen: the evidence that bears most on the verdict, and the causes.

use super::lines::{one_line, say};
use crate::diagnose::Diagnosis;
use crate::evidence::Case;
use crate::present::text::page::Page;
use crate::present::verdict::{bar, percent, short_words, still_plausible, that_bear_most};

/// Causes that get a bar.
const BARS: usize = 2;
const BAR: usize = 10;

/// How much evidence is shown: pieces, and screen lines of each.
pub(super) struct Room {
    pub(super) pieces: usize,
    pub(super) lines: usize,
}

/// Evidence and causes.
pub(super) fn why(page: &mut Page, diagnosis: &Diagnosis, case: &Case, room: &Room) {
    let shown = that_bear_most(diagnosis, case, room.pieces);
    let all = diagnosis.evidence.len();
    let heading = if shown.len() < all {
        format!(
            "4  Why   (causes can come together; {} of {all} pieces of evidence)",
            shown.len()
        )
    } else {
        "4  Why   (causes can come together)".to_owned()
    };
    page.push(heading);
    causes(page, diagnosis);
    if let Some(clash) = diagnosis.contradictions.first() {
        let more = match diagnosis.contradictions.len() - 1 {
            0 => String::new(),
            n => format!(" ({n} more)"),
        };
        let text = format!("\"{}\" against \"{}\"", clash.one, clash.other);
        say(
            page,
            &format!("!  These do not go together{more}: "),
            &text,
            2,
        );
    }
    for line in &shown {
        say(
            page,
            "   * ",
            &format!("{}: {}", line.label, line.sentence),
            room.lines,
        );
    }
}

/// The first with their bars on a line, what is left in words.
fn causes(page: &mut Page, diagnosis: &Diagnosis) {
    let told: Vec<_> = still_plausible(diagnosis).collect();
    let mut row: Vec<String> = told
        .iter()
        .take(BARS)
        .map(|share| {
            format!(
                "{:<14} {} {:<10}",
                short_words(share.cause),
                bar(share.probability, BAR),
                percent(share.probability)
            )
        })
        .collect();
    let less: Vec<String> = told
        .iter()
        .skip(BARS)
        .map(|share| {
            format!(
                "{} {}",
                short_words(share.cause),
                percent(share.probability)
            )
        })
        .collect();
    let hidden = told.len() < diagnosis.causes.len();
    if less.is_empty() && hidden {
        row.push("others: below 1 %".to_owned());
    }
    page.push(format!("   {}", row.join("  ")));
    if !less.is_empty() {
        let others = if hidden { "; others: below 1 %" } else { "" };
        page.push(one_line(
            "   Also: ",
            &format!("{}{others}.", less.join(", ")),
        ));
    }
}
