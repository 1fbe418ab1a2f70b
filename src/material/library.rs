//! The materials that come with the program.
//!
//! They are the files of the folder `materials/`, compiled in; each value there names its source.
//!
//! ```
//! use relatch::internals::material::library;
//! let alloy = library::alloy("fe-36ni").unwrap();
//! assert_eq!(alloy.name, "Fe-36Ni");
//! assert!(library::alloy("unobtainium").is_none());
//! ```

use super::read::{read_references, read_sheet};
pub use super::reference::Reference;
use super::sheet::{MaterialKind, Sheet};
use super::{Alloy, ContactMetal};
use std::sync::{Arc, OnceLock};

/// A material of the library: what its file says, and the uses made from it.
#[derive(Debug, Clone)]
pub struct Record {
    /// Everything the file says.
    pub sheet: Sheet,
    /// As a strip alloy.
    pub alloy: Option<Arc<Alloy>>,
    /// As a contact metal.
    pub contact_metal: Option<Arc<ContactMetal>>,
}

struct Library {
    records: Vec<Record>,
    references: Vec<Reference>,
}

macro_rules! files {
    ($($name:literal),* $(,)?) => {
        &[$(($name, include_str!(concat!("../../materials/", $name)))),*]
    };
}

/// In the order in which tables show them.
const FILES: &[(&str, &str)] = files![
    "fe-36ni.toml",
    "fe-36ni-f1684.toml",
    "fe-42ni.toml",
    "22ni-3cr-fe.toml",
    "72mn-18cu-10ni.toml",
    "75mn-15ni-10cu.toml",
    "304.toml",
    "brass-c26000.toml",
    "carbon-steel.toml",
    "copper.toml",
    "nickel.toml",
    "c17200.toml",
    "c51000.toml",
    "301.toml",
    "302.toml",
    "music-wire.toml",
    "contact-silver.toml",
    "contact-agni10.toml",
    "contact-agsno2.toml",
    "contact-agcdo.toml",
    "contact-gold.toml",
    "contact-copper.toml",
];

const REFERENCES: (&str, &str) = (
    "references.toml",
    include_str!("../../materials/references.toml"),
);

fn library() -> &'static Library {
    static LIBRARY: OnceLock<Library> = OnceLock::new();
    LIBRARY.get_or_init(load)
}

fn load() -> Library {
    // That each reads, a test makes sure.
    let sheets = FILES
        .iter()
        .flat_map(|&(name, text)| read_sheet(name, text));
    Library {
        records: sheets.map(Record::new).collect(),
        references: read_references(REFERENCES.0, REFERENCES.1).unwrap_or_default(),
    }
}

impl Record {
    fn new(sheet: Sheet) -> Self {
        let strip = sheet.kind.is_strip();
        let contact = sheet.kind == MaterialKind::Contact;
        Record {
            alloy: strip.then(|| sheet.alloy()).flatten().map(Arc::new),
            contact_metal: contact
                .then(|| sheet.contact_metal())
                .flatten()
                .map(Arc::new),
            sheet,
        }
    }

    /// Whether the material goes by this name; capitals do not matter.
    pub fn is_called(&self, name: &str) -> bool {
        let wanted = name.trim();
        std::iter::once(&self.sheet.name)
            .chain(&self.sheet.aliases)
            .any(|n| n.eq_ignore_ascii_case(wanted))
    }
}

/// The strip alloy of this name or alias, whatever its capitals.
pub fn alloy(name: &str) -> Option<Arc<Alloy>> {
    find(name, |r| r.alloy.clone())
}

/// The contact metal of this name or alias, whatever its capitals.
pub fn contact_metal(name: &str) -> Option<Arc<ContactMetal>> {
    find(name, |r| r.contact_metal.clone())
}

/// Names of the strip alloys.
pub fn alloy_names() -> Vec<&'static str> {
    names(|r| r.alloy.is_some())
}

/// Names of the contact metals.
pub fn contact_metal_names() -> Vec<&'static str> {
    names(|r| r.contact_metal.is_some())
}

/// Every material.
pub fn all() -> &'static [Record] {
    &library().records
}

/// Every source.
pub fn references() -> &'static [Reference] {
    &library().references
}

/// Author, title and year behind a source key; `None` for an unknown key.
///
/// An entry that names several keys is split by [`source_keys`](super::source_keys) first.
pub fn citation(key: &str) -> Option<&'static str> {
    references()
        .iter()
        .find(|r| r.key == key)
        .map(|r| r.citation.as_str())
}

fn find<T>(name: &str, pick: impl Fn(&Record) -> Option<T>) -> Option<T> {
    all().iter().filter(|r| r.is_called(name)).find_map(pick)
}

fn names(wanted: impl Fn(&Record) -> bool) -> Vec<&'static str> {
    all()
        .iter()
        .filter(|r| wanted(r))
        .map(|r| r.sheet.name.as_str())
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::PropertyKind;
    use std::collections::HashSet;

    #[test]
    fn every_file_reads_without_a_problem_and_has_its_uses() {
        for (name, text) in FILES {
            read_sheet(name, text).unwrap_or_else(|report| panic!("{report}"));
        }
        read_references(REFERENCES.0, REFERENCES.1).unwrap_or_else(|report| panic!("{report}"));
        for r in all() {
            let kind = r.sheet.kind;
            let has = |needed: &PropertyKind| r.sheet.property(*needed).is_some();
            assert_eq!(r.alloy.is_some(), kind.is_strip());
            assert_eq!(r.contact_metal.is_some(), kind == MaterialKind::Contact);
            assert!(kind.needs().iter().all(has), "{}", r.sheet.name);
        }
    }

    #[test]
    fn no_file_of_the_folder_is_left_out() {
        let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/materials");
        let mut found: Vec<String> = std::fs::read_dir(folder)
            .unwrap()
            .map(|e| e.unwrap().file_name().into_string().unwrap())
            .filter(|n| n.ends_with(".toml") && n != REFERENCES.0)
            .collect();
        let mut known: Vec<String> = FILES.iter().map(|(n, _)| (*n).to_owned()).collect();
        found.sort();
        known.sort();
        assert_eq!(found, known);
    }

    #[test]
    fn every_value_has_a_known_source_and_every_source_is_used() {
        let mut used = HashSet::new();
        for r in all() {
            for (kind, property) in &r.sheet.properties {
                assert!(!property.source.is_empty(), "{} {kind:?}", r.sheet.name);
            }
            for key in r.sheet.sources() {
                assert!(citation(key).is_some(), "{}: {key}", r.sheet.name);
                used.insert(key);
            }
        }
        for reference in references() {
            assert!(used.contains(reference.key.as_str()), "{}", reference.key);
        }
    }

    /// A value whose only source is memory must say so.
    #[test]
    fn memory_is_confessed() {
        for r in all() {
            for (kind, p) in &r.sheet.properties {
                let memory_only = p.source == "memory";
                assert!(!memory_only || p.from_memory, "{} {kind:?}", r.sheet.name);
            }
        }
    }

    #[test]
    fn every_property_has_an_uncertainty_and_a_range() {
        for r in all() {
            for (kind, p) in &r.sheet.properties {
                let named = format!("{} {kind:?}", r.sheet.name);
                assert!(p.relative_uncertainty > 0.0, "{named}");
                assert!(p.within(293.15) && p.within(350.0), "{named}");
            }
        }
    }

    /// What a person may write for a name, within each use, leads to one material only.
    #[test]
    fn names_are_unambiguous() {
        let uses: [fn(&Record) -> bool; 3] = [
            |r| r.alloy.is_some(),
            |r| r.contact_metal.is_some(),
            |r| r.sheet.kind.is_spring(),
        ];
        for usable in uses {
            let mut seen = HashSet::new();
            for r in all().iter().filter(|r| usable(r)) {
                for name in std::iter::once(&r.sheet.name).chain(&r.sheet.aliases) {
                    assert!(seen.insert(name.to_lowercase()), "{name}");
                }
            }
        }
    }

    #[test]
    fn names_are_found_whatever_their_capitals() {
        assert_eq!(alloy("FE-36NI").unwrap().name, "Fe-36Ni");
        assert_eq!(alloy("c26000").unwrap().name, "brass 70/30");
        assert_eq!(contact_metal("ag").unwrap().name, "silver");
        let named: Vec<_> = all()
            .iter()
            .filter(|r| r.is_called("Phosphor Bronze"))
            .collect();
        assert_eq!(named[0].sheet.name, "C51000");
        assert!(alloy("silver").is_none() && contact_metal("Fe-36Ni").is_none());
    }
}
