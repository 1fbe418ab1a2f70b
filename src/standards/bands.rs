//! Bands of instantaneous release.

use serde::{Deserialize, Serialize};

/// A type of instantaneous release: multiples of the rated current, rms. Up to the lower one it
/// does not release within 0.1 s, from the upper one on it releases in less. Direct current is
/// another document.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Band {
    /// 3 to 5.
    B,
    /// 5 to 10.
    C,
    /// 10 to 20.
    D,
}

impl Band {
    /// All of them, from the lowest.
    pub const ALL: [Band; 3] = [Self::B, Self::C, Self::D];
    /// All of them, as they are written.
    pub const NAMES: [(&'static str, Band); 3] = [("B", Self::B), ("C", Self::C), ("D", Self::D)];
    /// Document, and how it was seen.
    pub const SOURCE: &'static str = "IEC 60898-1:2015, instantaneous tripping (as quoted in an instruction manual and a product page; one source prints 15 for the upper limit of D)";

    /// Lower and upper multiple of the rated current.
    pub fn multiples(self) -> [f64; 2] {
        match self {
            Self::B => [3.0, 5.0],
            Self::C => [5.0, 10.0],
            Self::D => [10.0, 20.0],
        }
    }
}
