//! The program: parse, call, exit code. 0: computed; 1: computation impossible or failed; 2: wrong
//! input or usage.

use clap::Parser;
use relatch::cli;
use std::process::ExitCode;

fn main() -> ExitCode {
    match cli::run(cli::Cli::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.report(),
    }
}
