//! Pages read back with an XML reader.

/// The page as XML: what HTML leaves open is taken out first.
pub fn as_xml(html: &str) -> String {
    let mut out = html.replacen("<!DOCTYPE html>", "", 1).replace("<br>", "");
    while let Some(start) = out.find("<meta ") {
        let end = start + out[start..].find('>').expect("an end") + 1;
        out.replace_range(start..end, "");
    }
    out
}

/// Text of every element of this name.
pub fn texts(document: &roxmltree::Document<'_>, name: &str) -> Vec<String> {
    document
        .descendants()
        .filter(|n| n.has_tag_name(name))
        .map(|n| {
            n.descendants()
                .filter(roxmltree::Node::is_text)
                .filter_map(|t| t.text())
                .collect()
        })
        .collect()
}

/// Nothing is loaded from elsewhere and nothing runs.
pub fn stands_alone(html: &str) {
    let lower = html.to_lowercase();
    for word in [
        "<script",
        "<link",
        "<iframe",
        "<object",
        "@import",
        "src=",
        "onload",
        "javascript:",
    ] {
        assert!(!lower.contains(word), "{word}");
    }
    // Names of the two languages inside the page are no addresses that a browser would ask.
    let rest = lower
        .replace("http://www.w3.org/1998/math/mathml", "")
        .replace("http://www.w3.org/2000/svg", "")
        .replace("http://www.w3.org/1999/xlink", "");
    assert!(!rest.contains("http://") && !rest.contains("https://"));
}
