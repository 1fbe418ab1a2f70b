//! Metals that a scenario may name.

use crate::diagnostic::{Problem, nearest};
use crate::document::TableReader;
use crate::material::{Alloy, ContactMetal, library, read_alloy, read_contact_metal};
use std::sync::Arc;

/// Metals that a file may name: its own first, then the library's.
pub(super) struct Metals {
    alloys: Vec<Arc<Alloy>>,
    contact_metals: Vec<Arc<ContactMetal>>,
}

impl Metals {
    pub(super) fn read(root: &TableReader<'_>) -> Metals {
        Metals {
            alloys: root
                .tables("alloy")
                .iter()
                .filter_map(read_alloy)
                .map(Arc::new)
                .collect(),
            contact_metals: root
                .tables("contact_metal")
                .iter()
                .filter_map(read_contact_metal)
                .map(Arc::new)
                .collect(),
        }
    }

    pub(super) fn alloy(&self, name: &str) -> Option<Arc<Alloy>> {
        let own = self
            .alloys
            .iter()
            .find(|a| a.name.eq_ignore_ascii_case(name.trim()));
        own.cloned().or_else(|| library::alloy(name))
    }

    pub(super) fn alloy_names(&self) -> Vec<&str> {
        self.alloys
            .iter()
            .map(|a| a.name.as_str())
            .chain(library::alloy_names())
            .collect()
    }

    pub(super) fn contact_metal(&self, name: &str) -> Option<Arc<ContactMetal>> {
        let own = self
            .contact_metals
            .iter()
            .find(|a| a.name.eq_ignore_ascii_case(name.trim()));
        own.cloned().or_else(|| library::contact_metal(name))
    }

    pub(super) fn contact_metal_names(&self) -> Vec<&str> {
        self.contact_metals
            .iter()
            .map(|a| a.name.as_str())
            .chain(library::contact_metal_names())
            .collect()
    }
}

/// A name that is not known, with what is.
pub(super) fn unknown_name(
    span: std::ops::Range<usize>,
    what: &str,
    name: &str,
    known: &[&str],
) -> Problem {
    let problem = Problem::new(span, format!("no {what} is called \"{name}\"")).label("unknown");
    match nearest(name, known.iter().copied()) {
        Some(near) => problem.help(format!("did you mean \"{near}\"?")),
        None => problem,
    }
    .help(format!("known: {}", known.join(", ")))
}
