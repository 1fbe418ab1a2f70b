//! A recorded log in a line.

use crate::evidence::LogFindings;
use crate::logs::RowFault;
use crate::present::number::spoken;

/// Lines of rows that were not used, named.
const NAMED: usize = 4;

/// What was read of a log; its import in full, with what was assumed, is `log_findings`.
pub(crate) fn log_line(log: &LogFindings) -> String {
    let counted = |n: u64, one: &str, many: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {many}")),
    };
    let account = &log.account;
    let used = say!("{} of {} rows used", account.rows_used, account.rows_read);
    let bad = &account.bad_rows;
    let named = bad.first.iter().take(NAMED).map(|row| row.line.to_string());
    let more = (bad.count > NAMED as u64).then(|| "...".to_owned());
    let named: Vec<String> = named.chain(more).collect();
    let not = (!named.is_empty()).then(|| say!("not line {}", named.join(", ")));
    let over = bad
        .first
        .iter()
        .find(|row| row.fault == RowFault::OverRange);
    let over = over.map(|row| say!("over the range of its meter in line {}", row.line));
    let gap_s: f64 = log.trips.iter().map(|trip| trip.gap_s).sum();
    let gap = (gap_s > 0.0).then(|| say!("{} before the trip missing", spoken(gap_s)));
    let told = [
        Some(used),
        not,
        over,
        counted(log.trips.len() as u64, word!("trip"), word!("trips")),
        counted(account.gaps.count, word!("gap"), word!("gaps")),
        gap,
        counted(
            account.clock_jumps.count,
            word!("jump of the clock"),
            word!("jumps of the clock"),
        ),
        log.too_slow()
            .then(|| word!("too slow for starts").to_owned()),
        (!log.layout.assumptions.is_empty()).then(|| word!("with assumptions").to_owned()),
    ];
    let told: Vec<String> = told.into_iter().flatten().collect();
    format!("{}: {}.", log.file, told.join("; "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::{LogQuestions, from_log};
    use crate::logs::LogReader;

    #[test]
    fn rows_that_were_not_used_and_what_is_missing_are_named() {
        let mut text = String::from("time (s),current RMS (A)\n");
        for s in (0..400).filter(|s| !(100..140).contains(s)) {
            text += &match s {
                20 => "20,OL\n".to_owned(),
                30 => "30,broken\n".to_owned(),
                10..300 => format!("{s},16.7\n"),
                _ => format!("{s},0\n"),
            };
        }
        let open = || LogReader::new("mill", text.as_bytes(), Default::default());
        let log =
            from_log("mill", &LogQuestions::default(), open).unwrap_or_else(|e| panic!("{e}"));
        let said = log_line(&log.findings);
        for told in [
            "not line 22, 32",
            "over the range of its meter in line 22",
            "before the trip missing",
        ] {
            assert!(said.contains(told), "{told}: {said}");
        }
    }
}
