//! A value that was read, and the bounds it is held to.

use std::ops::Range;

/// A value and where it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Read<T> {
    /// The value.
    pub value: T,
    /// Bytes of the file.
    pub span: Range<usize>,
}

/// What a number may be, SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bounds {
    least: f64,
    most: f64,
    most_allowed: bool,
    zero_allowed: bool,
    hint: &'static str,
}

impl Bounds {
    /// Any finite number.
    pub const ANY: Bounds = Bounds {
        least: f64::NEG_INFINITY,
        most: f64::INFINITY,
        most_allowed: true,
        zero_allowed: true,
        hint: "",
    };

    /// Above zero, up to `most`; `hint` says what is likely meant when it is beyond.
    pub const fn positive(most: f64, hint: &'static str) -> Bounds {
        Bounds {
            least: 0.0,
            most,
            most_allowed: true,
            zero_allowed: false,
            hint,
        }
    }

    /// Zero or above, up to `most`.
    pub const fn not_negative(most: f64, hint: &'static str) -> Bounds {
        Bounds {
            least: 0.0,
            most,
            most_allowed: true,
            zero_allowed: true,
            hint,
        }
    }

    /// Between two numbers, both allowed.
    pub const fn between(least: f64, most: f64, hint: &'static str) -> Bounds {
        Bounds {
            least,
            most,
            most_allowed: true,
            zero_allowed: true,
            hint,
        }
    }

    /// The same, but the largest value itself is not allowed.
    #[must_use]
    pub const fn without_most(mut self) -> Bounds {
        self.most_allowed = false;
        self
    }

    /// The same, up to another largest value.
    #[must_use]
    pub const fn up_to(mut self, most: f64) -> Bounds {
        self.most = most;
        self
    }

    /// Smallest and largest value.
    pub fn ends(&self) -> (f64, f64) {
        (self.least, self.most)
    }

    /// Whether the number is finite and within the bounds.
    pub fn allows(&self, v: f64) -> bool {
        v.is_finite()
            && v >= self.least
            && (v < self.most || (v == self.most && self.most_allowed))
            && (v != 0.0 || self.zero_allowed)
    }

    /// Whether the largest value itself is allowed.
    pub(crate) fn most_allowed(&self) -> bool {
        self.most_allowed
    }

    /// Whether zero is allowed, if it lies within.
    pub fn zero_allowed(&self) -> bool {
        self.zero_allowed
    }

    /// What is likely meant, where it is beyond.
    pub(crate) fn hint(&self) -> &'static str {
        self.hint
    }
}
