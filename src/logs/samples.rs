//! True RMS of instantaneous samples over windows.

use super::row::{Current, Row};

/// Joins samples to windows.
pub(super) struct Windows {
    window_s: f64,
    open: Option<Open>,
}

struct Open {
    first: Row,
    squares: f64,
    count: u64,
    last_s: f64,
    ambient: (f64, u64),
}

impl Windows {
    pub fn new(window_s: f64) -> Self {
        Windows {
            window_s,
            open: None,
        }
    }

    /// Takes a sample; hands out the window before when it begins a new one.
    pub fn push(&mut self, sample: &Row) -> Option<Row> {
        let squared = sample.current_a.value * sample.current_a.value;
        let ends = |o: &Open| {
            let length = sample.time_s - o.first.time_s;
            sample.gap_before || length > self.window_s - 0.5 * sample.interval_s
        };
        let done = if self.open.as_ref().is_some_and(ends) {
            self.finish()
        } else {
            None
        };
        let open = self.open.get_or_insert(Open {
            first: *sample,
            squares: 0.0,
            count: 0,
            last_s: sample.time_s,
            ambient: (0.0, 0),
        });
        open.squares += squared;
        open.count += 1;
        open.last_s = sample.time_s;
        if let Some(k) = sample.ambient_k {
            open.ambient = (open.ambient.0 + k, open.ambient.1 + 1);
        }
        done
    }

    /// The window that is open.
    pub fn finish(&mut self) -> Option<Row> {
        let open = self.open.take()?;
        let rms = (open.squares / open.count as f64).sqrt();
        let (sum, n) = open.ambient;
        Some(Row {
            current_a: Current {
                value: rms,
                min: None,
                max: None,
            },
            ambient_k: (n > 0).then(|| sum / n as f64),
            interval_s: open.last_s - open.first.time_s + open.first.interval_s,
            ..open.first
        })
    }
}
