//! Many predictions at once: years of wear, populations of units; and one prediction by hand.

pub mod ageing;
pub mod by_hand;
pub mod population;
