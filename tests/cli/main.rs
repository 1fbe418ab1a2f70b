//! The built program, run as a person runs it.

mod age;
mod files;
mod program;
mod streams;
mod usage;
