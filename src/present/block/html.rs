//! Blocks as a page, or as part of one.

use super::{Block, Field, Table, heading_of};
use crate::present::html::{escape, inline};
use crate::present::language::spoken;
use crate::present::number::percent;

/// Rows up to which a table is kept on one sheet of paper.
const SHORT: usize = 16;

/// The one style sheet of all pages.
const STYLE: &str = include_str!("../html/page.css");

/// A self-contained page of `blocks`: no script, nothing loaded from elsewhere, readable on a
/// screen (light and dark) and on A4 or Letter paper (always light). The first [`Block::Title`]
/// names it.
pub fn html_page(blocks: &[Block]) -> String {
    html_page_with(blocks, "")
}

/// The same, with a style sheet of its own on top of the common one.
pub(in crate::present) fn html_page_with(blocks: &[Block], style: &str) -> String {
    let title = blocks.iter().find_map(|block| match block {
        Block::Title(text, _) => Some(text.as_str()),
        _ => None,
    });
    let body = Body::default().blocks(blocks);
    format!(
        "<!DOCTYPE html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <meta name=\"color-scheme\" content=\"light dark\">\n\
         <title>{}</title>\n<style>\n{STYLE}{style}</style>\n</head>\n<body>\n<main>\n{body}</main>\n\
         </body>\n</html>\n",
        spoken().language.code(),
        escape(title.unwrap_or_default()),
    )
}

/// The blocks as part of a page that has a style of its own.
pub fn html_part(blocks: &[Block]) -> String {
    let mut body = Body {
        is_part: true,
        ..Body::default()
    };
    body.blocks(blocks)
}

/// Figures and headings so far.
#[derive(Default)]
struct Body {
    figures: usize,
    headings: usize,
    /// Whether it stands in a page that has a title and headings of its own.
    is_part: bool,
}

impl Body {
    fn blocks(&mut self, blocks: &[Block]) -> String {
        let parts = blocks.iter().map(|block| match block {
            Block::Contents => contents(blocks),
            block => self.block(block),
        });
        parts.collect()
    }

    fn block(&mut self, block: &Block) -> String {
        match block {
            Block::Title(text, below) => {
                let below = match below.as_str() {
                    "" => String::new(),
                    below => format!("<p class=\"subtitle\">{}</p>\n", escape(below)),
                };
                let text = escape(text);
                match self.is_part {
                    true => format!("<h3>{text}</h3>\n{below}"),
                    false => format!("<header>\n<h1>{text}</h1>\n{below}</header>\n"),
                }
            }
            Block::Heading(text) if self.is_part => format!("<h3>{}</h3>\n", escape(text)),
            Block::Heading(text) => {
                self.headings += 1;
                format!("<h2 id=\"part-{}\">{}</h2>\n", self.headings, escape(text))
            }
            Block::Subheading(text) => format!("<h3>{}</h3>\n", escape(text)),
            Block::Answer(question, inside) | Block::Brief(question, inside) => {
                let inside = self.blocks(inside);
                boxed("answer", question, &inside)
            }
            Block::Pair(left, right) => {
                let (left, right) = (self.blocks(left), self.blocks(right));
                format!("<div class=\"pair\">\n<div>{left}</div>\n<div>{right}</div>\n</div>\n")
            }
            Block::Shares(shares) => of_shares(shares),
            Block::Form(fields) => {
                let fields: String = fields.iter().map(of_field).collect();
                format!("<div class=\"form\">\n{fields}</div>\n")
            }
            Block::Sentence(text) => format!("<p>{}</p>\n", escape(text)),
            Block::Note(text) => format!("<p class=\"note\">{}</p>\n", escape(text)),
            Block::Facts(facts) => {
                let fact = |(name, value): &(String, String)| {
                    format!(
                        "<div><dt>{}</dt><dd>{}</dd></div>\n",
                        escape(name),
                        escape(value)
                    )
                };
                format!(
                    "<dl>\n{}</dl>\n",
                    facts.iter().map(fact).collect::<String>()
                )
            }
            Block::Table(table) => of_table(table),
            Block::Cautions(_, said) | Block::Warnings(said) if said.is_empty() => String::new(),
            Block::Cautions(place, said) => boxed("caution", heading_of(*place), &list("ul", said)),
            Block::Warnings(said) => boxed(
                "warning",
                word!("Where not to trust a number blindly"),
                &list("ul", said),
            ),
            Block::Steps(steps) => list("ol", steps),
            Block::List(points) => list("ul", points),
            Block::Figure(svg, caption) => {
                self.figures += 1;
                let figures = self.figures;
                let drawing = inline(svg, &format!("figure-{figures}-"));
                let caption = escape(caption);
                format!(
                    "<figure id=\"figure-{figures}\">{drawing}<figcaption>{}</figcaption></figure>\n",
                    say!("Figure {figures}. {caption}"; figures, caption)
                )
            }
            Block::Formula(_, mathml) => format!("<div class=\"formula\">{mathml}</div>\n"),
            Block::Room(lines) => {
                let lines = "<i></i>".repeat(usize::from(*lines));
                format!("<div class=\"room\" aria-hidden=\"true\">{lines}</div>\n")
            }
            Block::NewSheet => "<div class=\"new-sheet\"></div>\n".to_owned(),
            Block::Contents | Block::Hint(_) => String::new(),
        }
    }
}

/// Links to the headings among `blocks`, and below each to the figures that follow it, by the first
/// sentence of their captions.
fn contents(blocks: &[Block]) -> String {
    let (mut headings, mut figures) = (0, 0);
    let mut parts: Vec<(String, Vec<String>)> = Vec::new();
    for block in blocks {
        match block {
            Block::Heading(text) => {
                headings += 1;
                parts.push((link("part", headings, text), Vec::new()));
            }
            Block::Figure(_, caption) => {
                figures += 1;
                let title = caption.split(". ").next().unwrap_or_default();
                let text = say!("Figure {figures}. {title}"; figures, title);
                if let Some((_, below)) = parts.last_mut() {
                    below.push(format!("<li>{}</li>\n", link("figure", figures, &text)));
                }
            }
            _ => {}
        }
    }
    let part = |(heading, below): &(String, Vec<String>)| match below.is_empty() {
        true => format!("<li>{heading}</li>\n"),
        false => format!("<li>{heading}\n<ul>\n{}</ul></li>\n", below.concat()),
    };
    let parts: String = parts.iter().map(part).collect();
    format!(
        "<nav aria-label=\"{}\"><ul>\n{parts}</ul></nav>\n",
        word!("Contents")
    )
}

fn link(kind: &str, number: usize, text: &str) -> String {
    format!("<a href=\"#{kind}-{number}\">{}</a>", escape(text))
}

/// A box that is kept on one sheet. Every kind has a border of its own beside its colour.
fn boxed(kind: &str, heading: &str, inside: &str) -> String {
    let heading = escape(heading);
    format!("<section class=\"callout {kind}\"><h3>{heading}</h3>\n{inside}</section>\n")
}

fn list(tag: &str, items: &[String]) -> String {
    if items.is_empty() {
        return String::new();
    }
    let items: String = items
        .iter()
        .map(|item| format!("<li>{}</li>\n", escape(item)))
        .collect();
    format!("<{tag}>\n{items}</{tag}>\n")
}

/// Bars are drawn: they are printed even where backgrounds are not. The number stands beside each.
fn of_shares(shares: &[(String, f64)]) -> String {
    let row = |(name, share): &(String, f64)| {
        let drawn = if share.is_finite() {
            share.clamp(0.0, 1.0)
        } else {
            0.0
        };
        format!(
            "<tr><th scope=\"row\">{}</th><td><svg class=\"bar\" viewBox=\"0 0 100 8\" preserveAspectRatio=\"none\" \
             aria-hidden=\"true\"><rect x=\"0.5\" y=\"0.5\" width=\"99\" height=\"7\"/><rect class=\"full\" x=\"0.5\" \
             y=\"0.5\" width=\"{:.1}\" height=\"7\"/></svg></td><td>{}</td></tr>\n",
            escape(name),
            99.0 * drawn,
            percent(*share)
        )
    };
    let rows: String = shares.iter().map(row).collect();
    format!("<table class=\"shares\">\n{rows}</table>\n")
}

fn of_field(field: &Field) -> String {
    let value = match field.value.trim() {
        "" => "<i></i>".to_owned(),
        value => format!("<b>{}</b>", escape(value)),
    };
    let rule = match field.rule.as_str() {
        "" => String::new(),
        rule => format!("<small>{}</small>", escape(rule)),
    };
    format!(
        "<div><span class=\"fill\"><span>{}</span>{value}</span>{rule}</div>\n",
        escape(&field.name)
    )
}

fn of_table(table: &Table) -> String {
    if table.rows() == 0 {
        return String::new();
    }
    let columns = table.shown();
    let is_words = columns.iter().skip(1).any(|c| c.is_text);
    let class = match (table.is_form, is_words) {
        (true, _) => " class=\"words times\"",
        (false, true) => " class=\"words\"",
        (false, false) => "",
    };
    let short = if table.rows() <= SHORT { " short" } else { "" };
    let mut out = format!("<div class=\"wide{short}\"><table{class}>\n");
    if !table.caption.is_empty() {
        out += &format!("<caption>{}</caption>\n", escape(&table.caption));
    }
    let head = columns
        .iter()
        .map(|c| format!("<th scope=\"col\">{}</th>", escape(&c.heading)));
    out += &format!(
        "<thead><tr>{}</tr></thead>\n<tbody>\n",
        head.collect::<String>()
    );
    for k in 0..table.rows() {
        let cell = |(n, c): (usize, &&super::table::Column)| {
            let text = escape(c.cells.get(k).map_or("", String::as_str));
            match n {
                0 => format!("<th scope=\"row\">{text}</th>"),
                _ => format!("<td>{text}</td>"),
            }
        };
        let cells: String = columns.iter().enumerate().map(cell).collect();
        out += &format!("<tr>{cells}</tr>\n");
    }
    out += "</tbody>\n</table></div>\n";
    for note in table.notes() {
        out += &format!("<p class=\"note\">{}</p>\n", escape(&note));
    }
    out
}
