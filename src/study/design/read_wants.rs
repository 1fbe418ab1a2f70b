//! The `[[want]]` of targets.

use super::cost::Cost;
use super::outcome::End;
use super::targets::Document;
use super::want::{Want, Wanted};
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::quantity::Dimension;
use crate::scenario::{BarKind, Poles, Scenario};
use crate::standards::{self, LIMITS, PublishedLimits};

/// How near a value is wanted that is given without a window, as a share of it.
const NEAR: f64 = 0.01;

/// What is wanted, as it was read.
#[derive(Default)]
pub(super) struct Wants {
    pub(super) list: Vec<Want>,
    pub(super) documents: Vec<Document>,
    pub(super) cost: Option<Cost>,
}

/// A word behind `what`.
#[derive(Clone, Copy, PartialEq)]
enum What {
    Answer(Wanted),
    Limits,
}

/// Reads every `[[want]]`, for a scenario and its text.
pub(super) fn wants_of(tables: &[TableReader<'_>], of: (&str, &Scenario)) -> Wants {
    let mut wants = Wants::default();
    for t in tables {
        want_of(t, of, &mut wants);
    }
    let rated_a = of.1.protector.rated_current_a;
    for (number, document) in wants.documents.iter().enumerate() {
        wants
            .list
            .extend(Want::of_document(number, document, rated_a));
    }
    wants
}

/// One `[[want]]`.
fn want_of(t: &TableReader<'_>, (text, scenario): (&str, &Scenario), wants: &mut Wants) {
    if !t.has("what") {
        t.missing("what", "\"trip time\"");
    }
    let mut words: Vec<(&str, What)> = Vec::new();
    words.extend(Wanted::WORDS.map(|(word, wanted)| (word, What::Answer(wanted))));
    words.push(("published limits", What::Limits));
    let what = t.choice("what", &words).map(|read| read.value);
    let current = t.optional("current", Dimension::Current, Bounds::positive(1e6, ""));
    let multiple = t.optional(
        "of_rating",
        Dimension::Fraction,
        Bounds::positive(100.0, ""),
    );
    let aim = t.choice("aim", &[("least", End::Least), ("most", End::Most)]);
    let formula = t.text("formula", "\"0.2 + 0.03 strip.width[mm]\"");
    let names: Vec<(&str, &PublishedLimits)> = LIMITS.iter().map(|l| (l.name, l)).collect();
    let limits = t.choice("document", &names);
    for key in ["is", "within", "at_least", "at_most"] {
        t.has(key);
    }
    let dimension = match what {
        Some(What::Answer(wanted)) => wanted.dimension(),
        _ => Dimension::Fraction,
    };
    let end = |key| {
        t.optional(key, dimension, Bounds::ANY)
            .map(|read| read.value)
    };
    let is = what.and_then(|_| end("is"));
    let near = t.optional("within", Dimension::Fraction, Bounds::positive(1.0, ""));
    let (mut least, mut most) = match what {
        Some(_) => (end("at_least"), end("at_most")),
        None => (None, None),
    };
    t.finish();
    let wanted = match what {
        Some(What::Answer(wanted)) => wanted,
        Some(What::Limits) => {
            let named = limits.map(|read| read.value);
            wants
                .documents
                .extend(document_of(t, scenario, named, least));
            return;
        }
        None => return,
    };
    belongs(t, "document", "published limits");
    if wanted == Wanted::Cost {
        if !t.has("formula") {
            t.missing("formula", "\"0.2 + 0.03 strip.width[mm]\"");
        }
        let read = formula.and_then(|read| cost_of(t, &read.value, text));
        if wants.cost.is_some() {
            t.report(Problem::new(t.span_of("what"), "the cost is wanted twice").label("again"));
        }
        wants.cost = read;
    } else {
        belongs(t, "formula", "cost");
    }
    if let Some(is) = is {
        let near = near.map_or(NEAR, |near| near.value) * is.abs();
        (least, most) = (Some(is - near), Some(is + near));
    }
    let aim = aim.map(|read| read.value);
    let span = t.span_of("what");
    if least.is_none() && most.is_none() && aim.is_none() {
        let keys = ["is", "at_least", "at_most", "aim"];
        if !keys.iter().any(|key| t.has(key)) {
            t.report(Problem::new(span, "nothing is wanted of it").help(
                "give `is` (and `within`), `at_least`, `at_most` or both of these, or `aim`",
            ));
        }
        return;
    }
    if aim.is_some() && wants.list.iter().any(|want| want.aim.is_some()) {
        let what = "only one answer can go as far as the others let it";
        t.report(Problem::new(t.span_of("aim"), what).label("the second aim"));
        return;
    }
    if let (Some(low), Some(high)) = (least, most)
        && low >= high
    {
        t.report(
            Problem::new(t.span_of("at_most"), "no answer lies in this window")
                .also(t.span_of("at_least"), "not above this"),
        );
        return;
    }
    let current_a = match (current, multiple) {
        (Some(current), _) => Some(current.value),
        (None, Some(multiple)) => Some(multiple.value * scenario.protector.rated_current_a),
        (None, None) => None,
    };
    if current_a.is_some() && !wanted.is_under_current() {
        t.report(
            Problem::new(span, "this answer belongs to no current").help(
                "leave `current` and `of_rating` out; waits for a start are those under the \
                       load of the scenario",
            ),
        );
        return;
    }
    wants.list.push(Want {
        wanted,
        current_a,
        least,
        most,
        aim,
        limit: None,
        air_k: None,
    });
}

/// A key that belongs to another answer.
fn belongs(t: &TableReader<'_>, key: &'static str, to: &str) {
    if t.has(key) {
        let what = format!("`{key}` belongs to `what = \"{to}\"`");
        t.report(Problem::new(t.span_of(key), what).label("not here"));
    }
}

/// The formula of the cost, if it says something of the scenario as it is.
fn cost_of(t: &TableReader<'_>, formula: &str, scenario: &str) -> Option<Cost> {
    let inside = |problem: Problem| {
        let span = t.inside(t.span_of("formula"), formula, &problem.span);
        t.report(Problem { span, ..problem });
    };
    let cost = Cost::read(formula).map_err(|problems| problems.into_iter().for_each(inside));
    let cost = cost.ok()?;
    if let Some((path, span)) = cost.lacks(scenario) {
        let what = format!("the scenario does not give `{path}`");
        inside(Problem::new(span, what).label("no number stands there"));
        return None;
    }
    if cost.value(scenario).is_nan() {
        let what = "of the scenario as it is this is no cost";
        inside(Problem::new(0..0, what).label("not a number above zero"));
        return None;
    }
    Some(cost)
}

/// A document, and by which share of the units it is to be met.
fn document_of(
    t: &TableReader<'_>,
    scenario: &Scenario,
    named: Option<&'static PublishedLimits>,
    share: Option<f64>,
) -> Option<Document> {
    for key in [
        "current",
        "of_rating",
        "is",
        "within",
        "at_most",
        "aim",
        "formula",
    ] {
        if t.has(key) {
            let what = format!("`{key}` says nothing of published limits");
            let help = "a document is met by the part, or by `at_least = \"95 %\"` of its units";
            t.report(
                Problem::new(t.span_of(key), what)
                    .label("not here")
                    .help(help),
            );
            return None;
        }
    }
    let own = scenario.protector.limits.as_deref();
    let Some(name) = named.map(|l| l.name).or(own.filter(|_| !t.has("document"))) else {
        if !t.has("document") {
            t.missing("document", "\"IEC 60898-1 up to 32 A\"");
        }
        return None;
    };
    let limits = scenario.limits_of(name)?;
    let rated_a = scenario.protector.rated_current_a;
    if !limits.covers(rated_a) {
        let what = format!("these limits hold {}", standards::covered(limits.covers_a));
        let label = format!("the part is rated {rated_a} A");
        let at = if t.has("document") {
            "document"
        } else {
            "what"
        };
        t.report(Problem::new(t.span_of(at), what).label(label));
        return None;
    }
    if share.is_some_and(|share| !(0.0..=1.0).contains(&share) || share == 0.0) {
        let what = "a share of the units is more than 0 and at most 100 %";
        t.report(Problem::new(t.span_of("at_least"), what));
        return None;
    }
    let bar = |p: &Poles| (p.each.len(), p.bar == BarKind::Differential);
    let (poles, notices) = scenario.poles.as_ref().map_or((1, false), bar);
    Some(Document {
        limits,
        rows: limits.rows_for(poles, notices),
        share,
    })
}
