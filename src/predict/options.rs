//! What is computed beyond the main answers.

use super::Halt;
use super::curve::Sketch;

/// Whether the answers are asked again for what is known of the metals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[non_exhaustive]
pub enum AskMetals {
    /// With the tables, for parts that are marched in registers: some hundredths of a second.
    #[default]
    WithTables,
    /// For parts that are marched in registers, with tables or without.
    WhereCheap,
    /// For every part.
    Always,
}

/// What to compute beyond the main answers.
#[derive(Debug, Clone, Default)]
#[non_exhaustive]
pub struct Options {
    /// Compute the time-current characteristic.
    pub characteristic: bool,
    /// Currents of the characteristic, A; `None`: chosen.
    pub currents_a: Option<Vec<f64>>,
    /// Fraction of rated current of the hot curve (0.8 when 0).
    pub hot_fraction: f64,
    /// Compute the trip time again by explicit steps.
    pub cross_check: bool,
    /// Leave out the tables (preload shift, ambient correction, premature reset).
    pub without_tables: bool,
    /// When the answers are asked again for what is known of the metals.
    pub metals: AskMetals,
    /// Keep the frames of a moving picture.
    pub film: bool,
    /// Leave out the recorded course: series, states, events and the energy account are empty then,
    /// the shapes are those at the start and at the end of carrying, and ranges and limits are held
    /// against the states at the start, at release and at open contacts alone.
    pub without_course: bool,
    /// A few points of the cold curve in place of the whole characteristic.
    pub sketch: Option<Sketch>,
    /// When to give up.
    pub halt: Halt,
}
