//! `relatch page`: a page with sliders, served to a browser on this machine.

use super::Failure;
use super::engine::{self, Preset, Server};
use super::output::print;
use clap::Args;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

#[derive(Debug, Args)]
pub struct Page {
    /// Scenario to start from; the shipped ones can be chosen on the page
    #[arg(value_name = "SCENARIO")]
    scenario: Option<PathBuf>,
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
            presets.push(given(path)?);
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

fn given(path: &Path) -> Result<Preset, Failure> {
    let wrong = |e: &dyn std::fmt::Display| Failure::Input(e.to_string());
    let text = engine::file_text(path).map_err(|e| wrong(&e))?;
    let scenario = engine::read_text(&path.display().to_string(), &text).map_err(|e| wrong(&e))?;
    let id = path.file_stem().unwrap_or_default().to_string_lossy();
    Ok(Preset {
        id: id.into_owned(),
        text,
        scenario,
    })
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
