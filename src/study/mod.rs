//! Many predictions at once: years of wear, populations of units, sweeps, comparisons, designs; and
//! one prediction by hand, with lessons made of it.

pub mod ageing;
pub mod by_hand;
pub mod compare;
pub mod design;
pub mod failures;
pub mod lesson;
pub mod population;
pub mod summary;
pub mod sweep;
