//! The page as one file that needs no server: document, style, script and the packed engine.

use super::Preset;
use super::assets::{CSS, ENGINE_SCRIPT, HTML, ICON, SCRIPT};
use flate2::{Compression, write::GzEncoder};
use serde_json::json;
use std::io::{self, Write};

/// Nothing is loaded from anywhere, and no script runs but the page's own.
const POLICY: &str = "default-src 'none'; script-src 'nonce-own' 'wasm-unsafe-eval'; worker-src blob:; \
    style-src 'nonce-own'; img-src data: blob:; base-uri 'none'; form-action 'none'";
/// How every module of WebAssembly begins (WebAssembly Core Specification 1.0, section 5.5.16).
const MAGIC: &[u8] = b"\0asm";

/// The page with an engine (the library built for WebAssembly), and scenarios that stand before the
/// shipped ones.
///
/// # Errors
/// The engine is none.
pub fn one_file(engine: &[u8], own: &[Preset]) -> io::Result<String> {
    if !engine.starts_with(MAGIC) {
        let why = "this is no WebAssembly module";
        return Err(io::Error::new(io::ErrorKind::InvalidData, why));
    }
    let mut packer = GzEncoder::new(Vec::new(), Compression::best());
    packer.write_all(engine)?;
    let packed = base64(&packer.finish()?);
    let own: Vec<_> = own
        .iter()
        .map(|p| json!({"id": p.id, "text": p.text}))
        .collect();
    // No text that somebody wrote can end the element that it stands in.
    let own = json!(own).to_string().replace('<', "\\u003c");
    let icon = base64(ICON.as_bytes());
    let parts = [
        (
            "<link rel=\"icon\" href=\"/icon.svg\" type=\"image/svg+xml\">",
            format!(
                "<meta http-equiv=\"Content-Security-Policy\" content=\"{POLICY}\">\n\
                 <link rel=\"icon\" href=\"data:image/svg+xml;base64,{icon}\">"
            ),
        ),
        (
            "<link rel=\"stylesheet\" href=\"/page.css\">",
            format!("<style nonce=\"own\">\n{CSS}</style>"),
        ),
        ("<script src=\"/page.js\" defer></script>\n", String::new()),
        (
            "</body>",
            format!(
                "<script type=\"application/json\" id=\"own\">{own}</script>\n\
                 <script type=\"text/plain\" id=\"engine-script\">\n{ENGINE_SCRIPT}</script>\n\
                 <script type=\"text/plain\" id=\"engine\">{packed}</script>\n\
                 <script nonce=\"own\">{OLD}</script>\n\
                 <script nonce=\"own\">\n{SCRIPT}</script>\n</body>"
            ),
        ),
    ];
    let page = parts.iter().fold(HTML.to_owned(), |page, (from, to)| {
        debug_assert!(page.contains(from), "{from}");
        page.replacen(from, to, 1)
    });
    Ok(page)
}

/// Told by a browser that knows nothing of what the page needs, in words that such a browser
/// understands.
const OLD: &str = "if (!window.WebAssembly || !window.DecompressionStream) {\
    var told = document.getElementById('problem'); told.hidden = false;\
    told.appendChild(document.createTextNode('This browser is too old for this page: it has no WebAssembly or cannot \
    unpack it (DecompressionStream). A browser of 2023 or later opens it.')); }";

/// RFC 4648, section 4.
fn base64(bytes: &[u8]) -> String {
    const LETTERS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let mut text = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for three in bytes.chunks(3) {
        let bits = (0..3).fold(0u32, |bits, k| {
            bits << 8 | u32::from(*three.get(k).unwrap_or(&0))
        });
        for k in 0..4 {
            let letter = LETTERS[(bits >> (18 - 6 * k)) as usize & 63] as char;
            text.push(if k <= three.len() { letter } else { '=' });
        }
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    /// RFC 4648, section 10.
    #[test]
    fn base64_as_printed() {
        for (bytes, text) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(base64(bytes.as_bytes()), text);
        }
    }

    #[test]
    fn what_a_title_holds_cannot_end_its_element_and_nothing_is_left_to_load() {
        let text = crate::scenario::starter("latch")
            .expect("one")
            .replace("title = \"", "title = \"</script><b>");
        let own = Preset::new("own", &text).expect("a scenario");
        assert!(own.scenario.title.contains("</script>"));
        let page = one_file(b"\0asm", &[own]).expect("a page");
        assert!(!page.contains("</script><b>"));
        for link in ["src=", "href=\"/", "http://", "https://"] {
            let bare = page.replace("http://www.w3.org/2000/svg", "");
            assert!(!bare.contains(link), "{link}");
        }
        assert!(one_file(b"MZ", &[]).is_err());
    }
}
