//! Populations of units: how widely they scatter, which tolerance deserves the money, and how many
//! trip too late or too early.
//!
//! The numbers that differ carry a tolerance in the scenario ([`inputs`]); each unit is a point of
//! a design ([`design`]), found by its number alone. What is asked of a unit stands in a [`Plan`];
//! units are computed in chunks ([`chunk`]), each kept on disk as it is finished ([`ledger`]), and
//! what a chunk leaves behind merges to the same bytes however the work was cut ([`tally`]). From
//! the whole tally a [`VaryOutcome`] is made.
//!
//! Scatter is that of the parts. What the model itself does not know (the alloys' laws, the heat
//! given to still air) moves all units alike and is not in it.

pub mod chunk;
pub mod design;
mod dialled;
mod error;
pub mod inputs;
mod instantaneous;
#[cfg(feature = "files")]
pub mod ledger;
pub mod outcome;
#[cfg(feature = "files")]
mod piece;
mod plan;
mod sensitivity;
mod settings;
mod single;
mod surrogate;
mod table;
pub mod tally;
mod unit;

pub use crate::statistics::rates::{Quantile, Rate};
pub use error::VaryError;
pub use instantaneous::InstantaneousRecord;
#[cfg(feature = "files")]
pub use ledger::{Found, Ledger, Shards, merge};
pub use outcome::*;
pub use plan::{Demand, LimitRow, Plan};
pub use settings::{Design, Settings, Shard};
pub use single::{SingleUnit, single};
pub use surrogate::SurrogateRecord;
pub use table::si_suffix;

use crate::predict::parallel;
use crate::scenario::Scenario;

/// A whole population, kept in memory alone.
///
/// # Errors
/// Nothing varies, impossible parts, or a failure of the engine.
pub fn in_memory(scenario: &Scenario, settings: &Settings) -> Result<VaryOutcome, VaryError> {
    let plan = Plan::new(scenario, settings)?;
    let chunks = settings.own_chunks();
    let parts = parallel::map(&chunks, |c| chunk::compute(&plan, *c), &mut |_| {});
    let mut whole = tally::Tally::new(&plan)?;
    for part in parts {
        whole.merge(&part?.0)?;
    }
    VaryOutcome::new(&plan, &whole)
}
