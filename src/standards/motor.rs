//! Classes of motor protectors. Multiples are those of the current that the part is set to.

use super::tables::{HOUR, Limit, NEVER, PublishedLimits, Unequal, after, row};

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

/// The same in other air than that of the table, degC.
const fn in_air(air_c: f64, row: Limit) -> Limit {
    Limit {
        air_c: Some(air_c),
        ..row
    }
}

/// Three poles of which one carries less, or nothing: what is carried for two hours, and what trips
/// within two more right after. Both from memory, with the multiple as a part of the first pole's.
const UNBALANCED: &[Limit] = &[
    unequal(
        true,
        [[1.0; 3], [1.0, 1.0, 0.9]],
        row(1.0, 2.0 * HOUR, NEVER),
    ),
    unequal(
        true,
        [[1.0, 1.0, 0.9], [1.0, 1.0, 0.0]],
        after(1.0, row(1.15, 0.0, 2.0 * HOUR)),
    ),
    unequal(
        false,
        [[1.0; 3], [1.0, 1.0, 0.0]],
        after(1.0, row(1.32, 0.0, 2.0 * HOUR)),
    ),
];

/// Whether it is for parts that notice; currents before and in the row.
const fn unequal(notices: bool, [before, poles]: [[f64; 3]; 2], row: Limit) -> Limit {
    Limit {
        unequal: Some(Unequal {
            notices,
            before,
            poles,
        }),
        ..memory(row)
    }
}

/// A class: its trip times at 7.2 times the setting from the cold, s, how that is known, and the
/// longest time at 1.5 times after the setting, min; the rule is the air of its tests, degC, and
/// what is carried there for two hours, and rows in other air.
macro_rules! class {
    ($name:literal, $known:ident, $cold:expr, $warm_min:expr, $rule:literal, $air:expr, $held:expr, [$($elsewhere:expr),*]) => {
        PublishedLimits {
            name: $name,
            source: concat!(
                "IEC 60947-4-1, trip classes, parts ",
                $rule,
                " compensation (7.2 times from the cold: makers' tables, \
                 class 5 from memory; all other rows from memory)"
            ),
            ambient_c: $air,
            covers_a: [0.0, f64::INFINITY],
            up_to_a: f64::INFINITY,
            with_instantaneous: false,
            rows: &[
                memory(row($held, 2.0 * HOUR, NEVER)),
                memory(after($held, row(1.2, 0.0, 2.0 * HOUR))),
                memory(after(1.0, row(1.5, 0.0, 60.0 * $warm_min))),
                $known(row(7.2, $cold[0], $cold[1])),
                $($elsewhere,)*
            ],
            unbalanced: UNBALANCED,
        }
    };
}

/// Every class by one rule.
macro_rules! classes {
    ($($rule:tt)+) => {
        [
            class!("motor class 5", memory, [0.5, 5.0], 2.0, $($rule)+),
            class!("motor class 10A", read, [2.0, 10.0], 2.0, $($rule)+),
            class!("motor class 10", read, [4.0, 10.0], 4.0, $($rule)+),
            class!("motor class 20", read, [6.0, 20.0], 8.0, $($rule)+),
            class!("motor class 30", read, [9.0, 30.0], 12.0, $($rule)+),
        ]
    };
}

/// Without a strip that follows the air.
pub(super) const PLAIN: [PublishedLimits; 5] = classes!("without", 40.0, 1.0, []);
/// With one: in frost and in heat other multiples are carried and trip.
pub(super) const COMPENSATED: [PublishedLimits; 5] = classes!(
    "with",
    20.0,
    1.05,
    [
        memory(in_air(-5.0, row(1.05, 2.0 * HOUR, NEVER))),
        memory(in_air(-5.0, after(1.05, row(1.3, 0.0, 2.0 * HOUR)))),
        memory(in_air(40.0, row(1.0, 2.0 * HOUR, NEVER))),
        memory(in_air(40.0, after(1.0, row(1.2, 0.0, 2.0 * HOUR))))
    ]
);
