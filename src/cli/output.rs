//! Standard output.

use super::Failure;
use crate::present::block::{Block, Screen, terminal};
use std::io::{ErrorKind, IsTerminal, Write};

/// Prints blocks: the one way in which every command shows what people read.
pub fn show(blocks: &[Block]) -> Result<(), Failure> {
    print(&terminal(blocks, screen()))
}

/// The terminal in its real width, with colours unless NO_COLOR forbids them; anything else as a plain page. COLUMNS
/// has the last word on the width.
fn screen() -> Screen {
    let is_terminal = std::io::stdout().is_terminal();
    let wanted = std::env::var("COLUMNS")
        .ok()
        .and_then(|text| text.parse().ok());
    let found = terminal_size::terminal_size().map(|(width, _)| usize::from(width.0));
    let columns = wanted.or(found.filter(|_| is_terminal)).unwrap_or(100);
    let forbidden = std::env::var_os("NO_COLOR").is_some_and(|value| !value.is_empty());
    Screen::new(columns, is_terminal && !forbidden)
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
