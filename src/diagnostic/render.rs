//! Draws one problem with the lines it is about.

use super::Problem;
use annotate_snippets::{AnnotationKind, Level, Renderer, Snippet};
use std::ops::Range;

/// Lines longer than this are cut around the place.
const LONGEST_LINE: usize = 160;
/// Two places further apart than this many bytes are drawn as two excerpts.
const FAR: usize = 600;

pub(super) fn render(file_name: &str, text: &str, problem: &Problem) -> String {
    let mut group = Level::ERROR
        .primary_title(clean(&problem.message))
        .element(snippet(
            file_name,
            text,
            &problem.span,
            &problem.label,
            problem
                .also
                .as_ref()
                .filter(|(s, _)| !is_far(s, &problem.span)),
        ));
    if let Some((span, label)) = problem
        .also
        .as_ref()
        .filter(|(s, _)| is_far(s, &problem.span))
    {
        group = group.element(snippet(file_name, text, span, label, None));
    }
    for note in &problem.notes {
        group = group.element(Level::NOTE.message(clean(note)));
    }
    for help in &problem.help {
        group = group.element(Level::HELP.message(clean(help)));
    }
    Renderer::plain().render(&[group])
}

fn is_far(a: &Range<usize>, b: &Range<usize>) -> bool {
    a.start.abs_diff(b.start) > FAR
}

/// Only the lines in question are handed over: a file may be long, and a line may be.
fn snippet<'p>(
    file_name: &'p str,
    text: &str,
    span: &Range<usize>,
    label: &'p str,
    also: Option<&'p (Range<usize>, String)>,
) -> Snippet<'p, annotate_snippets::Annotation<'p>> {
    let span = within(text, span);
    let also = also.map(|(s, l)| (within(text, s), l.as_str()));
    let first = also
        .as_ref()
        .map_or(span.start, |(s, _)| s.start.min(span.start));
    let last = also.as_ref().map_or(span.end, |(s, _)| s.end.max(span.end));
    let window = lines(text, first..last);
    let line = 1 + text.as_bytes()[..window.start]
        .iter()
        .filter(|b| **b == b'\n')
        .count();
    let shift = |s: &Range<usize>| {
        let end = s.end.min(window.end).max(window.start) - window.start;
        (s.start.max(window.start) - window.start).min(end)..end
    };
    // Tabs and the like would move the caret.
    let source: String = text[window.clone()]
        .chars()
        .map(|c| {
            if c.is_control() && c != '\n' && c.len_utf8() == 1 {
                ' '
            } else {
                c
            }
        })
        .collect();
    let mut snippet = Snippet::source(source)
        .path(file_name)
        .line_start(line)
        .annotation(
            AnnotationKind::Primary
                .span(shift(&span))
                .label(clean(label)),
        );
    if let Some((s, l)) = also {
        snippet = snippet.annotation(AnnotationKind::Context.span(shift(&s)).label(clean(l)));
    }
    snippet
}

/// The span inside the text, on character boundaries and within its first line.
fn within(text: &str, span: &Range<usize>) -> Range<usize> {
    let start = floor(text, span.start.min(text.len()));
    let end = floor(text, span.end.clamp(start, text.len()));
    let line_end = text[start..]
        .find(['\n', '\r'])
        .map_or(text.len(), |n| start + n);
    start..end.min(line_end).max(start)
}

/// The whole lines around a span, long lines cut.
fn lines(text: &str, span: Range<usize>) -> Range<usize> {
    let start = text[..span.start].rfind('\n').map_or(0, |n| n + 1);
    let end = text[span.end..]
        .find(['\n', '\r'])
        .map_or(text.len(), |n| span.end + n);
    let start = start.max(floor(text, span.start.saturating_sub(LONGEST_LINE)));
    let end = end.min(floor(
        text,
        span.end.saturating_add(LONGEST_LINE).min(text.len()),
    ));
    start..end.max(start)
}

fn floor(text: &str, mut at: usize) -> usize {
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

/// Control characters of a file must not reach a terminal, nor a word of a thousand letters.
fn clean(s: &str) -> String {
    const LONGEST: usize = 400;
    let mut text: String = s
        .chars()
        .take(LONGEST)
        .map(|c| if c.is_control() { '\u{fffd}' } else { c })
        .collect();
    if s.chars().nth(LONGEST).is_some() {
        text.push_str("...");
    }
    text
}
