//! The engine against itself, against laws that hold for every device, and against programs that
//! share nothing with it.

#[path = "../formulas/adiabatic.rs"]
#[allow(dead_code)] // the other formulas are those of tests/published
mod adiabatic;
#[path = "../../benches/peers/mod.rs"]
mod peers;
#[path = "../support/sheet.rs"]
mod sheet;
#[path = "../support/side_by_side.rs"]
mod side_by_side;
#[path = "../support/steps.rs"]
mod steps;
#[path = "../support/mod.rs"]
mod support;
#[path = "../support/volumes.rs"]
mod volumes;

mod across_layers;
mod convergence;
mod convergence_figure;
mod cooling;
mod cross_check;
mod dial;
mod discs;
mod error_bar;
mod grid;
mod identities;
mod landscapes;
mod magnet;
mod matrix;
mod mechanisms;
mod metals;
mod peer_errors;
mod poles;
mod programme;
mod snap_blades;
mod strong_currents;
mod through_thickness;
mod wide;
