//! A recorded log in a line or two.

use crate::evidence::LogFindings;
use crate::present::number::spoken;

/// What was read of a log and what had to be assumed for it; its import in full stands in the findings.
pub(crate) fn log_line(log: &LogFindings) -> String {
    let counted = |n: u64, one: &str, many: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {many}")),
    };
    let mut told = vec![format!(
        "{} of {} rows used, one every {}, {}",
        log.rows_used,
        log.rows_read,
        spoken(log.interval_s).replace(".0 s", " s"),
        spoken(log.lasting_s)
    )];
    told.extend(counted(log.trips.len() as u64, "trip", "trips"));
    told.extend(counted(log.gaps, "gap", "gaps"));
    told.extend(counted(
        log.clock_jumps,
        "jump of the clock",
        "jumps of the clock",
    ));
    if log.too_slow {
        told.push("too slow to see starts".to_owned());
    }
    let mut text = format!("{}: {}.", log.file, told.join("; "));
    if !log.assumed.is_empty() {
        text += &format!(" Assumed: {}.", log.assumed.join("; "));
    }
    text
}
