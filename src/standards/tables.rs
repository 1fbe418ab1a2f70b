//! The tables.

use super::motor;
use crate::answer::{LimitDemand, TripTime};

/// Limits that one document prints for a class of protectors.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct PublishedLimits {
    /// Name that scenarios use.
    pub name: &'static str,
    /// Document, edition, clause and how it was seen.
    pub source: &'static str,
    /// Ambient of the test, degC.
    pub ambient_c: f64,
    /// Least and largest rated current that the document covers, A: a part is judged by it between
    /// these alone.
    pub covers_a: [f64; 2],
    /// Largest rated current of a nameplate that it is taken for, A: beyond what it covers an
    /// assumption.
    pub up_to_a: f64,
    /// Whether parts of this document usually have an instantaneous (magnetic) element beside the
    /// strip (common practice, no source).
    pub with_instantaneous: bool,
    /// Rows.
    pub rows: &'static [Limit],
    /// What it asks of three poles whose currents differ.
    pub unbalanced: &'static [Limit],
}

/// Currents of three poles that differ, whichever of them carries the odd one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unequal {
    /// Whether the row is for parts that notice a lost phase, or for those that do not.
    pub notices: bool,
    /// Currents of the poles before, in parts of the multiple that went before.
    pub before: [f64; 3],
    /// Currents of the poles, in parts of the row's multiple.
    pub poles: [f64; 3],
}

/// One row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// Multiple of the rated current.
    pub multiple: f64,
    /// Must not trip before this, s (0: no lower limit; infinite: must hold).
    pub at_least_s: f64,
    /// Must have tripped by this, s (infinite: no upper limit).
    pub at_most_s: f64,
    /// Starts from the steady state of this multiple (0: cold).
    pub after_multiple: f64,
    /// Nobody who wrote it here has read it in a document or in a paper that quotes one.
    pub from_memory: bool,
    /// Currents of three poles, where they differ.
    pub unequal: Option<Unequal>,
    /// Air of this row where it is not that of the table, degC.
    pub air_c: Option<f64>,
}

impl PublishedLimits {
    /// Rows for a part with so many poles whose bar notices a lost phase or does not: those that
    /// load all poles alike first.
    pub fn rows_for(&self, poles: usize, notices: bool) -> Vec<Limit> {
        let is_for = |l: &&Limit| poles == 3 && l.unequal.is_some_and(|u| u.notices == notices);
        let unequal = self.unbalanced.iter().filter(is_for);
        self.rows.iter().chain(unequal).copied().collect()
    }

    /// Air of a row, degC.
    pub fn air_c(&self, row: &Limit) -> f64 {
        row.air_c.unwrap_or(self.ambient_c)
    }

    /// Whether a part of this rating is one that the document was printed for.
    pub fn covers(&self, rated_a: f64) -> bool {
        (self.covers_a[0]..=self.covers_a[1]).contains(&rated_a)
    }
}

/// For which ratings a document holds, from the least and the largest, A.
pub fn covered([least_a, most_a]: [f64; 2]) -> String {
    if least_a == most_a {
        format!("for {most_a} A alone")
    } else if least_a > 0.0 {
        format!("from {least_a} A to {most_a} A")
    } else {
        format!("up to {most_a} A")
    }
}

impl Limit {
    /// Whether a part meets it that trips so.
    pub fn is_met(&self, time: &TripTime) -> bool {
        match time.time_s() {
            Some(t) => t >= self.at_least_s && t <= self.at_most_s,
            None => *time == TripTime::HoldsForEver && self.at_most_s.is_infinite(),
        }
    }

    /// What it asks, without infinities.
    pub fn demand(&self) -> LimitDemand {
        let must_hold = self.at_least_s.is_infinite();
        LimitDemand {
            multiple: self.multiple,
            after_multiple: self.after_multiple,
            must_hold,
            at_least_s: (!must_hold && self.at_least_s > 0.0).then_some(self.at_least_s),
            at_most_s: self.at_most_s.is_finite().then_some(self.at_most_s),
            from_memory: self.from_memory,
            air_c: self.air_c,
            poles: self.unequal.map(|u| u.poles),
        }
    }
}

pub(super) const fn row(multiple: f64, at_least_s: f64, at_most_s: f64) -> Limit {
    Limit {
        multiple,
        at_least_s,
        at_most_s,
        after_multiple: 0.0,
        from_memory: false,
        unequal: None,
        air_c: None,
    }
}

/// Right after it was warm from another multiple.
pub(super) const fn after(after_multiple: f64, row: Limit) -> Limit {
    Limit {
        after_multiple,
        ..row
    }
}

pub(super) const HOUR: f64 = 3600.0;
pub(super) const NEVER: f64 = f64::INFINITY;

/// Every table.
pub const LIMITS: &[PublishedLimits] = &[
    PublishedLimits {
        name: "equipment breaker window",
        source: "trip windows of a 10 A thermal equipment breaker at 25 °C, a manufacturer's data \
                 sheet; 100 % is carried (definition of rated current)",
        ambient_c: 25.0,
        covers_a: [10.0, 10.0],
        up_to_a: 16.0,
        with_instantaneous: false,
        rows: &[
            row(1.0, NEVER, NEVER),
            row(1.35, 0.0, HOUR),
            row(2.0, 4.0, 40.0),
            row(4.0, 0.6, 5.0),
            row(6.0, 0.3, 1.8),
            row(10.0, 0.12, 0.4),
        ],
        unbalanced: &[],
    },
    PublishedLimits {
        name: "IEC 60898-1 up to 32 A",
        source: "IEC 60898-1:2015, Table 7 (1.13 and 1.45 as quoted in an instruction manual; \
                 2.55 second hand)",
        ambient_c: 30.0,
        covers_a: [0.0, 32.0],
        up_to_a: 32.0,
        with_instantaneous: true,
        rows: &[
            row(1.13, HOUR, NEVER),
            after(1.13, row(1.45, 0.0, HOUR)),
            row(2.55, 1.0, 60.0),
        ],
        unbalanced: &[],
    },
    PublishedLimits {
        name: "IEC 60947-2 up to 63 A",
        source: "IEC 60947-2, Table 6 (7.2.1.2.4), as quoted in a manufacturer's data sheet; \
                 reference temperature declared by the maker, 30 °C taken here",
        ambient_c: 30.0,
        covers_a: [0.0, 63.0],
        up_to_a: 63.0,
        with_instantaneous: true,
        rows: &[row(1.05, HOUR, NEVER), after(1.05, row(1.30, 0.0, HOUR))],
        unbalanced: &[],
    },
    PublishedLimits {
        name: "UL 489 up to 30 A",
        source: "UL 489, calibration at 25 °C: 100 % carried, 135 % within 1 h, 200 % within 2 min \
                 (suppliers' pages)",
        ambient_c: 25.0,
        covers_a: [0.0, 30.0],
        up_to_a: 30.0,
        with_instantaneous: true,
        rows: &[
            row(1.0, NEVER, NEVER),
            row(1.35, 0.0, HOUR),
            row(2.0, 0.0, 120.0),
        ],
        unbalanced: &[],
    },
    PublishedLimits {
        name: "UL 489 31 A to 50 A",
        source: "UL 489, calibration at 25 °C: 100 % carried, 135 % within 1 h (suppliers' pages); 200 % within 4 min (Goodson, Hergenrether and Stateson, Circuit breaker myths, table 1)",
        ambient_c: 25.0,
        covers_a: [31.0, 50.0],
        up_to_a: 50.0,
        with_instantaneous: true,
        rows: &[
            row(1.0, NEVER, NEVER),
            row(1.35, 0.0, HOUR),
            row(2.0, 0.0, 240.0),
        ],
        unbalanced: &[],
    },
    motor::PLAIN[0],
    motor::PLAIN[1],
    motor::PLAIN[2],
    motor::PLAIN[3],
    motor::PLAIN[4],
];

/// The table of a name, as it holds for parts with a strip that follows the air.
pub fn find_compensated(name: &str) -> Option<&'static PublishedLimits> {
    static COMPENSATED: [PublishedLimits; 5] = motor::COMPENSATED;
    let own = COMPENSATED
        .iter()
        .find(|l| l.name.eq_ignore_ascii_case(name));
    own.or_else(|| find(name))
}

/// The table of a name.
pub fn find(name: &str) -> Option<&'static PublishedLimits> {
    LIMITS.iter().find(|l| l.name.eq_ignore_ascii_case(name))
}
