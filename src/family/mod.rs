//! Parts that a nameplate may stand for: a family of physical devices whose predictions lie within
//! the published limits.
//!
//! A technician knows a rating, perhaps a standard, never a layer. So a nameplate becomes a prior:
//! physical designs drawn over the dimensions that such parts have, each placed by the trip point
//! (as a multiple of the rating) and the pace (a factor on all its heat capacities) that it may
//! have and still keep the published limits. Every answer is then a range over that family.
//!
//! ```
//! use relatch::internals::family::{Family, Nameplate};
//! let family = Family::new(&Nameplate::of_rating(10.0), 32).unwrap();
//! assert!(family.members().len() > 16);
//! ```

mod assumed;
mod fit;
mod kinds;
mod member;
mod nameplate;
mod not_modelled;
mod outside;
mod part;
mod parts_wait;
mod prior;
mod quick;
mod ready;
mod shape;
mod spread;
mod timed;
mod told;
mod trip_times;
mod wait;

pub use assumed::Assumed;
pub use fit::{
    AirFit, BandRow, BestPart, Effort, FitAnswer, FitCurve, FitError, FitRow, Kept, LeftOpen,
    Preload, Printed, fit_in, fit_with,
};
pub use kinds::{AT_ONCE_S, CYCLING, Element, Instantaneous, Loaded, log_over_held};
pub use member::Member;
pub use nameplate::{AirRow, Nameplate, Point, Window};
pub use not_modelled::LeftOut;
pub use outside::{AT_LEAST, MAY_BE_LOW, MOST_LOSS, soonest_s, too_late};
pub use part::{Carries, Drawn, Part, Placing, Run, Wear};
pub use parts_wait::PartsWait;
pub use prior::{Family, FamilyError, NoFamily};
pub use quick::{Fixed, Quick, QuickPart, Steps, falls};
pub use ready::{Opened, Start};
pub use spread::Spread;
pub(crate) use spread::spread;
pub use timed::Timed;
pub use told::{Said, Told};
pub(crate) use wait::draws;
pub use wait::{Agreement, Early, Sits, WaitAnswer, WaitQuestion, wait};
