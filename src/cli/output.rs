//! Standard output.

use super::Failure;
use crate::present::block::{Block, Screen, terminal};
use std::io::{ErrorKind, IsTerminal, Write};

/// Prints blocks: the one way in which every command shows what people read.
pub fn show(blocks: &[Block]) -> Result<(), Failure> {
    print(&terminal(blocks, screen()))
}

/// Prints text whose lines stand as they are, folded at the width of the terminal.
pub fn fold(text: &str) -> Result<(), Failure> {
    print(&screen().folded(text))
}

/// The text with lines that are too long for the screen folded, for standard error. The others stand: carets point
/// up to a column.
pub fn folded(text: &str) -> String {
    let screen = screen();
    let fold = |line: &str| match line.chars().count() > screen.columns() {
        true => screen.folded(line),
        false => line.to_owned(),
    };
    text.split('\n').map(fold).collect::<Vec<_>>().join("\n")
}

/// Columns of what is printed.
pub fn columns() -> usize {
    screen().columns()
}

fn screen() -> Screen {
    let found = terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
    screen_of(std::io::stdout().is_terminal(), found, |name| {
        std::env::var(name).ok()
    })
}

/// A terminal in its real width, with colours unless NO_COLOR forbids them or it has none
/// (TERM=dumb); anything else as a plain page. COLUMNS has the last word on the width.
fn screen_of(
    is_terminal: bool,
    found: Option<usize>,
    set: impl Fn(&str) -> Option<String>,
) -> Screen {
    let wanted = set("COLUMNS").and_then(|text| text.trim().parse().ok());
    let columns = wanted.or(found.filter(|_| is_terminal)).unwrap_or(100);
    let forbidden = set("NO_COLOR").is_some_and(|value| !value.is_empty());
    let is_dumb = set("TERM").is_some_and(|value| value == "dumb");
    Screen::new(columns, is_terminal && !forbidden && !is_dumb)
}

/// Writes to standard output. A reader that has gone ends the program quietly.
pub fn print(text: &str) -> Result<(), Failure> {
    let mut out = std::io::stdout().lock();
    match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
        Ok(()) => Ok(()),
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Err(Failure::ReaderGone),
        Err(error) => Err(Failure::Failed(format!(
            "error: cannot write to standard output: {error}"
        ))),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_a_terminal_has_its_width_and_colours_and_no_color_is_honoured() {
        let set = |name: &'static str, value: &'static str| {
            move |asked: &str| (asked == name).then(|| value.to_owned())
        };
        let nothing = |_: &str| None;
        assert_eq!(screen_of(true, Some(72), nothing), Screen::new(72, true));
        assert_eq!(screen_of(false, Some(72), nothing), Screen::PLAIN);
        assert_eq!(
            screen_of(true, Some(72), set("NO_COLOR", "1")),
            Screen::new(72, false)
        );
        assert_eq!(
            screen_of(true, Some(72), set("NO_COLOR", "")),
            Screen::new(72, true)
        );
        assert_eq!(
            screen_of(true, Some(72), set("TERM", "dumb")),
            Screen::new(72, false)
        );
        assert_eq!(
            screen_of(false, None, set("COLUMNS", "48")),
            Screen::new(48, false)
        );
        assert_eq!(
            screen_of(true, Some(72), set("COLUMNS", "wide")),
            Screen::new(72, true)
        );
    }
}
