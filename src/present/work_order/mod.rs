//! A diagnosis as a work order: one printed sheet, A4 or Letter, with what was found and lines to fill in by hand.
//!
//! The sheet keeps its order: whether it may be switched on, the verdict, what to do, the evidence, the next
//! measurement, the figure, assumptions, replacement, times before and after, cautions. What does not fit on it
//! stands in full on a second sheet, and the first says so.

mod fit;
mod forms;
mod known;
mod reasons;
mod top;

use super::block::{Block, html_page_with};
use super::cautions::{Caution, diagnosis_cautions, never_raise};
use super::html::escape;
use crate::answer::Place;
use crate::diagnose::Diagnosis;
use crate::evidence::Case;
use fit::{HALF, Rest, WHOLE, lines_on_paper};

const STYLE: &str = include_str!("sheet.css");

/// Lines that the sheet has for what differs from case to case, on Letter (the lower of the two) in a wide font.
const LINES: f64 = 70.5;
/// Lines of the figure with its heading and caption.
const FIGURE_LINES: f64 = 21.0;
/// Shares of the usual room that texts get, until the sheet holds them.
const SHARES: [f64; 6] = [1.0, 0.8, 0.65, 0.5, 0.35, 0.25];

/// The work order of a case as one self-contained HTML page, to be printed. No script, nothing loaded from elsewhere;
/// every text of the case is escaped.
pub fn work_order(diagnosis: &Diagnosis, case: &Case) -> String {
    let cautions = diagnosis_cautions(diagnosis);
    let figure = reasons::figure(diagnosis);
    let mut sheet = Sheet::new(diagnosis, case, &cautions, &figure, 1.0);
    for share in &SHARES[1..] {
        if sheet.lines <= LINES {
            break;
        }
        sheet = Sheet::new(diagnosis, case, &cautions, &figure, *share);
    }
    let mut blocks = vec![
        Block::title(&sheet.title, &sheet.subtitle),
        Block::Markup(format!("<div class=\"order\">\n{}</div>\n", sheet.html)),
    ];
    second_sheet(&mut blocks, &sheet.rest);
    html_page_with(&blocks, STYLE)
}

/// The first sheet.
struct Sheet {
    title: String,
    subtitle: String,
    html: String,
    /// About how many lines differ from case to case.
    lines: f64,
    rest: Rest,
}

impl Sheet {
    fn new(
        diagnosis: &Diagnosis,
        case: &Case,
        cautions: &[Caution],
        figure: &str,
        share: f64,
    ) -> Self {
        let mut rest = Rest::with_share(share);
        let rest_of = &mut rest;
        let title = format!(
            "Work order: {}",
            rest_of.sentence("Case", &diagnosis.case, 80)
        );
        let subtitle = rest_of.sentence("Machine", &known::heading(diagnosis), 120);
        let energise = top::energise(diagnosis, case, cautions, rest_of);
        let pairs = [
            (
                "top",
                top::verdict(diagnosis, rest_of),
                top::do_now(diagnosis),
            ),
            (
                "reasons",
                reasons::evidence(diagnosis, rest_of),
                reasons::causes(diagnosis, rest_of),
            ),
            (
                "next",
                reasons::next(diagnosis, cautions, rest_of),
                figure.to_owned(),
            ),
            (
                "data",
                reasons::wrong(diagnosis, rest_of),
                reasons::data(diagnosis, case, rest_of),
            ),
        ];
        let mut lines = lines_on_paper(&energise, WHOLE);
        let mut html = top::head_lines() + &energise;
        for (name, left, right) in pairs {
            let right_lines = match name {
                "next" => FIGURE_LINES,
                _ => lines_on_paper(&right, HALF),
            };
            lines += lines_on_paper(&left, HALF).max(right_lines);
            html += &format!("<div class=\"pair {name}\">\n{left}{right}</div>\n");
        }
        html += &forms::replacement(diagnosis, case, rest_of);
        html += &forms::times(case);
        let end = end(diagnosis, cautions, &mut rest);
        lines += lines_on_paper(&end, WHOLE);
        html += &end;
        Self {
            title,
            subtitle,
            html,
            lines,
            rest,
        }
    }
}

/// What is still to be said, the model, the signatures.
fn end(diagnosis: &Diagnosis, cautions: &[Caution], rest: &mut Rest) -> String {
    // The one about the rating stands beside the new part.
    let is_told = |c: &&Caution| c.text == never_raise();
    let others: Vec<Caution> = cautions.iter().filter(|c| !is_told(c)).cloned().collect();
    let cautions = texts(&others, &[Place::End]);
    let made = rest.sentence("How it was computed", &diagnosis.computed_with, 300);
    let continued = if rest.sections().is_empty() {
        ""
    } else {
        " <b>Continued on sheet 2.</b>"
    };
    format!(
        "<p class=\"small\"><b>Cautions.</b> {}</p>\n<p class=\"small\"><b>How it was computed.</b> {} relatch {}, seed \
         {}.{continued}</p>\n{}",
        escape(&cautions),
        escape(&made),
        escape(&diagnosis.version),
        diagnosis.seed,
        forms::signatures()
    )
}

/// The cautions of these places, one behind the other.
fn texts(cautions: &[Caution], places: &[Place]) -> String {
    let texts: Vec<&str> = cautions
        .iter()
        .filter(|c| places.contains(&c.place))
        .map(|c| c.text.as_str())
        .collect();
    texts.join(" ")
}

fn second_sheet(blocks: &mut Vec<Block>, rest: &Rest) {
    if rest.sections().is_empty() {
        return;
    }
    blocks.push(Block::NewSheet);
    blocks.push(Block::Markup("<div class=\"second\">\n".to_owned()));
    blocks.push(Block::heading("Sheet 2: in full what did not fit"));
    for (heading, items) in rest.sections() {
        blocks.push(Block::subheading(heading));
        blocks.push(Block::list(items));
    }
    blocks.push(Block::Markup("</div>\n".to_owned()));
}
