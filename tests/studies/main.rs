//! Many parts at once: populations, fits of published characteristics, and the logs of invented
//! machines.

#[path = "../support/program.rs"]
#[allow(dead_code)]
mod program;
#[path = "../support/reviewed.rs"]
mod reviewed;
#[path = "../support/mod.rs"]
mod support;

mod case_logs;
mod compare;
mod design;
mod failures;
mod fit;
mod population;
mod quick;
mod statistics;
mod sweep;
