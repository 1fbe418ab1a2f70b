//! The frame of a page and what can stand in it.

use super::{Table, escape, inline};

/// The one style sheet of all pages.
const STYLE: &str = include_str!("page.css");

/// How urgent a boxed list is. Every kind has a word and a border of its own, not a colour alone.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Callout {
    /// Someone may get hurt or something may burn.
    Caution,
    /// A number should not be trusted blindly.
    Warning,
    /// An answer that is to be seen first.
    Answer,
}

impl Callout {
    fn class(self) -> &'static str {
        match self {
            Self::Caution => "caution",
            Self::Warning => "warning",
            Self::Answer => "answer",
        }
    }
}

/// A page under construction.
#[derive(Debug, Clone)]
pub struct Page {
    title: String,
    body: String,
    figures: usize,
    style: &'static str,
}

impl Page {
    /// A page with its title and a line below it (may be empty).
    pub fn new(title: &str, subtitle: &str) -> Self {
        let mut body = format!("<header>\n<h1>{}</h1>\n", escape(title));
        if !subtitle.is_empty() {
            body += &format!("<p class=\"subtitle\">{}</p>\n", escape(subtitle));
        }
        Self {
            title: title.to_owned(),
            body: body + "</header>\n",
            figures: 0,
            style: "",
        }
    }

    /// A style sheet of its own on top of the common one.
    pub fn style(&mut self, css: &'static str) {
        self.style = css;
    }

    /// A main heading.
    pub fn heading(&mut self, text: &str) {
        self.body += &format!("<h2>{}</h2>\n", escape(text));
    }

    /// A heading below a main heading.
    pub fn subheading(&mut self, text: &str) {
        self.body += &format!("<h3>{}</h3>\n", escape(text));
    }

    /// A paragraph.
    pub fn paragraph(&mut self, text: &str) {
        self.body += &format!("<p>{}</p>\n", escape(text));
    }

    /// A paragraph in small type.
    pub fn note(&mut self, text: &str) {
        self.body += &format!("<p class=\"note\">{}</p>\n", escape(text));
    }

    /// A list; nothing when it is empty.
    pub fn list<T: AsRef<str>>(&mut self, items: &[T]) {
        if !items.is_empty() {
            self.body += &list(items);
        }
    }

    /// A boxed list under a heading of its own; nothing when it is empty. The box is kept on one sheet.
    pub fn callout<T: AsRef<str>>(&mut self, kind: Callout, heading: &str, items: &[T]) {
        if items.is_empty() {
            return;
        }
        self.body += &format!(
            "<section class=\"callout {}\"><h3>{}</h3>\n{}</section>\n",
            kind.class(),
            escape(heading),
            list(items)
        );
    }

    /// A table; nothing when it has no row.
    pub fn table(&mut self, table: &Table) {
        if !table.is_empty() {
            self.body += &table.html();
        }
    }

    /// Names and their values in two columns; nothing when there are none.
    pub fn facts<N: AsRef<str>, V: AsRef<str>>(&mut self, facts: &[(N, V)]) {
        if facts.is_empty() {
            return;
        }
        self.body += "<dl>\n";
        for (name, value) in facts {
            self.body += &format!(
                "<div><dt>{}</dt><dd>{}</dd></div>\n",
                escape(name.as_ref()),
                escape(value.as_ref())
            );
        }
        self.body += "</dl>\n";
    }

    /// A figure with the sentence below it. The drawing is an SVG with its own title and description
    /// (they are its alternative text); it is kept on one sheet and never cut.
    pub fn figure(&mut self, svg: &str, caption: &str) {
        self.figures += 1;
        let drawing = inline(svg, &format!("figure-{}-", self.figures));
        self.body += &format!(
            "<figure>{drawing}<figcaption>Figure {}. {}</figcaption></figure>\n",
            self.figures,
            escape(caption)
        );
    }

    /// On paper, what follows starts on a new sheet.
    pub fn new_sheet(&mut self) {
        self.body += "<div class=\"new-sheet\"></div>\n";
    }

    /// Markup as it is: the caller has escaped what comes from outside.
    pub fn raw(&mut self, html: &str) {
        self.body += html;
    }

    /// The whole page.
    pub fn finish(self) -> String {
        format!(
            "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n\
             <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
             <meta name=\"color-scheme\" content=\"light dark\">\n\
             <title>{}</title>\n<style>\n{STYLE}{}</style>\n</head>\n<body>\n<main>\n{}</main>\n\
             </body>\n</html>\n",
            escape(&self.title),
            self.style,
            self.body
        )
    }
}

fn list<T: AsRef<str>>(items: &[T]) -> String {
    let mut out = "<ul>\n".to_owned();
    for item in items {
        out += &format!("<li>{}</li>\n", escape(item.as_ref()));
    }
    out + "</ul>\n"
}
