//! The protector in SI numbers: strip, nodes, contact, release, and its heat equation on a grid.

mod across;
mod blade;
mod build;
mod chebyshev;
mod contact_pair;
mod cooling;
mod drive;
mod energy;
mod fast;
mod gauge;
mod grid;
mod jacobian;
mod model;
mod plant;
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
    Along, AlongParts, Beside, BladeDistance, EventDistance, Fitted, Gauge, GaugeParts, LaneLoad,
    LatchDistance, LayerUnit, MOST_LAYERS, Sheet, StripFit, Unit, WindingUnit,
};
pub use gauge::PlantEvent;
pub use grid::{Element, Fineness, Grid, gauss_lobatto};
pub use model::{Layout, Model};
pub use plant::Plant;
pub use strip_laws::{Bend, Line, StripLaws};
pub use through::{Station, ThroughLaw, quasi_steady_across};
