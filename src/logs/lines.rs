//! Lines of a log, one buffer for all of them.

use super::encoding::Input;
use std::io::BufRead;

/// What is beyond this in a line is dropped, and the line is reported.
pub(super) const LONGEST_LINE: usize = 64 * 1024;

/// What [`Lines::next`] found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Found {
    /// A whole line.
    Line,
    /// A line of which only the start was kept.
    TooLong,
    /// Nothing (more).
    End,
}

pub(super) struct Lines<R> {
    input: Input<R>,
    line_end: u8,
    /// A last line without its end is kept back: more of it may come.
    growing: bool,
    begun: bool,
    cut: bool,
    /// The line in `line` is the last and has no end.
    pub unended: bool,
    pub line: Vec<u8>,
    /// Number of the line in `line`, from 1.
    pub number: u64,
}

impl<R: BufRead> Lines<R> {
    pub fn new(input: Input<R>, line_end: u8, growing: bool) -> Self {
        Lines {
            input,
            line_end,
            growing,
            begun: false,
            cut: false,
            unended: false,
            line: Vec::with_capacity(256),
            number: 0,
        }
    }

    /// Reads the next line into `line`, without its end.
    pub fn next(&mut self) -> std::io::Result<Found> {
        if !self.begun {
            self.line.clear();
            self.cut = false;
        }
        loop {
            let block = match self.input.fill() {
                Err(e) if e.kind() == std::io::ErrorKind::Interrupted => continue,
                other => other?,
            };
            if block.is_empty() {
                if self.begun && !self.growing {
                    self.unended = true;
                    return Ok(self.done());
                }
                return Ok(Found::End);
            }
            self.begun = true;
            let end = find(block, self.line_end);
            let piece = &block[..end.unwrap_or(block.len())];
            let room = LONGEST_LINE.saturating_sub(self.line.len());
            self.cut |= piece.len() > room;
            self.line.extend_from_slice(&piece[..piece.len().min(room)]);
            let used = piece.len() + usize::from(end.is_some());
            self.input.consume(used);
            if end.is_some() {
                return Ok(self.done());
            }
        }
    }

    fn done(&mut self) -> Found {
        self.begun = false;
        self.number += 1;
        if self.number == 1 && self.line.starts_with(b"\xef\xbb\xbf") {
            self.line.drain(..3);
        }
        while self.line.last() == Some(&b'\r') {
            self.line.pop();
        }
        if self.cut {
            Found::TooLong
        } else {
            Found::Line
        }
    }
}

/// Position of a byte, eight at a time.
fn find(bytes: &[u8], wanted: u8) -> Option<usize> {
    const ONES: u64 = 0x0101_0101_0101_0101;
    const HIGH: u64 = 0x8080_8080_8080_8080;
    let pattern = ONES * u64::from(wanted);
    let (blocks, _) = bytes.as_chunks::<8>();
    for (i, block) in blocks.iter().enumerate() {
        let x = u64::from_le_bytes(*block) ^ pattern;
        let zero = x.wrapping_sub(ONES) & !x & HIGH;
        if zero != 0 {
            return Some(i * 8 + zero.trailing_zeros() as usize / 8);
        }
    }
    let rest = blocks.len() * 8;
    let at = bytes[rest..].iter().position(|b| *b == wanted)?;
    Some(rest + at)
}
