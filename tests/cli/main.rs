//! The built program, run as a person runs it.

mod explain;
mod files;
mod program;
mod streams;
mod usage;
