//! A diagnosis for the person at the machine: one screen that is read in ten seconds, or everything.

mod full;
mod lines;
mod screen;
mod screen_next;
mod screen_why;

pub use full::diagnosis_text;
pub use screen::diagnosis_screen;
