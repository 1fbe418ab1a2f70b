//! Text that does nothing to a terminal.

use std::borrow::Cow;

/// `text` with control characters as visible signs and without marks that turn the direction of
/// writing: a stranger's file must not repaint what stands around its words. Line ends and tabs
/// stay.
///
/// ```
/// use relatch::internals::present::block::harmless;
/// assert_eq!(harmless("\u{1b}[2J\tYES\u{202e}"), "␛[2J\tYES�");
/// ```
pub fn harmless(text: &str) -> Cow<'_, str> {
    if !text.chars().any(is_harmful) {
        return Cow::Borrowed(text);
    }
    let shown = |c: char| match c {
        _ if !is_harmful(c) => c,
        '\u{7f}' => '␡',
        c => char::from_u32(0x2400 + c as u32)
            .filter(|_| c < ' ')
            .unwrap_or('\u{fffd}'),
    };
    Cow::Owned(text.chars().map(shown).collect())
}

fn is_harmful(c: char) -> bool {
    c.is_control() && !matches!(c, '\n' | '\t')
        || matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
}
