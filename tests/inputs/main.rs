//! What people write - scenarios, cases, logs, flags - is read as meant, or refused in words that
//! help.

#[path = "../support/reviewed.rs"]
mod reviewed;
#[path = "../support/mod.rs"]
mod support;

mod accuracy;
mod cases;
mod json_schema;
mod logs;
mod materials;
mod odd_inputs;
mod pchip;
mod properties;
mod quantities;
mod reports;
mod set;
mod stop_watch;
mod wrong_inputs;
mod wrong_log_flags;
