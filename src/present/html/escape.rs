//! Text as markup.

/// `text` so that HTML and XML show it as it is, between tags and in quoted attributes alike.
/// Characters that XML forbids are left out.
///
/// ```
/// use relatch::internals::present::html::escape;
/// assert_eq!(escape("<script>\u{7}'&\""), "&lt;script&gt;&#39;&amp;&quot;");
/// ```
pub fn escape(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '&' => out.push_str("&amp;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            '\t' | '\n' | '\r' => out.push(' '),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => out.push(c),
        }
    }
    out
}
