//! Wrong files and the messages they get, reviewed one by one: `FOLDER/NAME.toml` and
//! `FOLDER/NAME.txt`. `RELATCH_BLESS=1` rewrites the messages; read what it wrote.

use std::fmt::Display;
use std::path::Path;

/// Names of the TOML files of a folder, without their ending, in order.
pub fn names(folder: &str) -> Vec<String> {
    let mut names: Vec<String> = std::fs::read_dir(folder)
        .expect("folder")
        .filter_map(|e| {
            let name = e.expect("entry").file_name().into_string().ok()?;
            name.strip_suffix(".toml").map(str::to_owned)
        })
        .collect();
    names.sort();
    names
}

/// Every file of a folder, `least` or more of them, is refused with its reviewed message, and no
/// message says one of the words that no person should see.
pub fn every_file_gets_its_message<T, E: Display>(
    folder: &str,
    least: usize,
    never_says: &[&str],
    read: impl Fn(&Path) -> Result<T, E>,
) {
    let bless = std::env::var_os("RELATCH_BLESS").is_some();
    let names = names(folder);
    assert!(names.len() >= least, "{} wrong files", names.len());
    let mut different = Vec::new();
    for name in names {
        let path = format!("{folder}/{name}.toml");
        let message = match read(Path::new(&path)) {
            Ok(_) => panic!("{path} reads without a problem"),
            Err(e) => format!("{}\n", e.to_string().trim_end()),
        };
        assert!(
            !never_says.iter().any(|words| message.contains(words)),
            "{path}: {message}"
        );
        let expected = format!("{folder}/{name}.txt");
        if bless {
            std::fs::write(&expected, &message).expect("write");
        } else if std::fs::read_to_string(&expected).unwrap_or_default() != message {
            different.push(format!("--- {path} now says:\n{message}"));
        }
    }
    assert!(different.is_empty(), "{}", different.join("\n"));
}
