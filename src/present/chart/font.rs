//! The font of every figure, compiled in packed (`src/build.rs`) and unpacked when the first is
//! drawn.

use std::io::Read;
use std::sync::LazyLock;
use ttf_parser::Face;

pub(super) static REGULAR: LazyLock<Option<Face<'static>>> =
    LazyLock::new(|| unpacked(include_bytes!(concat!(env!("OUT_DIR"), "/regular"))));
/// For titles.
pub(super) static BOLD: LazyLock<Option<Face<'static>>> =
    LazyLock::new(|| unpacked(include_bytes!(concat!(env!("OUT_DIR"), "/bold"))));

/// Nothing where it cannot be unpacked. It stays as long as the program runs.
fn unpacked(packed: &[u8]) -> Option<Face<'static>> {
    let mut font = Vec::new();
    let mut reader = flate2::read::ZlibDecoder::new(packed);
    reader.read_to_end(&mut font).ok()?;
    Face::parse(font.leak(), 0).ok()
}
