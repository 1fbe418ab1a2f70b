//! A programme is a list of segments, done once, several times or for ever. The last value is kept
//! after the end of a programme that is done once or several times.

/// A current programme.
#[derive(Debug, Clone, PartialEq)]
pub struct Programme {
    /// Segments in order (at least one). Only the last may last for ever.
    pub segments: Vec<Segment>,
    /// How often the segments are done.
    pub repeat: Repeat,
}

/// One piece of a programme.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// How long, s (> 0; infinite only in the last segment of a programme done once).
    pub duration_s: f64,
    /// Current within the segment.
    pub current: Current,
}

/// Current within a segment; time counts from the start of the segment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Current {
    /// Constant, A rms.
    Constant(f64),
    /// Straight line over the segment's (finite) duration, A rms.
    Linear {
        /// At the start of the segment, A.
        from_a: f64,
        /// At the end of the segment, A.
        to_a: f64,
    },
    /// Inrush decaying exponentially to a running current, A rms.
    Decay {
        /// At the start, A.
        from_a: f64,
        /// Long after, A.
        to_a: f64,
        /// Time constant, s.
        time_constant_s: f64,
    },
}

/// How often the segments are done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Repeat {
    /// Once; the final current then stays.
    Once,
    /// This many times; the final current then stays.
    Times(u32),
    /// For ever.
    Forever,
}
