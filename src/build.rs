//! Packs the font of the figures and the tables of words, which are two fifths and a quarter as large so.

fn main() {
    #[cfg(feature = "figures")]
    fonts().expect("the folder of the build takes the packed fonts");
    #[cfg(feature = "figures")]
    words().expect("the folder of the build takes the packed tables of words");
    println!("cargo::rerun-if-changed=src/build.rs");
    println!("cargo::rerun-if-changed=src/present/language");
}

#[cfg(feature = "figures")]
fn fonts() -> std::io::Result<()> {
    packed("regular", &lean(dejavu::sans::regular()))?;
    packed("bold", &lean(dejavu::sans::bold()))
}

#[cfg(feature = "figures")]
fn words() -> std::io::Result<()> {
    for language in ["german", "spanish", "french"] {
        let table = std::fs::read(format!("src/present/language/{language}.toml"))?;
        packed(language, &table)?;
    }
    Ok(())
}

#[cfg(feature = "figures")]
fn packed(name: &str, bytes: &[u8]) -> std::io::Result<()> {
    use flate2::{Compression, write::ZlibEncoder};
    use std::io::Write;

    let folder = std::path::PathBuf::from(std::env::var_os("OUT_DIR").expect("set by cargo"));
    let mut packer = ZlibEncoder::new(
        std::fs::File::create(folder.join(name))?,
        Compression::best(),
    );
    packer.write_all(bytes)?;
    packer.finish().map(drop)
}

/// What outlines and widths are read from. The rest names letters, joins them and fits them to
/// coarse screens.
#[cfg(feature = "figures")]
const TABLES: [&[u8]; 7] = [
    b"cmap", b"glyf", b"head", b"hhea", b"hmtx", b"loca", b"maxp",
];

/// A font with these tables alone (OpenType 1.9, "Font file": a header of 12 bytes; for each table
/// its tag, checksum, place and length, four bytes each).
#[cfg(feature = "figures")]
fn lean(font: &[u8]) -> Vec<u8> {
    let number = |bytes: &[u8]| bytes.iter().fold(0, |n, b| n << 8 | usize::from(*b));
    let (header, rest) = font.split_at(12);
    let kept: Vec<&[u8]> = (rest.chunks_exact(16).take(number(&header[4..6])))
        .filter(|entry| TABLES.contains(&&entry[..4]))
        .collect();
    let mut out = [
        &header[..4],
        &(kept.len() as u16).to_be_bytes(),
        &header[6..],
    ]
    .concat();
    let mut place = out.len() + 16 * kept.len();
    for entry in &kept {
        let high = |n: usize| (n as u32).to_be_bytes();
        out.extend([&entry[..8], &high(place), &entry[12..]].concat());
        place += number(&entry[12..]).next_multiple_of(4);
    }
    for entry in &kept {
        let (from, length) = (number(&entry[8..12]), number(&entry[12..]));
        out.extend(&font[from..from + length]);
        out.resize(out.len().next_multiple_of(4), 0);
    }
    out
}
