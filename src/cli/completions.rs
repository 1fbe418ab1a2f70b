//! `relatch completions` and `relatch manual`: the command line for shells and for `man`, made of
//! what it parses.

use super::failure::{Failure, say};
use super::one_file;
use super::output::print;
use clap::{Args, Command};
use clap_complete::Shell;
use std::path::PathBuf;

/// Name of the program.
const NAME: &str = "relatch";

#[derive(Debug, Args)]
pub struct Completions {
    /// Shell that completes commands, flags and file names
    #[arg(value_enum)]
    shell: Shell,
}

impl Completions {
    /// Prints the script that the shell reads.
    pub fn execute(self, mut command: Command) -> Result<(), Failure> {
        let mut script = Vec::new();
        clap_complete::generate(self.shell, &mut command, NAME, &mut script);
        print(&String::from_utf8_lossy(&script))
    }
}

#[derive(Debug, Args)]
pub struct Manual {
    /// Folder for one page a command, e.g. a `man1` below a folder that `man` looks through
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// Replace pages that are there
    #[arg(long)]
    force: bool,
}

impl Manual {
    /// Writes a page of the program and one of each command.
    pub fn execute(self, mut command: Command) -> Result<(), Failure> {
        command.build();
        let mut pages = Vec::new();
        let inner = command.get_subcommands().cloned();
        for one in std::iter::once(command.clone()).chain(inner.filter(|c| c.get_name() != "help"))
        {
            let name = one.get_display_name().unwrap_or(one.get_name());
            let path = self.out.join(format!("{name}.1"));
            let mut text = Vec::new();
            clap_mangen::Man::new(one)
                .render(&mut text)
                .map_err(|error| Failure::Failed(format!("error: {}: {error}", path.display())))?;
            pages.push((path, text));
        }
        let files: Vec<_> = pages
            .iter()
            .map(|(path, text)| (path.as_path(), &text[..]))
            .collect();
        one_file::write_all(&files, self.force)?;
        say(&format!("{} pages in {}", files.len(), self.out.display()));
        Ok(())
    }
}
