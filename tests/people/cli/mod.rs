//! The built program, run as a person runs it.

mod age;
mod diagnose;
mod explain;
mod figures;
mod files;
mod fit;
mod streams;
mod usage;
mod wait;
