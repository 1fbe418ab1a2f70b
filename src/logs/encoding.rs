//! How the characters of a log are stored, and a reader that hands all of them on as bytes of UTF-8
//! or Latin-1.

use std::io::{BufRead, Chain, Cursor, Read};

/// How the characters of a file are stored.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Encoding {
    /// UTF-8, with or without a byte-order mark; plain ASCII as well.
    Utf8,
    /// One byte a character (ISO 8859-1 and its relatives): what is not UTF-8 is taken so.
    Latin1,
    /// UTF-16, low byte first.
    Utf16Le,
    /// UTF-16, high byte first.
    Utf16Be,
}

impl Encoding {
    /// Decides from the first bytes of a file. Without a byte-order mark, UTF-16 is recognised by
    /// its zero bytes.
    pub fn detect(head: &[u8]) -> Encoding {
        match head {
            [0xff, 0xfe, ..] => return Encoding::Utf16Le,
            [0xfe, 0xff, ..] => return Encoding::Utf16Be,
            _ => {}
        }
        let start = &head[..head.len().min(512)];
        let zeros = |odd: usize| {
            let every = start.iter().skip(odd).step_by(2);
            every.filter(|b| **b == 0).count()
        };
        let most = start.len() * 2 / 5;
        if start.len() >= 8 && zeros(1) > most && zeros(0) == 0 {
            return Encoding::Utf16Le;
        }
        if start.len() >= 8 && zeros(0) > most && zeros(1) == 0 {
            return Encoding::Utf16Be;
        }
        match std::str::from_utf8(head) {
            Ok(_) => Encoding::Utf8,
            // The end of what was read may lie inside a character.
            Err(e) if e.error_len().is_none() => Encoding::Utf8,
            Err(_) => Encoding::Latin1,
        }
    }
}

/// Text of a few bytes: UTF-8 where it is, Latin-1 otherwise.
pub(super) fn text(bytes: &[u8]) -> String {
    match std::str::from_utf8(bytes) {
        Ok(s) => s.to_owned(),
        Err(_) => bytes.iter().map(|b| char::from(*b)).collect(),
    }
}

/// Text of a file for people: no control characters, which would reach a terminal, and not too
/// long.
pub(super) fn shown(text: &str, longest: usize) -> String {
    let text = text.trim();
    let clean = |c: char| if c.is_control() { '\u{fffd}' } else { c };
    let mut shown: String = text.chars().take(longest).map(clean).collect();
    if text.chars().nth(longest).is_some() {
        shown.push_str("...");
    }
    shown
}

type Joined<R> = Chain<Cursor<Vec<u8>>, R>;

/// The bytes of a log from its start, as UTF-8 or Latin-1.
pub(super) enum Input<R> {
    Plain(Joined<R>),
    Wide(Utf16<Joined<R>>),
}

impl<R: BufRead> Input<R> {
    /// `head` are the bytes already taken from `rest`.
    pub fn new(head: Vec<u8>, rest: R, encoding: Encoding) -> Input<R> {
        let joined = Cursor::new(head).chain(rest);
        match encoding {
            Encoding::Utf8 | Encoding::Latin1 => Input::Plain(joined),
            Encoding::Utf16Le => Input::Wide(Utf16::new(joined, u16::from_le_bytes)),
            Encoding::Utf16Be => Input::Wide(Utf16::new(joined, u16::from_be_bytes)),
        }
    }

    pub fn fill(&mut self) -> std::io::Result<&[u8]> {
        match self {
            Input::Plain(r) => r.fill_buf(),
            Input::Wide(r) => r.fill(),
        }
    }

    pub fn consume(&mut self, n: usize) {
        match self {
            Input::Plain(r) => r.consume(n),
            Input::Wide(r) => r.at += n,
        }
    }
}

/// UTF-16 turned into UTF-8 a block at a time.
pub(super) struct Utf16<R> {
    inner: R,
    unit: fn([u8; 2]) -> u16,
    /// Half a code unit, and half a surrogate pair, left over from the block before.
    odd: Option<u8>,
    high: Option<u16>,
    out: Vec<u8>,
    at: usize,
}

impl<R: BufRead> Utf16<R> {
    fn new(inner: R, unit: fn([u8; 2]) -> u16) -> Self {
        Utf16 {
            inner,
            unit,
            odd: None,
            high: None,
            out: Vec::new(),
            at: 0,
        }
    }

    fn fill(&mut self) -> std::io::Result<&[u8]> {
        while self.at >= self.out.len() {
            self.out.clear();
            self.at = 0;
            let block = self.inner.fill_buf()?;
            if block.is_empty() {
                return Ok(&[]);
            }
            // At most 8 KiB at a time: the text stays in a cache and the memory bounded.
            let n = block.len().min(8192);
            for &b in &block[..n] {
                match self.odd.take() {
                    None => self.odd = Some(b),
                    Some(a) => push(&mut self.out, &mut self.high, (self.unit)([a, b])),
                }
            }
            self.inner.consume(n);
        }
        Ok(&self.out[self.at..])
    }
}

fn push(out: &mut Vec<u8>, high: &mut Option<u16>, unit: u16) {
    let c = match (high.take(), unit) {
        (_, 0xd800..=0xdbff) => {
            *high = Some(unit);
            return;
        }
        (Some(h), 0xdc00..=0xdfff) => {
            let code = 0x10000 + ((u32::from(h) - 0xd800) << 10) + (u32::from(unit) - 0xdc00);
            char::from_u32(code)
        }
        (_, u) => char::from_u32(u.into()),
    };
    let c = c.unwrap_or(char::REPLACEMENT_CHARACTER);
    out.extend_from_slice(c.encode_utf8(&mut [0; 4]).as_bytes());
}

/// The first bytes of a reader, at most `most`.
pub(super) fn head(reader: &mut impl Read, most: usize) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    reader.by_ref().take(most as u64).read_to_end(&mut bytes)?;
    Ok(bytes)
}
