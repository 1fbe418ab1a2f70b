//! Many predictions at once: years of wear, populations of units.

pub mod ageing;
pub mod population;
