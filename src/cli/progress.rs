//! Progress on standard error for anything that takes longer than a second.

use super::failure::say;
use indicatif::{ProgressBar, ProgressStyle};
use std::io::{IsTerminal, stderr};
use std::time::{Duration, Instant};

const SILENT: Duration = Duration::from_secs(1);
const STEPS: u64 = 1000;

/// Progress of one prediction: a bar on a terminal, one plain line elsewhere.
pub struct Progress {
    name: String,
    started: Instant,
    is_quiet: bool,
    bar: Option<ProgressBar>,
    has_spoken: bool,
}

impl Progress {
    /// Progress of the prediction called `name`; says nothing when `is_quiet`.
    pub fn new(name: String, is_quiet: bool) -> Self {
        Self {
            name,
            started: Instant::now(),
            is_quiet,
            bar: None,
            has_spoken: false,
        }
    }

    /// `share` (0 to 1) of `stage` is done.
    pub fn update(&mut self, stage: &str, share: f64) {
        if self.is_quiet || self.started.elapsed() < SILENT {
            return;
        }
        if !stderr().is_terminal() {
            if !self.has_spoken {
                say(&format!("{}: computing ({stage})", self.name));
                self.has_spoken = true;
            }
            return;
        }
        let bar = self.bar.get_or_insert_with(|| {
            let bar = ProgressBar::new(STEPS);
            if let Ok(style) = ProgressStyle::with_template("{prefix} [{bar:30}] {msg}") {
                bar.set_style(style.progress_chars("=> "));
            }
            bar.set_prefix(self.name.clone());
            bar
        });
        let share = if share.is_finite() {
            share.clamp(0.0, 1.0)
        } else {
            0.0
        };
        bar.set_position((share * STEPS as f64) as u64);
        bar.set_message(stage.to_owned());
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some(bar) = &self.bar {
            bar.finish_and_clear();
        }
    }
}
