//! `relatch page`: a page with sliders, served to a browser on this machine.

use super::Failure;
use super::engine::{self, Preset, Server};
use super::job::{Sets, read_all};
use super::one_file;
use super::output::print;
use clap::Args;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Name of the engine as it is built.
const ENGINE: &str = "relatch_hand.wasm";
/// How to get one.
const HOW: &str = "Build it from the source of this program, then name it with --engine:\n  \
    cargo build -p relatch-hand --profile hand --target wasm32-unknown-unknown\n  \
    (it lies in target/wasm32-unknown-unknown/hand then)";

#[derive(Debug, Args)]
pub struct Page {
    /// Scenario to start from; the shipped ones can be chosen on the page
    #[arg(value_name = "SCENARIO")]
    scenario: Option<PathBuf>,
    #[command(flatten)]
    sets: Sets,
    /// Port on 127.0.0.1 [default: a free one]
    #[arg(
        long,
        value_name = "PORT",
        default_value_t = 0,
        hide_default_value = true
    )]
    port: u16,
    /// Write the page with its engine as one file instead, which any browser opens without a server
    #[arg(long, value_name = "FILE", conflicts_with = "port")]
    file: Option<PathBuf>,
    /// The engine for --file, built for WebAssembly [default: relatch_hand.wasm beside the program]
    #[arg(long, value_name = "FILE", requires = "file")]
    engine: Option<PathBuf>,
    /// Replace the file
    #[arg(long, requires = "file")]
    force: bool,
}

impl Page {
    /// Serves until interrupted, or writes the file. The address is printed; no browser is opened.
    pub fn execute(self) -> Result<(), Failure> {
        let mut presets = Vec::new();
        if let Some(path) = &self.scenario {
            let jobs = read_all(std::slice::from_ref(path), &self.sets)?;
            presets.extend(jobs.into_iter().map(|job| Preset {
                id: job.stem,
                text: job.text,
                scenario: job.scenario,
            }));
        } else if !self.sets.is_empty() {
            let why = "there is nothing to set it in: name a scenario, `relatch page SCENARIO`";
            return Err(Failure::of_flag("set", why));
        }
        if let Some(file) = &self.file {
            return self.write(file, &presets);
        }
        let presets =
            engine::with_shipped(presets).map_err(|e| Failure::Failed(format!("error: {e}")))?;
        let server = Server::bind(self.port, presets).map_err(|e| no_port(self.port, &e))?;
        let stop = server.stop();
        ctrlc::set_handler(move || stop.now())
            .map_err(|e| Failure::Failed(format!("error: cannot listen for Ctrl-C: {e}")))?;
        print(&format!(
            "The page is at {} on this machine only.\nCtrl-C ends it.\n",
            server.address()
        ))?;
        server.serve();
        Ok(())
    }

    fn write(&self, file: &Path, own: &[Preset]) -> Result<(), Failure> {
        one_file::check(file, self.force)?;
        let beside = || std::env::current_exe().map(|program| program.with_file_name(ENGINE));
        let path = (self.engine.clone().map_or_else(beside, Ok)).map_err(|e| {
            Failure::Failed(format!("error: cannot tell where the program lies: {e}"))
        })?;
        let unread = |e: std::io::Error| {
            let path = path.display();
            Failure::Input(format!("error: no engine in {path}: {e}\n{HOW}"))
        };
        let engine = std::fs::read(&path).map_err(unread)?;
        let page = engine::one_file(&engine, own).map_err(unread)?;
        one_file::write(file, &page, self.force)?;
        let size = page.len() as f64 / 1e6;
        print(&format!(
            "The page is in {} ({size:.1} MB); a browser opens it, no network is needed.\n",
            file.display()
        ))
    }
}

fn no_port(port: u16, error: &std::io::Error) -> Failure {
    let message = match error.kind() {
        ErrorKind::AddrInUse => {
            format!("error: port {port} of 127.0.0.1 is taken; leave --port out to take a free one")
        }
        ErrorKind::PermissionDenied => format!(
            "error: port {port} of 127.0.0.1 is not allowed to you; ports from 1024 on are, or \
             leave --port out"
        ),
        _ => format!("error: cannot listen on port {port} of 127.0.0.1: {error}"),
    };
    Failure::Input(message)
}
