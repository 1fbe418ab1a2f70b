//! What people see: the program as they run it, what it renders, its page, the README and the
//! scenarios.

#[path = "../support/program.rs"]
mod program;
#[path = "../support/screens.rs"]
mod screens;
#[path = "../support/mod.rs"]
mod support;

mod agree;
mod cli;
mod page;
mod present;
mod readme;
mod scenarios;
mod surface;
