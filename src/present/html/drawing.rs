//! Figures inside a page.

/// An SVG for use inside a page: its own ids get `prefix`, so that several figures on one page do
/// not borrow each other's clips and gradients. A declaration before the root is dropped.
///
/// ```
/// use relatch::internals::present::html::inline;
/// let svg = "<?xml version=\"1.0\"?><svg><clipPath id=\"a\"/><g clip-path=\"url(#a)\"/></svg>";
/// assert_eq!(
///     inline(svg, "f1-"),
///     "<svg><clipPath id=\"f1-a\"/><g clip-path=\"url(#f1-a)\"/></svg>"
/// );
/// ```
pub fn inline(svg: &str, prefix: &str) -> String {
    let root = svg.find("<svg").map_or(svg, |start| &svg[start..]);
    root.trim_end()
        .replace(" id=\"", &format!(" id=\"{prefix}"))
        .replace("url(#", &format!("url(#{prefix}"))
        .replace("href=\"#", &format!("href=\"#{prefix}"))
}
