//! What every answer is made of: a number with its doubt, a trip, a wait, a caution. Types alone;
//! the words for them live in `present`.

mod caution;
mod demand;
mod estimate;
mod known;
mod trip;
mod wait;

pub use caution::{Caution, Place};
pub use demand::LimitDemand;
pub use estimate::Estimate;
pub use known::{DataBand, DataShare, DataSource, Known, MetalData};
pub use trip::{Failed, Held, NoProof, PropertyName, TripTime};
pub use wait::{Wait, WhyNever, WhyNotAsked};
