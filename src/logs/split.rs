//! Cuts a line into fields.

use std::ops::Range;

/// What stands between two fields.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Delimiter {
    /// A tabulator.
    Tab,
    /// `;`
    Semicolon,
    /// `|`
    Bar,
    /// `,`
    Comma,
    /// One or more blanks (spaces or tabulators).
    Blanks,
}

impl Delimiter {
    /// Every delimiter, the less likely to stand inside a field first.
    pub const ALL: [Delimiter; 5] = [
        Delimiter::Tab,
        Delimiter::Semicolon,
        Delimiter::Bar,
        Delimiter::Comma,
        Delimiter::Blanks,
    ];

    fn byte(self) -> u8 {
        match self {
            Delimiter::Tab => b'\t',
            Delimiter::Semicolon => b';',
            Delimiter::Bar => b'|',
            Delimiter::Comma => b',',
            Delimiter::Blanks => b' ',
        }
    }
}

/// Fields of a line, as ranges of its bytes without blanks and quotes around them.
///
/// `false` when a quoted field is not closed on its line (it then ends with the line). Doubled
/// quotes inside a field are left as they are.
pub fn split(line: &[u8], delimiter: Delimiter, fields: &mut Vec<Range<usize>>) -> bool {
    fields.clear();
    let blanks = delimiter == Delimiter::Blanks;
    let byte = delimiter.byte();
    let mut closed = true;
    let mut at = 0;
    if blanks {
        at += blank(&line[at..]);
        if at == line.len() {
            return true;
        }
    }
    loop {
        let quoted = at + if blanks { 0 } else { spaces(&line[at..], byte) };
        if line.get(quoted) == Some(&b'"') {
            let (end, next, ok) = quoted_end(line, quoted + 1);
            closed &= ok;
            fields.push(quoted + 1..end);
            at = next;
            // What stands between the closing quote and the delimiter does not count.
            at += length(&line[at..], byte, blanks);
        } else {
            let end = at + length(&line[at..], byte, blanks);
            fields.push(trimmed(line, at..end));
            at = end;
        }
        if at >= line.len() {
            return closed;
        }
        at += 1;
        if blanks {
            at += blank(&line[at..]);
            if at == line.len() {
                return closed;
            }
        }
    }
}

/// End of a quoted field that starts at `from`, and where it goes on.
fn quoted_end(line: &[u8], from: usize) -> (usize, usize, bool) {
    let mut at = from;
    while at < line.len() {
        if line[at] == b'"' {
            if line.get(at + 1) != Some(&b'"') {
                return (at, at + 1, true);
            }
            at += 1;
        }
        at += 1;
    }
    (line.len(), line.len(), false)
}

fn length(bytes: &[u8], delimiter: u8, blanks: bool) -> usize {
    let ends = |b: &u8| *b == delimiter || (blanks && *b == b'\t');
    bytes.iter().position(ends).unwrap_or(bytes.len())
}

fn blank(bytes: &[u8]) -> usize {
    let is = |b: &&u8| matches!(**b, b' ' | b'\t');
    bytes.iter().take_while(is).count()
}

fn spaces(bytes: &[u8], delimiter: u8) -> usize {
    let is = |b: &&u8| matches!(**b, b' ' | b'\t') && **b != delimiter;
    bytes.iter().take_while(is).count()
}

fn trimmed(line: &[u8], range: Range<usize>) -> Range<usize> {
    let (mut start, mut end) = (range.start, range.end);
    while start < end && line[start].is_ascii_whitespace() {
        start += 1;
    }
    while end > start && line[end - 1].is_ascii_whitespace() {
        end -= 1;
    }
    start..end
}
