//! The font of every figure, compiled in packed (`src/build.rs`) and unpacked when the first is drawn.

use std::io::Read;
use std::sync::LazyLock;

pub(super) static REGULAR: LazyLock<Vec<u8>> =
    LazyLock::new(|| unpacked(include_bytes!(concat!(env!("OUT_DIR"), "/regular"))));
/// For titles.
pub(super) fn bold() -> Vec<u8> {
    unpacked(include_bytes!(concat!(env!("OUT_DIR"), "/bold")))
}

/// Nothing where it cannot be unpacked, which is no font.
fn unpacked(packed: &[u8]) -> Vec<u8> {
    let mut font = Vec::new();
    let read = flate2::read::ZlibDecoder::new(packed).read_to_end(&mut font);
    if read.is_ok() { font } else { Vec::new() }
}
