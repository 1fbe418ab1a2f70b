//! Questions on a real terminal.

use super::Talk;
use crate::cli::Failure;
use crate::cli::output::{fold, print};
use std::io::IsTerminal;

/// Whether somebody sits at a terminal and can be asked.
pub fn is_attended() -> bool {
    std::io::stdin().is_terminal() && std::io::stdout().is_terminal()
}

/// Questions on standard output, answers on standard input.
#[derive(Debug)]
pub struct Terminal;

impl Talk for Terminal {
    fn say(&mut self, text: &str) -> Result<(), Failure> {
        fold(text)
    }

    fn answer(&mut self) -> Result<Option<String>, Failure> {
        let mut line = String::new();
        match std::io::stdin().read_line(&mut line) {
            Ok(0) => print("\n").map(|()| None),
            Ok(_) => Ok(Some(line)),
            Err(error) => Err(Failure::Input(format!(
                "error: cannot read the answer: {error}"
            ))),
        }
    }
}
