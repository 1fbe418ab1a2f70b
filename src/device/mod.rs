//! The protector in SI numbers: strip, nodes, contact, release, and its heat equation on a grid.
//!
//! ```
//! use relatch::internals::device::{Device, Fineness, Model};
//!
//! let scenario = relatch::load("scenarios/08-worked-strip.toml".as_ref())?;
//! let device = Device::new(&scenario)?;
//! assert!(device.resistance_ohm(400.0) > device.resistance_ohm(300.0));
//! // One element over the whole strip, of order 9: ten nodes, and the terminals beside them.
//! let fineness = Fineness { order: 9, end_element_m: device.length_m };
//! assert!(Model::new(&device, fineness).layout.temperatures() > 10);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod across;
mod bending;
mod build;
mod chebyshev;
mod contact_pair;
mod cooling;
mod drive;
mod energy;
mod fast;
mod grid;
mod jacobian;
mod magnet;
mod model;
mod plant;
mod poles;
mod release;
mod strip_laws;
mod through;
mod time_slope;

pub use across::{Across, AcrossDistance};
pub use build::{Device, DeviceError};
pub use contact_pair::ContactPair;
pub use cooling::{CoolingLaw, FilmFit};
pub use drive::{Ambient, Drive, Phase};
pub use energy::{EnergyBalance, HeatFlows, Powers};
pub use fast::{
    Along, AlongParts, Beside, EventDistance, Fitted, GaugeParts, LaneLoad, LayerUnit, MOST_LAYERS,
    PushDistance, Sheet, StripFit, Unit, WindingUnit,
};
pub use grid::{Element, Fineness, Grid};
pub use magnet::{DirectCurrents, Magnet, Reach};
pub use model::{Layout, Model};
pub use plant::Plant;
pub use release::{AtSnap, Gauge, Outline, PlantEvent, Push, ReleaseMechanism};
pub use strip_laws::{Bend, Line, StripLaws};
pub use through::{Station, ThroughLaw, quasi_steady_across};
