//! The program: parse, call, exit code. 0: computed; 1: computation impossible or failed; 2: wrong
//! input or usage.

use clap::Parser;
use relatch::internals::cli;
use std::process::ExitCode;

fn main() -> ExitCode {
    let read = match cli::Cli::try_parse() {
        Ok(read) => read,
        Err(error) if error.use_stderr() => return cli::Failure::Input(error.to_string()).report(),
        Err(error) => error.exit(),
    };
    match cli::run(read) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.report(),
    }
}
