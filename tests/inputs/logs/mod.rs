//! Odd logs and what is read from them, reviewed one by one: `tests/logs/NAME.csv` (or `.txt`) and
//! `NAME.expected`. All of them are invented. `RELATCH_BLESS=1 cargo test --test inputs logs::`
//! rewrites what is expected; read what it wrote.

mod anything;
mod files;
mod long;
mod parts;
mod programmes;
mod segments;

use relatch::internals::logs::{LogError, LogReader, Options, Row};
use relatch::internals::present::log_import;
use std::fs::File;
use std::io::BufReader;
use std::path::PathBuf;

/// Every row of a log of this folder, and its summary.
fn read(name: &str, options: Options) -> Result<(Vec<Row>, String), LogError> {
    let file = BufReader::new(File::open(format!("tests/logs/{name}")).expect("file"));
    let mut log = LogReader::new(name, file, options)?;
    let mut rows = Vec::new();
    while let Some(row) = log.next_row()? {
        rows.push(row);
    }
    Ok((rows, log_import(name, log.layout(), log.account())))
}

fn line(row: &Row) -> String {
    let number = |v: f64| format!("{:.4}", v);
    let maybe = |v: Option<f64>| v.map_or("-".into(), number);
    let c = row.current_a;
    format!(
        "  line {}: {:.4} s, {} A ({} to {}), {} K{}\n",
        row.line,
        row.time_s,
        number(c.value),
        maybe(c.min),
        maybe(c.max),
        maybe(row.ambient_k),
        if row.gap_before { ", after a gap" } else { "" }
    )
}

fn outcome(name: &str) -> String {
    match read(name, Options::default()) {
        Err(e) => format!("{e}\n"),
        Ok((rows, summary)) => {
            let shown = rows
                .iter()
                .take(2)
                .chain(rows.last())
                .map(line)
                .collect::<String>();
            format!("{} rows\n{shown}\n{summary}", rows.len())
        }
    }
}

#[test]
fn every_log_is_read_as_reviewed() {
    let bless = std::env::var_os("RELATCH_BLESS").is_some();
    let mut paths: Vec<PathBuf> = std::fs::read_dir("tests/logs")
        .expect("folder")
        .map(|e| e.expect("entry").path())
        .filter(|p| p.extension().is_some_and(|e| e == "csv" || e == "txt"))
        .collect();
    paths.sort();
    assert!(paths.len() >= 40, "{} logs", paths.len());
    let mut different = Vec::new();
    for path in paths {
        let name = path.file_name().and_then(|n| n.to_str()).expect("name");
        let found = outcome(name);
        assert!(
            !found.contains("NaN") && !found.contains("inf "),
            "{name}: {found}"
        );
        assert!(
            !found.chars().any(|c| c.is_control() && c != '\n'),
            "{name}: {found:?}"
        );
        let expected = path.with_extension("expected");
        if bless {
            std::fs::write(&expected, &found).expect("write");
        } else if std::fs::read_to_string(&expected).unwrap_or_default() != found {
            different.push(format!("--- {name} now gives:\n{found}"));
        }
    }
    assert!(different.is_empty(), "{}", different.join("\n"));
}
