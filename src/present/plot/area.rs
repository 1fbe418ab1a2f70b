//! Points and upright boxes on the sheet.

/// A point on the sheet.
pub(super) type Point = (f64, f64);

/// An upright box on the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Area {
    pub(super) left: f64,
    pub(super) top: f64,
    pub(super) right: f64,
    pub(super) bottom: f64,
}

impl Area {
    /// Distance to a point; 0 inside.
    pub(super) fn distance(&self, p: Point) -> f64 {
        let dx = (self.left - p.0).max(p.0 - self.right).max(0.0);
        let dy = (self.top - p.1).max(p.1 - self.bottom).max(0.0);
        dx.hypot(dy)
    }

    pub(super) fn overlaps(&self, other: &Area) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Larger by `by` on every side.
    pub(super) fn grown(&self, by: f64) -> Area {
        Area {
            left: self.left - by,
            top: self.top - by,
            right: self.right + by,
            bottom: self.bottom + by,
        }
    }

    pub(super) fn holds(&self, other: &Area) -> bool {
        self.left <= other.left
            && self.top <= other.top
            && self.right >= other.right
            && self.bottom >= other.bottom
    }
}
