//! An armature on its way, for a moving picture.

/// One closing, from its first moment to the release.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Strike {
    /// Closing angle after voltage zero, degrees: the one that releases soonest.
    pub angle_deg: f64,
    /// Working gap at rest, mm.
    pub gap_mm: f64,
    /// Closing of the gap at which the striker meets the trigger, mm.
    pub strike_mm: f64,
    /// Closing of the gap at which the trigger releases, mm.
    pub release_mm: f64,
    /// When the striker first meets the trigger, s.
    pub strike_s: Option<f64>,
    /// In order of time.
    pub frames: Vec<StrikeFrame>,
}

/// One frame.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct StrikeFrame {
    /// Since closing, s.
    pub time_s: f64,
    /// A.
    pub current_a: f64,
    /// Closing of the gap, mm.
    pub closing_mm: f64,
    /// Pull of the gap, N.
    pub pull_n: f64,
    /// Spring, weight and trigger against it, N.
    pub against_n: f64,
}
