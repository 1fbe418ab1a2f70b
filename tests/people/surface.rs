//! The records that a caller of the library sees may grow.

use std::fs;
use std::path::Path;

/// Paths that a tree of `use` names, each without what it is called here.
fn named(tree: &str, before: &str, found: &mut Vec<String>) {
    let (mut depth, mut start) = (0, 0);
    let mut parts = Vec::new();
    for (k, c) in tree.char_indices() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                parts.push(&tree[start..k]);
                start = k + 1;
            }
            _ => {}
        }
    }
    parts.push(&tree[start..]);
    for part in parts.into_iter().map(str::trim).filter(|p| !p.is_empty()) {
        match part.split_once('{') {
            Some((room, inside)) => {
                let inside = inside.strip_suffix('}').expect("a closed brace");
                named(inside, &format!("{before}{room}"), found);
            }
            None => {
                let name = part.split(" as ").next().unwrap_or(part);
                found.push(format!("{before}{name}"));
            }
        }
    }
}

/// Every file below a folder, with its text.
fn texts(folder: &Path, found: &mut Vec<(String, String)>) {
    for entry in fs::read_dir(folder).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.is_dir() {
            texts(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            let text = fs::read_to_string(&path).expect("text");
            found.push((path.display().to_string(), text));
        }
    }
}

/// Whether a record or enum of a name is declared here, and whether it may grow.
fn may_grow(text: &str, name: &str) -> Option<bool> {
    let declared = ["struct", "enum"].into_iter().find_map(|kind| {
        let start = text.find(&format!("\npub {kind} {name} {{\n"))?;
        Some((kind, start))
    });
    let (kind, start) = declared?;
    let body = &text[start..];
    let body = &body[..body.find("\n}").unwrap_or(body.len())];
    // Whose fields are all private is made by functions alone.
    if kind == "struct" && !body.contains("\n    pub ") {
        return None;
    }
    let before = &text[..start];
    let attributes = &before[before.rfind("\n\n").unwrap_or(0)..];
    Some(attributes.contains("#[non_exhaustive]"))
}

#[test]
fn every_public_record_may_grow() {
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let lib = fs::read_to_string(source.join("lib.rs")).expect("text");
    let shown = &lib[lib.find("pub use facade").expect("the functions")..];
    let shown = &shown[..shown.find("pub mod internals").expect("the rooms")];
    // Rows of tables and what figures draw are not promised.
    let (before, hidden) = shown.split_once("pub mod details").expect("details");
    let after = &hidden[hidden.find("\n}\n").expect("its end")..];
    let mut paths = Vec::new();
    for text in [before, after] {
        for tree in text.split("pub use crate::").skip(1) {
            let tree = &tree[..tree.find(';').expect("an end")];
            named(&tree.replace('\n', " "), "", &mut paths);
        }
    }
    let mut files = Vec::new();
    texts(&source, &mut files);
    let mut counted = 0;
    for path in paths {
        let (room, name) = path.rsplit_once("::").expect("a room");
        let folder = source.join(room.replace("::", "/")).display().to_string();
        let is_inside = |file: &str| file.starts_with(&folder);
        let inside: Vec<bool> = files
            .iter()
            .filter(|(file, _)| is_inside(file))
            .filter_map(|(_, text)| may_grow(text, name))
            .collect();
        // Some rooms hand on what is declared elsewhere.
        let all = match inside.is_empty() && source.join(room.replace("::", "/")).exists() {
            true => files
                .iter()
                .filter_map(|(_, text)| may_grow(text, name))
                .collect(),
            false => inside,
        };
        assert!(
            all.iter().all(|grows| *grows),
            "{path} lacks #[non_exhaustive]"
        );
        counted += all.len();
    }
    assert!(counted > 140, "{counted}");
}
