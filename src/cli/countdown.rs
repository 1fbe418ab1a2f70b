//! `relatch wait --watch`: a wait counted down.

use super::Failure;
use super::output::print;
use crate::present::words::{self, left, stopped};
use std::io::{IsTerminal, stdout};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

/// How often a terminal is written to.
const TICK: Duration = Duration::from_millis(200);

/// Whether a plain line is due when a count goes from one moment to a later one: every second at
/// the end, else every ten, and every minute where more than five are left.
fn is_due(before_s: f64, now_s: f64) -> bool {
    let step = match now_s {
        ..=5.0 => 1.0,
        ..=300.0 => 10.0,
        _ => 60.0,
    };
    (before_s / step).ceil() != (now_s / step).ceil()
}

/// Counts down to each moment, until the last or until interrupted: one line that changes on a
/// terminal, else plain lines.
pub fn count_down(targets: &[(f64, &'static str)]) -> Result<(), Failure> {
    let interrupted = Arc::new(AtomicBool::new(false));
    let seen = Arc::clone(&interrupted);
    ctrlc::set_handler(move || seen.store(true, Ordering::Relaxed))
        .map_err(|e| Failure::Failed(format!("error: cannot wait for Ctrl-C: {e}")))?;
    let is_terminal = stdout().is_terminal();
    let (start, before, end) = match is_terminal {
        true => ("\r\x1b[K", "", "\n"),
        false => ("", "\n", "\n"),
    };
    print(&format!("{}\n", words::count_head()))?;
    let began = Instant::now();
    for (target_s, what) in targets {
        let mut told_s = f64::INFINITY;
        loop {
            let passed_s = began.elapsed().as_secs_f64();
            let left_s = (target_s - passed_s).max(0.0);
            if interrupted.load(Ordering::Relaxed) {
                return print(&format!("{start}{}\n", stopped(passed_s)));
            }
            if left_s <= 0.0 {
                print(&format!("{start}{}{end}", left(0.0, what)))?;
                break;
            }
            if is_terminal || told_s.is_infinite() || is_due(told_s, left_s) {
                print(&format!("{start}{}{before}", left(left_s, what)))?;
                told_s = left_s;
            }
            std::thread::sleep(TICK.min(Duration::from_secs_f64(left_s)));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn plain_lines_come_seldom_and_every_second_at_the_end() {
        let lines = |from: u32, to: u32| {
            (to..from)
                .filter(|s| is_due(f64::from(*s) + 1.0, f64::from(*s)))
                .count()
        };
        assert_eq!(lines(5, 0), 5);
        assert_eq!(lines(300, 240), 6);
        assert_eq!(lines(3600, 3000), 10);
    }
}
