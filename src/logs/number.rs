//! Numbers of a log, from bytes.

/// What a field holds that should be a number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cell<'b> {
    /// A number, and what follows it (a unit, or nothing).
    Value(f64, &'b [u8]),
    /// Empty, or a word for 'no value'.
    Nothing,
    /// The instrument says that its range was exceeded.
    OverRange,
    /// `1,204` may be 1.204 or 1204.
    TwoWays,
    /// Anything else.
    Unreadable,
}

const POWERS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16,
    1e17, 1e18, 1e19, 1e20, 1e21, 1e22,
];

/// Reads a field; `mark` is the decimal mark, a point or a comma.
pub fn cell(bytes: &[u8], mark: u8) -> Cell<'_> {
    match plain(bytes, mark) {
        Some(v) => Cell::Value(v, &[]),
        None => careful(bytes, mark),
    }
}

/// The common case: sign, digits, mark, digits and nothing else, few enough to be exact.
#[inline]
fn plain(bytes: &[u8], mark: u8) -> Option<f64> {
    let (negative, digits) = match bytes {
        [b'-', rest @ ..] => (true, rest),
        [b'+', rest @ ..] => (false, rest),
        _ => (false, bytes),
    };
    // Below 2^53 and with at most 22 places, one division is correctly rounded.
    if digits.is_empty() || digits.len() > 16 {
        return None;
    }
    let mut whole: u64 = 0;
    let mut places = 0;
    let mut seen_mark = false;
    let mut count = 0;
    for &b in digits {
        if b.is_ascii_digit() {
            whole = whole * 10 + u64::from(b - b'0');
            count += 1;
            places += usize::from(seen_mark);
        } else if b == mark && !seen_mark {
            seen_mark = true;
        } else {
            return None;
        }
    }
    if count == 0 || whole > 1 << 53 {
        return None;
    }
    let value = whole as f64 / POWERS[places];
    Some(if negative { -value } else { value })
}

/// Thousands marks, exponents, units behind the number, words for 'no value'.
#[cold]
fn careful(bytes: &[u8], mark: u8) -> Cell<'_> {
    let bytes = bytes.trim_ascii();
    if bytes.len() > 60 {
        return Cell::Unreadable;
    }
    if let Some(word) = word(bytes) {
        return word;
    }
    let (negative, start) = sign(bytes);
    let body = &bytes[start..];
    let length = number_length(body);
    let (digits, rest) = body.split_at(length);
    let Some(text) = normal(digits, mark) else {
        return Cell::Unreadable;
    };
    let Ok(text) = text else { return Cell::TwoWays };
    let (exponent, rest) = exponent(rest);
    let text = format!("{}{text}{exponent}", if negative { "-" } else { "" });
    match text.parse::<f64>() {
        Ok(v) if v.is_finite() => Cell::Value(v, rest.trim_ascii()),
        _ => Cell::Unreadable,
    }
}

fn word(bytes: &[u8]) -> Option<Cell<'static>> {
    const NOTHING: [&str; 14] = [
        "", "na", "n/a", "#n/a", "nan", "null", "none", "nil", "#nv", "nodata", "no data",
        "missing", "k.a.", "#value!",
    ];
    const OVER: [&str; 9] = [
        "ol",
        "o.l",
        "0l",
        "0.l",
        "over",
        "overload",
        "overrange",
        "over range",
        "inf",
    ];
    if bytes
        .iter()
        .all(|b| matches!(b, b'-' | b'.' | b'*' | b'_' | b'?'))
    {
        return Some(Cell::Nothing);
    }
    let lower = bytes.to_ascii_lowercase();
    let bare = lower
        .strip_prefix(b"+")
        .or(lower.strip_prefix(b"-"))
        .unwrap_or(&lower);
    let is = |w: &str| w.as_bytes() == bare;
    if NOTHING.iter().any(|w| is(w)) {
        return Some(Cell::Nothing);
    }
    OVER.iter().any(|w| is(w)).then_some(Cell::OverRange)
}

/// Whether the number is negative, and where its digits begin.
fn sign(bytes: &[u8]) -> (bool, usize) {
    match bytes {
        [b'-', ..] => (true, 1),
        [b'+', ..] => (false, 1),
        // The minus sign of typographers, U+2212.
        [0xe2, 0x88, 0x92, ..] => (true, 3),
        _ => (false, 0),
    }
}

/// Bytes of digits, marks and thousands marks at the start.
fn number_length(body: &[u8]) -> usize {
    let mut at = 0;
    while at < body.len() {
        let digit_at = |i: usize| body.get(i).is_some_and(u8::is_ascii_digit);
        at += match &body[at..] {
            [b, ..] if b.is_ascii_digit() => 1,
            [b'.' | b',', ..] => 1,
            [b'\'', ..] if digit_at(at + 1) => 1,
            // No-break space, in UTF-8 and in Latin-1, and the narrow one.
            [0xc2, 0xa0, ..] if digit_at(at + 2) => 2,
            [0xa0, ..] if digit_at(at + 1) => 1,
            [0xe2, 0x80, 0xaf, ..] if digit_at(at + 3) => 3,
            _ => break,
        };
    }
    at
}

fn exponent(rest: &[u8]) -> (String, &[u8]) {
    let [b'e' | b'E', tail @ ..] = rest else {
        return (String::new(), rest);
    };
    let signed = usize::from(matches!(tail.first(), Some(b'+' | b'-')));
    let digits = tail[signed..]
        .iter()
        .take_while(|b| b.is_ascii_digit())
        .count();
    if digits == 0 {
        return (String::new(), rest);
    }
    let (number, rest) = tail.split_at(signed + digits);
    (format!("e{}", String::from_utf8_lossy(number)), rest)
}

/// The digits with a decimal point and without thousands marks; `None` when there is no number,
/// `Some(Err)` when it can be read in two ways.
fn normal(digits: &[u8], mark: u8) -> Option<Result<String, ()>> {
    if !digits.iter().any(u8::is_ascii_digit) {
        return None;
    }
    let count = |m: u8| digits.iter().filter(|b| **b == m).count();
    let last = |m: u8| digits.iter().rposition(|b| *b == m);
    let other = if mark == b',' { b'.' } else { b',' };
    let decimal = match (count(mark), count(other)) {
        (0 | 1, 0) => Some(mark),
        (_, 0) => None,
        (0, 1) => {
            let behind = digits.len() - last(other)? - 1;
            if behind == 3 && !digits.starts_with(b"0") && !digits.starts_with(&[other]) {
                return Some(Err(()));
            }
            Some(other)
        }
        (0, _) => None,
        (1, _) if last(mark) > last(other) => Some(mark),
        (_, 1) if last(other) > last(mark) => Some(other),
        _ => return None,
    };
    let (whole, places) = match decimal.and_then(last) {
        Some(at) => (&digits[..at], &digits[at + 1..]),
        None => (digits, &digits[digits.len()..]),
    };
    if !places.iter().all(u8::is_ascii_digit) {
        return None;
    }
    let groups: Vec<&[u8]> = whole
        .split(|b| !b.is_ascii_digit())
        .filter(|g| !g.is_empty())
        .collect();
    if groups.len() > 1 && groups[1..].iter().any(|g| g.len() != 3) {
        return None;
    }
    let text = |b: &[u8]| String::from_utf8_lossy(b).into_owned();
    let whole: String = groups.iter().map(|g| text(g)).collect();
    Some(Ok(format!("{whole}.{}0", text(places))))
}
