//! Standard output.

use super::Failure;
use std::io::{ErrorKind, Write};

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
