//! Points and upright boxes on the sheet.

/// A point on the sheet.
pub(crate) type Point = (f64, f64);

/// An upright box on the sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Area {
    pub(crate) left: f64,
    pub(crate) top: f64,
    pub(crate) right: f64,
    pub(crate) bottom: f64,
}

impl Area {
    pub(crate) const fn new(left: f64, top: f64, right: f64, bottom: f64) -> Self {
        Self {
            left,
            top,
            right,
            bottom,
        }
    }

    /// A square around a point.
    pub(crate) fn around((x, y): Point, half: f64) -> Self {
        Self::new(x - half, y - half, x + half, y + half)
    }

    /// Between two corners, whichever they are.
    pub(crate) fn between(a: Point, b: Point) -> Self {
        Self::new(a.0.min(b.0), a.1.min(b.1), a.0.max(b.0), a.1.max(b.1))
    }

    pub(crate) fn middle(&self) -> Point {
        (
            0.5 * (self.left + self.right),
            0.5 * (self.top + self.bottom),
        )
    }

    /// Whether a place lies between left and right.
    pub(crate) fn spans(&self, x: f64) -> bool {
        (self.left - 0.5..=self.right + 0.5).contains(&x)
    }

    pub(crate) fn width(&self) -> f64 {
        self.right - self.left
    }

    pub(crate) fn height(&self) -> f64 {
        self.bottom - self.top
    }

    /// Its border as a closed line.
    pub(crate) fn outline(&self) -> [Point; 5] {
        let [left, right] = [self.left, self.right];
        let [top, bottom] = [self.top, self.bottom];
        let upper = [(left, top), (right, top)];
        [
            upper[0],
            upper[1],
            (right, bottom),
            (left, bottom),
            upper[0],
        ]
    }

    /// Distance to a point; 0 inside.
    pub(crate) fn distance(&self, p: Point) -> f64 {
        let (dx, dy) = self.apart(p);
        dx.hypot(dy)
    }

    /// How far a point lies beside it, and how far above or below.
    pub(super) fn apart(&self, (x, y): Point) -> (f64, f64) {
        let beyond = |low: f64, at: f64, high: f64| {
            if at < low {
                low - at
            } else if at > high {
                at - high
            } else {
                0.0
            }
        };
        (
            beyond(self.left, x, self.right),
            beyond(self.top, y, self.bottom),
        )
    }

    /// How far another box lies beside it, and how far above or below.
    pub(super) fn beside(&self, other: &Area) -> (f64, f64) {
        (
            (other.left - self.right)
                .max(self.left - other.right)
                .max(0.0),
            (other.top - self.bottom)
                .max(self.top - other.bottom)
                .max(0.0),
        )
    }

    /// The box around both.
    pub(super) fn with(&self, other: &Area) -> Area {
        Area::new(
            self.left.min(other.left),
            self.top.min(other.top),
            self.right.max(other.right),
            self.bottom.max(other.bottom),
        )
    }

    pub(crate) fn overlaps(&self, other: &Area) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Larger by `by` on every side.
    pub(crate) fn grown(&self, by: f64) -> Area {
        Area::new(
            self.left - by,
            self.top - by,
            self.right + by,
            self.bottom + by,
        )
    }

    pub(crate) fn holds(&self, other: &Area) -> bool {
        self.left <= other.left
            && self.top <= other.top
            && self.right >= other.right
            && self.bottom >= other.bottom
    }
}
