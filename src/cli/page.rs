//! `relatch page`: a page with sliders, served to a browser on this machine.

use super::Failure;
use super::engine::{self, Preset, Server};
use super::job::{Sets, read_all};
use super::output::print;
use clap::Args;
use std::io::ErrorKind;
use std::path::PathBuf;

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
}

impl Page {
    /// Serves until interrupted. The address is printed; no browser is opened.
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
        let shipped = engine::shipped().map_err(|e| Failure::Failed(format!("error: {e}")))?;
        let taken = |id: &str| presets.iter().any(|p: &Preset| p.id == id);
        let shipped: Vec<Preset> = shipped.into_iter().filter(|p| !taken(&p.id)).collect();
        presets.extend(shipped);
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
}

fn no_port(port: u16, error: &std::io::Error) -> Failure {
    let message = match error.kind() {
        ErrorKind::AddrInUse => {
            format!("error: port {port} of 127.0.0.1 is taken; leave --port out to take a free one")
        }
        ErrorKind::PermissionDenied => format!(
            "error: port {port} of 127.0.0.1 is not allowed to you; ports from 1024 on are, or leave --port out"
        ),
        _ => format!("error: cannot listen on port {port} of 127.0.0.1: {error}"),
    };
    Failure::Input(message)
}
