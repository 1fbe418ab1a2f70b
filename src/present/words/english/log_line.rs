//! A recorded log in a line.

use crate::evidence::LogFindings;

/// What was read of a log; its import in full, with what was assumed, is `log_findings`.
pub(crate) fn log_line(log: &LogFindings) -> String {
    let counted = |n: u64, one: &str, many: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {many}")),
    };
    let account = &log.account;
    let used = say!("{} of {} rows used", account.rows_used, account.rows_read);
    let told = [
        Some(used),
        counted(log.trips.len() as u64, word!("trip"), word!("trips")),
        counted(account.gaps.count, word!("gap"), word!("gaps")),
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
