//! Commands, one file each. They read, call the library and print; they compute nothing.

mod age;
mod amount;
pub mod ask;
mod cite;
mod compare;
mod completions;
mod countdown;
mod curve;
mod design;
mod diagnose;
mod engine;
mod explain;
mod failure;
mod failures;
mod fit;
mod gallery;
mod job;
mod kind;
mod lesson;
mod log_answers;
mod materials;
mod merge;
mod new;
mod one_file;
mod output;
mod page;
mod prints;
mod progress;
mod run;
mod standard_input;
mod sweep;
mod vary;
mod wait;
mod watch;

use crate::present::language::{Language, Locale, speaking};
use crate::solve::wide::use_at_most;
use clap::{CommandFactory, Parser, Subcommand};
pub use failure::Failure;

/// Predicts when a resettable thermal protector trips, how long it must cool before it can be
/// reset, and how lost spring preload moves both.
#[derive(Debug, Parser)]
#[command(version, about, max_term_width = 100)]
pub struct Cli {
    #[command(subcommand)]
    command: Command,

    /// Language of screens, reports, figures and work orders: en, de, es or fr; without it as LC_ALL,
    /// LC_MESSAGES or LANG say. Files that programs read, help and errors are in English
    #[arg(long, global = true, value_name = "LANGUAGE", value_parser = locale)]
    language: Option<Locale>,
}

fn locale(name: &str) -> Result<Locale, String> {
    let known = Language::ALL.map(|l| format!("{} ({})", l.code(), l.name()));
    Locale::of(name).ok_or_else(|| format!("it is one of {}", known.join(", ")))
}

/// The language of the terminal, English where it is none that is spoken here.
fn set_locale(set: impl Fn(&str) -> Option<String>) -> Locale {
    let names = ["LC_ALL", "LC_MESSAGES", "LANG"];
    let first = names
        .into_iter()
        .find_map(|n| set(n).filter(|v| !v.is_empty()));
    first
        .and_then(|name| Locale::of(&name))
        .unwrap_or(Locale::ENGLISH)
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Predict the trip, the waits and the shift by lost preload; text and a folder of files
    Run(run::Run),
    /// Predict the time-current characteristic, cold and hot, against published limits
    Curve(curve::Curve),
    /// Hold scenarios against the first: answers, curves, and which difference does what
    Compare(compare::Compare),
    /// How long to wait before the reset and before the start, from a nameplate alone
    Wait(wait::Wait),
    /// What is wrong, how sure that is, what to measure next; a work order
    Diagnose(Box<diagnose::Diagnose>),
    /// Age a part under years of duty: drift, late and early life, what moves them
    Age(age::Age),
    /// Failures per year of units that differ: early, late, and which spread to halve
    Failures(failures::Failures),
    /// Work a scenario by hand, step by step, beside the full model
    Explain(explain::Explain),
    /// Sheets for a class, each pupil with numbers of their own, and a teacher's key
    Lesson(lesson::Lesson),
    /// Fit parts to a published characteristic; the best as a scenario
    Fit(fit::Fit),
    /// Find the part that meets targets; a scenario
    Design(design::Design),
    /// Draw a page of figures, each with the sentence that it proves
    Gallery(gallery::Gallery),
    /// Compute a population of units from the tolerances: scatter, rates, what matters most
    Vary(vary::Vary),
    /// Move one to three numbers of a scenario through ranges: one table, lines or a map
    Sweep(sweep::Sweep),
    /// Join the shards of a population
    Merge(merge::Merge),
    /// Show the materials the program knows, with their sources
    Materials(materials::Materials),
    /// Print a commented scenario file to start from
    New(new::New),
    /// How to cite the program and what its answers rest on, as a citation file (CFF)
    Cite(cite::Cite),
    /// Print the script with which a shell completes commands and flags
    Completions(completions::Completions),
    /// Write manual pages, one a command
    Manual(completions::Manual),
    /// Serve a page with sliders to a browser on this machine
    Page(page::Page),
}

/// Does what the command line says.
pub fn run(cli: Cli) -> Result<(), Failure> {
    registers_wanted(std::env::var("RELATCH_REGISTER_BITS").ok().as_deref())?;
    let locale = cli
        .language
        .unwrap_or_else(|| set_locale(|name| std::env::var(name).ok()));
    speaking(locale, || executed(cli.command))
}

fn executed(command: Command) -> Result<(), Failure> {
    match command {
        Command::Run(command) => command.execute(),
        Command::Curve(command) => command.execute(),
        Command::Compare(command) => command.execute(),
        Command::Wait(command) => command.execute(),
        Command::Diagnose(command) => command.execute(),
        Command::Age(command) => command.execute(),
        Command::Failures(command) => command.execute(),
        Command::Explain(command) => command.execute(),
        Command::Lesson(command) => command.execute(),
        Command::Fit(command) => command.execute(),
        Command::Design(command) => command.execute(),
        Command::Gallery(command) => command.execute(),
        Command::Vary(command) => command.execute(),
        Command::Sweep(command) => command.execute(),
        Command::Merge(command) => command.execute(),
        Command::Materials(command) => command.execute(),
        Command::New(command) => command.execute(),
        Command::Cite(command) => command.execute(),
        Command::Completions(command) => command.execute(Cli::command()),
        Command::Manual(command) => command.execute(Cli::command()),
        Command::Page(command) => command.execute(),
    }
}

/// Narrower registers than the machine's, for whoever wants to see that they give the same.
fn registers_wanted(bits: Option<&str>) -> Result<(), Failure> {
    match bits {
        None | Some("512") => {}
        Some("256") => use_at_most(256),
        Some("128") => use_at_most(128),
        Some(other) => {
            return Err(Failure::Input(format!(
                "error: RELATCH_REGISTER_BITS={other}: registers have 128, 256 or 512 bits"
            )));
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_language_is_that_of_the_terminal() {
        let set = |wanted: &'static str, value: &'static str| {
            set_locale(move |name| (name == wanted).then(|| value.to_owned()))
        };
        assert_eq!(set("LANG", "de_DE.UTF-8").language, Language::German);
        assert_eq!(set("LC_ALL", "fr_FR").language, Language::French);
        assert_eq!(set("LANG", "C.UTF-8"), Locale::ENGLISH);
        assert_eq!(set("LANG", "pl_PL.UTF-8"), Locale::ENGLISH);
        let two = |name: &str| match name {
            "LC_ALL" => Some(String::new()),
            "LC_MESSAGES" => Some("es_MX".to_owned()),
            _ => Some("de".to_owned()),
        };
        let there = set_locale(two);
        assert_eq!(
            (there.language, there.has_decimal_comma),
            (Language::Spanish, false)
        );
    }
}
