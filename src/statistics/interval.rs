//! What an estimate with confidence is given as.

/// Lower and upper end of a confidence interval; which method made it, the function says that
/// returned it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Interval {
    /// Lower end.
    pub low: f64,
    /// Upper end.
    pub high: f64,
}
