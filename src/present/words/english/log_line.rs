//! A recorded log in a line or two.

use super::log_import::log_assumption;
use crate::evidence::LogFindings;
use crate::present::number::spoken;

/// What was read of a log and what had to be assumed for it; its import in full is `log_findings`.
pub(crate) fn log_line(log: &LogFindings) -> String {
    let counted = |n: u64, one: &str, many: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {many}")),
    };
    let mut told = vec![format!(
        "{} of {} rows used, one every {}, {}",
        log.account.rows_used,
        log.account.rows_read,
        spoken(log.account.interval_s).replace(".0 s", " s"),
        spoken(log.account.last_time_s - log.account.first_time_s)
    )];
    told.extend(counted(log.trips.len() as u64, "trip", "trips"));
    told.extend(counted(log.account.gaps.count, "gap", "gaps"));
    told.extend(counted(
        log.account.clock_jumps.count,
        "jump of the clock",
        "jumps of the clock",
    ));
    if log.too_slow() {
        told.push("too slow to see starts".to_owned());
    }
    let mut text = format!("{}: {}.", log.file, told.join("; "));
    let assumed: Vec<String> = log.layout.assumptions.iter().map(log_assumption).collect();
    if !assumed.is_empty() {
        text += &format!(" Assumed: {}.", assumed.join("; "));
    }
    text
}
