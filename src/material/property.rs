//! A property with its range, source and uncertainty.

use super::Law;

/// Below this fraction of the value at the end of the range a continued property does not fall.
///
/// A steady-state search may pass through some thousand kelvin on its way; a resistivity or a heat
/// capacity there must stay positive. Results that rest on such temperatures are reported as out of
/// range, so the exact fraction is free.
pub const CONTINUATION_FLOOR: f64 = 0.1;

/// One property of one material.
///
/// Inside [`valid_k`](Property::valid_k) the value is that of the law. Outside it goes on as a
/// straight line with the value and slope that the law has at the end of the range, and stops at
/// [`CONTINUATION_FLOOR`] of that end value: always finite, and positive where the end value is.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Property {
    /// Value against temperature, SI.
    pub law: Law,
    /// Range of validity, K.
    pub valid_k: (f64, f64),
    /// Key in `references.toml`.
    pub source: String,
    /// Relative standard uncertainty.
    pub relative_uncertainty: f64,
    /// The value was written down from memory.
    pub from_memory: bool,
}

/// A value from memory is taken to be less well known than whoever wrote it down thought: its stated
/// spread counts so many times. Public sheets of one alloy differ by that much; a judgement, no source.
const FROM_MEMORY: f64 = 2.0;

impl Property {
    /// Relative standard uncertainty that counts: the stated one, wider for a value from memory.
    pub fn spread(&self) -> f64 {
        let widened = if self.from_memory { FROM_MEMORY } else { 1.0 };
        widened * self.relative_uncertainty
    }

    /// Its values multiplied at all temperatures.
    pub fn scale(&mut self, factor: f64) {
        self.law = self.law.scaled(factor);
    }

    /// Whether the temperature lies in the range of validity.
    pub fn within(&self, t_k: f64) -> bool {
        self.valid_k.0 <= t_k && t_k <= self.valid_k.1
    }

    /// Value at a temperature, continued outside the range.
    pub fn at(&self, t_k: f64) -> f64 {
        self.at_with_slope(t_k).0
    }

    /// Value and slope (per kelvin) at a temperature, continued outside the range.
    pub fn at_with_slope(&self, t_k: f64) -> (f64, f64) {
        if self.within(t_k) || t_k.is_nan() {
            return self.law.at_with_slope(t_k);
        }
        let end = self.nearest_valid(t_k);
        let (value, slope) = self.law.at_with_slope(end);
        let line = value + slope * (t_k - end);
        match floor(value) {
            Some(least) if line < least => (least, 0.0),
            _ => (line, slope),
        }
    }

    /// Exact integral between two temperatures, continued outside the range.
    pub fn integral(&self, from_k: f64, to_k: f64) -> f64 {
        self.law
            .integral(self.nearest_valid(from_k), self.nearest_valid(to_k))
            + self.integral_outside(to_k)
            - self.integral_outside(from_k)
    }

    /// Integral from the end of the range to a temperature outside it; 0 inside.
    fn integral_outside(&self, t_k: f64) -> f64 {
        let end = self.nearest_valid(t_k);
        let u = t_k - end;
        if u == 0.0 {
            return 0.0;
        }
        let (value, slope) = self.law.at_with_slope(end);
        let line = value + slope * u;
        match floor(value) {
            Some(least) if line < least => {
                let until = (least - value) / slope;
                0.5 * (value + least) * until + least * (u - until)
            }
            _ => 0.5 * (value + line) * u,
        }
    }

    fn nearest_valid(&self, t_k: f64) -> f64 {
        t_k.max(self.valid_k.0).min(self.valid_k.1)
    }
}

fn floor(end_value: f64) -> Option<f64> {
    (end_value > 0.0).then_some(CONTINUATION_FLOOR * end_value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_law_is_continued_straight_but_not_below_a_floor() {
        let law = Law::Polynomial {
            reference_k: 300.0,
            coefficients: vec![2.0, -0.01],
        };
        let p = Property {
            law,
            valid_k: (200.0, 400.0),
            source: "example".into(),
            relative_uncertainty: 0.0,
            from_memory: false,
        };
        assert_eq!(p.at_with_slope(450.0), (0.5, -0.01));
        assert_eq!(p.at_with_slope(2000.0), (0.1, 0.0));
    }
}
