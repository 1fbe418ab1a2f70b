//! Standard input as text.

use std::io::Read;

/// All of standard input, up to so many bytes; `what` it was meant to be.
pub fn read(most: u64, what: &str) -> Result<String, String> {
    let mut bytes = Vec::new();
    std::io::stdin()
        .lock()
        .take(most + 1)
        .read_to_end(&mut bytes)
        .map_err(|e| format!("error: cannot read standard input: {e}"))?;
    if bytes.len() as u64 > most {
        return Err(format!(
            "error: standard input is larger than {} MB: not a {what}",
            most / 1_000_000
        ));
    }
    String::from_utf8(bytes)
        .map_err(|_| format!("error: standard input is not UTF-8 text: not a {what}"))
}
