//! Evidence, causes, the next measurement, the figure, what would prove it wrong, the data behind it.

use super::fit::{HALF, Rest, ended, lines_of, shortened};
use super::known::facts;
use super::texts;
use super::top::bar;
use crate::answer::Place;
use crate::diagnose::{Diagnosis, EvidenceLine};
use crate::evidence::Case;
use crate::present::cautions::Caution;
use crate::present::html::{escape, inline};
use crate::present::plot::diagnosis_figure;
use crate::present::verdict::{
    cause_words, effort, in_words, percent, short_words, span_of_time, state_words,
    still_plausible, waits_remark,
};

/// Letters a line in the columns of the sheet, with room for wide fonts.
const LABEL: usize = 24;
const SAYS: usize = 48;
/// Lines of the table of evidence.
const EVIDENCE_LINES: usize = 15;

/// Each piece of evidence with its number, and those that do not go together.
pub(super) fn evidence(diagnosis: &Diagnosis, rest: &mut Rest) -> String {
    let mut out = "<section>\n<h2>4 Evidence</h2>\n".to_owned();
    let clash = |c: &crate::diagnose::Contradiction| {
        format!("“{}” against “{}”: {}", c.one, c.other, c.sentence)
    };
    let clashes: Vec<String> = diagnosis.contradictions.iter().map(clash).collect();
    let clashes = rest.fit("Evidence that does not go together", &clashes, HALF, 5);
    for text in &clashes {
        out += &format!(
            "<p class=\"clash\"><b>These do not go together:</b> {}</p>\n",
            escape(text)
        );
    }
    let mut left = rest.room(EVIDENCE_LINES).saturating_sub(clashes.len());
    let needs =
        |line: &EvidenceLine| lines_of(&line.label, LABEL).max(lines_of(&line.sentence, SAYS));
    let mut is_cut = false;
    let mut rows = String::new();
    for (k, line) in diagnosis.evidence.iter().enumerate() {
        if left == 0 {
            is_cut = true;
            break;
        }
        let room = left.min(4);
        is_cut |= needs(line) > room;
        left -= needs(line).min(room);
        rows += &format!(
            "<tr><td>{}</td><th scope=\"row\">{}</th><td>{}</td></tr>\n",
            k + 1,
            escape(&shortened(&line.label, room * LABEL)),
            escape(&shortened(&line.sentence, room * SAYS))
        );
    }
    if is_cut {
        let told = |(k, line): (usize, &EvidenceLine)| {
            format!("{}. {}: {}", k + 1, line.label, line.sentence)
        };
        let all: Vec<String> = diagnosis.evidence.iter().enumerate().map(told).collect();
        rest.keep("Evidence", &all);
        rows += "<tr><td></td><th>all of it</th><td>on sheet 2</td></tr>\n";
    }
    if rows.is_empty() {
        out += "<p>None but the nameplate.</p>\n";
    } else {
        out += &format!(
            "<table class=\"seen\"><thead><tr><th scope=\"col\">#</th><th scope=\"col\">Seen</th><th \
             scope=\"col\">What it says</th></tr></thead>\n<tbody>\n{rows}</tbody></table>\n"
        );
    }
    out + "</section>\n"
}

/// The probability of every cause, and what was ruled out.
pub(super) fn causes(diagnosis: &Diagnosis, rest: &mut Rest) -> String {
    let mut out = "<section>\n<h2>Causes <span>(they can come together)</span></h2>\n<table class=\"causes\">\n".to_owned();
    let mut below = Vec::new();
    for share in &diagnosis.causes {
        if still_plausible(diagnosis).any(|s| s == share) {
            out += &format!(
                "<tr><th scope=\"row\">{}</th><td>{}</td><td>{}</td></tr>\n",
                escape(cause_words(share.cause)),
                bar(share.probability, 16.0),
                percent(share.probability)
            );
        } else {
            below.push(short_words(share.cause));
        }
    }
    out += "</table>\n";
    if !below.is_empty() {
        out += &format!(
            "<p class=\"small\"><b>Below 1 %:</b> {}.</p>\n",
            escape(&in_words(&below))
        );
    }
    let state = state_words(&diagnosis.state);
    if !state.is_empty() {
        out += &format!(
            "<p class=\"small\"><b>As it now seems:</b> {}</p>\n",
            escape(&state)
        );
    }
    let ruled: Vec<&String> = diagnosis
        .ruled_out
        .iter()
        .chain(&diagnosis.counterfactuals)
        .collect();
    let heading = "Ruled out, and what would have happened otherwise";
    let ruled = rest.joined(heading, &ruled, " ", 5 * HALF);
    if !ruled.is_empty() {
        out += &format!(
            "<p class=\"small\"><b>Still open:</b> {}</p>\n",
            escape(&ruled)
        );
    }
    out + "</section>\n"
}

/// The next measurement with its outcomes, and the waits.
pub(super) fn next(diagnosis: &Diagnosis, cautions: &[Caution], rest: &mut Rest) -> String {
    let mut out = "<section>\n<h2>5 Next measurement</h2>\n".to_owned();
    match diagnosis.next.first() {
        None => out += "<p>None: nothing more would change what to do.</p>\n",
        Some(best) => {
            let mut places = vec![Place::Measuring];
            if best.trips_used > 0.0 {
                places.push(Place::Testing);
            }
            out += &format!(
                "<p class=\"small\"><b>First:</b> {}</p>\n",
                escape(&texts(cautions, &places))
            );
            let how = rest.sentence("How to measure", &best.how, 260);
            out += &format!(
                "<p><b>{}</b> ({}). {}</p>\n<ul class=\"outcomes\">\n",
                escape(&rest.sentence("What to measure", &best.what, 130)),
                escape(&effort(best)),
                escape(&how)
            );
            for outcome in best.outcomes.iter().take(3) {
                let text = format!(
                    "{} (probability {}): {}",
                    outcome.outcome,
                    percent(outcome.probability),
                    outcome.meaning
                );
                let text = rest.sentence("What its outcomes would mean", &text, 210);
                out += &format!("<li><i class=\"tick\"></i>{}</li>\n", escape(&text));
            }
            out += "</ul>\n";
        }
    }
    out += "<h2>Waits after a trip</h2>\n";
    out += &format!(
        "<p class=\"small\">{}</p>\n",
        escape(&texts(cautions, &[Place::BeforeWaits, Place::BesideWaits]))
    );
    if let Some(remark) = waits_remark(diagnosis) {
        out += &format!("<p><b>{remark}</b></p>\n");
    }
    if let Some(waits) = &diagnosis.waits {
        let rows = [
            ("Latch holds again after", &waits.reset_s),
            ("Machine can be started after", &waits.start_s),
        ];
        for (name, range) in rows {
            if let Some(told) = range.as_ref().and_then(span_of_time) {
                out += &format!("<p>{name} <b>{}</b></p>\n", escape(&told));
            }
        }
        let sentence = rest.sentence("Waits", &waits.sentence, 200);
        out += &format!("<p class=\"small\">{}</p>\n", escape(&sentence));
    }
    out + "</section>\n"
}

/// The readings on the characteristic.
pub(super) fn figure(diagnosis: &Diagnosis) -> String {
    let drawn = match diagnosis_figure(diagnosis) {
        Some(figure) => format!(
            "<figure>{}<figcaption>Light, broken edges: 90 % of sound parts. Thick line: this part as it seems. \
             Squares: trips, bars of 90 %, numbered as the evidence; arrows: still closed. From cold, at the reference \
             air.</figcaption></figure>\n",
            inline(&figure.svg, "readings-")
        ),
        None => "<p>No timed reading to draw.</p>\n".to_owned(),
    };
    format!("<section>\n<h2>6 Readings on the characteristic</h2>\n{drawn}</section>\n")
}

/// What would prove the verdict wrong, and what cannot be told apart.
pub(super) fn wrong(diagnosis: &Diagnosis, rest: &mut Rest) -> String {
    let mut out = "<section>\n<h2>What would prove it wrong</h2>\n".to_owned();
    let items = rest.fit(
        "What would prove it wrong",
        &diagnosis.would_prove_wrong,
        HALF,
        4,
    );
    if items.is_empty() {
        out += "<p>Nothing is claimed yet.</p>\n";
    } else {
        let items: String = items
            .iter()
            .map(|i| format!("<li>{}</li>\n", escape(i)))
            .collect();
        out += &format!("<ul>\n{items}</ul>\n");
    }
    let heading = "What these readings cannot tell apart";
    let apart = rest.joined(heading, &diagnosis.cannot_tell_apart, " ", 3 * HALF);
    if !apart.is_empty() {
        out += &format!(
            "<p class=\"small\"><b>Cannot be told apart:</b> {}</p>\n",
            escape(&apart)
        );
    }
    out + "</section>\n"
}

/// What the case says, and what was assumed because it does not.
pub(super) fn data(diagnosis: &Diagnosis, case: &Case, rest: &mut Rest) -> String {
    let known = rest.joined("The part and its history", &facts(case), "; ", 3 * HALF);
    let mut assumed: Vec<&String> = Vec::new();
    for text in diagnosis.assumed.iter().chain(&case.assumed) {
        if !assumed.contains(&text) {
            assumed.push(text);
        }
    }
    let told = match rest.joined("Assumed", &assumed, "; ", 7 * HALF) {
        told if told.is_empty() => "nothing".to_owned(),
        told => told,
    };
    format!(
        "<section>\n<h2>7 Data and assumptions</h2>\n<p class=\"small\"><b>Known:</b> {}</p>\n<p \
         class=\"small\"><b>Assumed, because nothing was said:</b> {}</p>\n</section>\n",
        escape(&ended(&known)),
        escape(&ended(&told))
    )
}
