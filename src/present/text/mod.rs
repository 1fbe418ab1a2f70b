//! Screens of text that are not yet lists of blocks.

mod diagnosis;
mod page;
mod watch;

pub use diagnosis::{diagnosis_screen, diagnosis_text};
pub use watch::{watch_head, watch_line, watch_status};
