//! Words about a log.

use crate::logs::{Account, RowFault};

/// A time for people: `43.0 s`, `8 min 20 s`, `2 h 5 min`.
pub(super) fn span_words(seconds: f64) -> String {
    if seconds < 120.0 {
        return format!("{seconds:.1} s");
    }
    let s = seconds.round() as u64;
    match (s / 3600, s / 60 % 60, s % 60) {
        (0, min, 0) => format!("{min} min"),
        (0, min, s) => format!("{min} min {s} s"),
        (h, 0, _) => format!("{h} h"),
        (h, min, _) => format!("{h} h {min} min"),
    }
}

/// Why rows were not used, and how many of those that the account keeps.
pub(super) fn dropped(account: &Account) -> Vec<(String, u64)> {
    let mut list: Vec<(String, u64)> = Vec::new();
    for row in &account.bad_rows.first {
        let why = kind(&row.fault);
        match list.iter_mut().find(|(w, _)| w == why) {
            Some((_, n)) => *n += 1,
            None => list.push((why.into(), 1)),
        }
    }
    let kept = account.bad_rows.first.len() as u64;
    if account.bad_rows.count > kept {
        list.push((
            "not looked at one by one".into(),
            account.bad_rows.count - kept,
        ));
    }
    if account.duplicates.count > 0 {
        list.push(("a time met before".into(), account.duplicates.count));
    }
    list
}

fn kind(fault: &RowFault) -> &'static str {
    match fault {
        RowFault::Fields { .. } => "another number of fields",
        RowFault::Time(_) => "no time",
        RowFault::NoSuchDay(_) => "no such day",
        RowFault::StrayTime(_) => "a time that does not fit its neighbours",
        RowFault::NoCurrent => "no current",
        RowFault::OverRange => "over the range of the instrument",
        RowFault::Current(_) => "no number where the current stands",
        RowFault::TwoWays(_) => "a number that can be read in two ways",
        RowFault::TooLarge(_) => "more current than is believed",
        RowFault::OpenQuote => "an open quote",
        RowFault::CutOff => "cut off",
        RowFault::ZeroBytes => "zero bytes",
        RowFault::LongLine => "a line longer than any row",
    }
}
