//! Classes of motor protectors. Multiples are those of the current that the part is set to.

use super::tables::{HOUR, Limit, NEVER, PublishedLimits, after, row};

/// A row that was not read.
const fn memory(row: Limit) -> Limit {
    Limit {
        from_memory: true,
        ..row
    }
}

/// A row as it was read.
const fn read(row: Limit) -> Limit {
    row
}

/// A class: its trip times at 7.2 times the setting from the cold, s, how that is known, and the
/// longest time at 1.5 times after the setting, min. The rule is that of parts without a strip that
/// compensates the air.
macro_rules! class {
    ($name:literal, $known:ident, $cold:expr, $warm_min:expr) => {
        PublishedLimits {
            name: $name,
            source: "IEC 60947-4-1, trip classes, parts without compensation (7.2 times from the cold: makers' tables, \
                     class 5 from memory; all other rows from memory)",
            ambient_c: 40.0,
            covers_a: [0.0, f64::INFINITY],
            up_to_a: f64::INFINITY,
            with_instantaneous: false,
            rows: &[
                memory(row(1.0, 2.0 * HOUR, NEVER)),
                memory(after(1.0, row(1.2, 0.0, 2.0 * HOUR))),
                memory(after(1.0, row(1.5, 0.0, 60.0 * $warm_min))),
                $known(row(7.2, $cold[0], $cold[1])),
            ],
        }
    };
}

pub(super) const CLASS_5: PublishedLimits = class!("motor class 5", memory, [0.5, 5.0], 2.0);
pub(super) const CLASS_10A: PublishedLimits = class!("motor class 10A", read, [2.0, 10.0], 2.0);
pub(super) const CLASS_10: PublishedLimits = class!("motor class 10", read, [4.0, 10.0], 4.0);
pub(super) const CLASS_20: PublishedLimits = class!("motor class 20", read, [6.0, 20.0], 8.0);
pub(super) const CLASS_30: PublishedLimits = class!("motor class 30", read, [9.0, 30.0], 12.0);
