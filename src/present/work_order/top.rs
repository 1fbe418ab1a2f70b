//! Head of the sheet: may it be switched on, the verdict, what to do.

use super::fit::Rest;
use super::known::sign_words;
use super::texts;
use crate::answer::Place;
use crate::diagnose::{Diagnosis, Energise};
use crate::evidence::Case;
use crate::present::cautions::Caution;
use crate::present::html::escape;
use crate::present::verdict::{actions, certainty, in_words, lateness, percent, verdict_words};
use crate::present::words;

/// A name and a line to write on.
pub(super) fn ruled(name: &str) -> String {
    format!(
        "<span class=\"fill\"><span>{}</span><i></i></span>",
        escape(name)
    )
}

/// Number, machine, date.
pub(super) fn head_lines() -> String {
    format!(
        "<div class=\"lines\">{}{}{}</div>\n",
        ruled("Order no."),
        ruled("Machine tag / place"),
        ruled("Date")
    )
}

/// The box that is read first.
pub(super) fn energise(
    diagnosis: &Diagnosis,
    case: &Case,
    cautions: &[Caution],
    rest: &mut Rest,
) -> String {
    let kind = if diagnosis.energise == Energise::Yes {
        "may"
    } else {
        "stop"
    };
    let mut out = format!(
        "<section class=\"energise {kind}\">\n<h2>1 May it be switched on again? <strong>{}</strong></h2>\n",
        escape(words::energise(&diagnosis.energise))
    );
    if let Some(text) = lateness(diagnosis) {
        out += &format!("<p class=\"loud\">{}</p>\n", escape(&text));
    }
    let sentence = rest.sentence(
        "May it be switched on",
        &words::energise_text(&diagnosis.energise),
        330,
    );
    out += &format!("<p><b>{}</b></p>\n", escape(&sentence));
    if !case.signs.is_empty() {
        let signs: Vec<&str> = case.signs.iter().map(|s| sign_words(*s)).collect();
        out += &format!("<p>Seen: <b>{}</b>.</p>\n", escape(&in_words(&signs)));
    }
    out + &format!(
        "<p class=\"small\">{}</p>\n</section>\n",
        escape(&texts(cautions, &[Place::Top]))
    )
}

/// The verdict, how sure, and what the base rule alone would say.
pub(super) fn verdict(diagnosis: &Diagnosis, rest: &mut Rest) -> String {
    let sentence = rest.sentence("Verdict", &diagnosis.sentence, 380);
    let (words, probability) = certainty(diagnosis);
    let base = rest.sentence("Base rule", &diagnosis.base_rule.sentence, 220);
    format!(
        "<section>\n<h2>2 What is wrong?</h2>\n<p class=\"verdict\">{}</p>\n<p>{} {} <b>{}</b></p>\n<p>{}</p>\n<p class=\"small\"><b>Base rule, provisional.</b> {} &quot;Not shown to be below the \
         rating&quot; is not &quot;above the rating&quot;.</p>\n</section>\n",
        escape(verdict_words(diagnosis.verdict)),
        escape(&words),
        bar(probability, 38.0),
        percent(probability),
        escape(&sentence),
        escape(&base)
    )
}

/// What to do, in steps.
pub(super) fn do_now(diagnosis: &Diagnosis) -> String {
    let steps: String = actions(diagnosis)
        .iter()
        .map(|step| format!("<li>{}</li>\n", escape(step)))
        .collect();
    format!("<section>\n<h2>3 What to do now</h2>\n<ol>\n{steps}</ol>\n</section>\n")
}

/// A probability as a drawn bar: printed even where backgrounds are not. The number stands beside it.
pub(super) fn bar(probability: f64, width_mm: f64) -> String {
    let share = if probability.is_finite() {
        probability.clamp(0.0, 1.0)
    } else {
        0.0
    };
    format!(
        "<svg class=\"bar\" viewBox=\"0 0 100 8\" preserveAspectRatio=\"none\" style=\"width:{width_mm:.0}mm\" \
         aria-hidden=\"true\"><rect x=\"0.5\" y=\"0.5\" width=\"99\" height=\"7\"/><rect class=\"full\" x=\"0.5\" \
         y=\"0.5\" width=\"{:.1}\" height=\"7\"/></svg>",
        99.0 * share
    )
}
