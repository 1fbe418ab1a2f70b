//! Finds the number at the start of a text.

/// Length in bytes of the number at the start of `text` (after no spaces), 0 if there is none.
///
/// An `e` belongs to the number only when digits follow it.
pub(super) fn length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digits = |from: usize| {
        bytes[from..]
            .iter()
            .take_while(|b| b.is_ascii_digit())
            .count()
    };
    let mut at = 0;
    if text.starts_with(['+', '-']) {
        at = 1;
    } else if text.starts_with('\u{2212}') {
        at = '\u{2212}'.len_utf8();
    }
    let whole = digits(at);
    at += whole;
    let mut fraction = 0;
    if bytes.get(at) == Some(&b'.') {
        fraction = digits(at + 1);
        if whole + fraction > 0 {
            at += 1 + fraction;
        }
    }
    if whole + fraction == 0 {
        return 0;
    }
    if matches!(bytes.get(at), Some(b'e' | b'E')) {
        let sign = usize::from(matches!(bytes.get(at + 1), Some(b'+' | b'-')));
        let exponent = if at + 1 + sign <= bytes.len() {
            digits(at + 1 + sign)
        } else {
            0
        };
        if exponent > 0 {
            at += 1 + sign + exponent;
        }
    }
    at
}

/// Value of a number found by [`length`].
pub(super) fn value(text: &str) -> Option<f64> {
    text.replace('\u{2212}', "-").parse().ok()
}
