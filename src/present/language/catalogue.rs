//! The tables of words, one a language: TOML, the English text and what stands in its place. With figures
//! they are packed like the font (`src/build.rs`).

use super::Language;
use std::collections::HashMap;
use std::sync::LazyLock;

type Table = HashMap<String, String>;

#[cfg(feature = "figures")]
macro_rules! table {
    ($language:literal) => {
        LazyLock::new(|| {
            let packed = include_bytes!(concat!(env!("OUT_DIR"), "/", $language));
            let mut reader = flate2::read::ZlibDecoder::new(&packed[..]);
            read(&std::io::read_to_string(&mut reader).unwrap_or_default())
        })
    };
}
#[cfg(not(feature = "figures"))]
macro_rules! table {
    ($language:literal) => {
        LazyLock::new(|| read(include_str!(concat!($language, ".toml"))))
    };
}

static GERMAN: LazyLock<Table> = table!("german");
static SPANISH: LazyLock<Table> = table!("spanish");
static FRENCH: LazyLock<Table> = table!("french");

/// A test reads every table: one that cannot be read is never shipped.
fn read(text: &str) -> Table {
    toml::from_str(text).unwrap_or_default()
}

fn table(language: Language) -> Option<&'static Table> {
    match language {
        Language::English => None,
        Language::German => Some(&GERMAN),
        Language::Spanish => Some(&SPANISH),
        Language::French => Some(&FRENCH),
    }
}

/// What stands in the place of an English text; `None` where the table lacks it.
pub(super) fn find(language: Language, english: &str) -> Option<&'static str> {
    table(language)?.get(english).map(String::as_str)
}

/// The whole table.
#[cfg(feature = "page")]
pub(super) fn all(language: Language) -> HashMap<&'static str, &'static str> {
    let pairs = table(language).into_iter().flatten();
    pairs
        .map(|(english, said)| (english.as_str(), said.as_str()))
        .collect()
}
