//! How often a look shows what is there. Common practice, no source.

use crate::evidence::Joints;

/// How often a marking does not agree with the drawing where the rating does not suit, and else.
pub const MARKING_DIFFERS: [f64; 2] = [0.5, 0.02];
/// How often joints that are bad show it to eye or nose, and sound ones seem to.
pub const JOINTS_SHOW: [f64; 2] = [0.65, 0.05];
/// How often a joint that was bad is so still once it was re-made.
pub const STILL_BAD: f64 = 0.05;

/// Probability of what was found at joints that are bad, or are not.
pub fn joints(found: Joints, are_bad: bool) -> f64 {
    let show = JOINTS_SHOW[usize::from(!are_bad)];
    match found {
        Joints::MarksOfHeat => show,
        Joints::NoMarks => 1.0 - show,
        Joints::ReMade if are_bad => STILL_BAD,
        Joints::ReMade => 1.0,
    }
}
