//! Title and subtitle above the panels, in as many lines as they need.

use super::canvas::{Anchor, Canvas};
use super::style::{INK, QUIET, SUBTITLE, TITLE};
use super::text::{broken, shortened};

/// Left edge, middle of the title, of the subtitle below one line of title, and where panels begin
/// below both.
const LEFT: f64 = 80.0;
const TITLE_AT: f64 = 64.0;
const SUBTITLE_AT: f64 = 122.0;
const BELOW: f64 = 180.0;
/// Where panels begin without a header.
const WITHOUT: f64 = 30.0;
/// From line to line.
const TITLE_LINE: f64 = 1.25 * TITLE;
const SUBTITLE_LINE: f64 = 1.35 * SUBTITLE;
/// Most lines of either; the last is cut.
const MOST: usize = 3;

/// Lines of title and subtitle.
#[derive(Default)]
pub(crate) struct Header {
    title: Vec<String>,
    subtitle: Vec<String>,
}

impl Header {
    pub(crate) fn of(title: &str, subtitle: &str, room: f64) -> Self {
        Self {
            // Bold letters are wider.
            title: lines(title, TITLE * 1.1, room),
            subtitle: lines(subtitle, SUBTITLE, room),
        }
    }

    /// In a line each, cut where they are longer.
    pub(crate) fn cut(title: &str, subtitle: &str, room: f64) -> Self {
        Self {
            title: vec![shortened(title, TITLE * 1.1, room)],
            subtitle: vec![shortened(subtitle, SUBTITLE, room)],
        }
    }

    fn more(&self) -> (f64, f64) {
        let beyond = |lines: &[String]| lines.len().saturating_sub(1) as f64;
        let title = beyond(&self.title) * TITLE_LINE;
        (title, title + beyond(&self.subtitle) * SUBTITLE_LINE)
    }

    /// Where panels begin.
    pub(crate) fn height(&self) -> f64 {
        match self.title.is_empty() {
            true => WITHOUT,
            false => BELOW + self.more().1,
        }
    }

    pub(crate) fn draw(&self, canvas: &mut Canvas) {
        for (k, line) in self.title.iter().enumerate() {
            let at = (LEFT, TITLE_AT + k as f64 * TITLE_LINE);
            canvas.bold(line, at, TITLE, INK, Anchor::Left);
        }
        for (k, line) in self.subtitle.iter().enumerate() {
            let at = (LEFT, SUBTITLE_AT + self.more().0 + k as f64 * SUBTITLE_LINE);
            canvas.text(line, at, SUBTITLE, QUIET, Anchor::Left);
        }
    }
}

fn lines(text: &str, em: f64, room: f64) -> Vec<String> {
    let mut lines = broken(text, em, room);
    if lines.len() > MOST {
        let rest = lines.split_off(MOST - 1).join(" ");
        lines.push(rest);
    }
    lines.iter().map(|line| shortened(line, em, room)).collect()
}
