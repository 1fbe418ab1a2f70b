//! The case of the machine on which the rim of a disc sits: its temperature against time, or a
//! motor as one node.

use super::Scenario;
use super::rows::Need::{May, Unless};
use super::rows::{AMBIENT, Fields, Row, Slot, Value, number, other};
use crate::diagnostic::Problem;
use crate::document::Bounds;
use crate::quantity::Dimension as D;

/// The case of a machine.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum MachineCase {
    /// At a temperature against time: (s, K), linear between points, constant outside.
    Given(Vec<(f64, f64)>),
    /// One node that the current of the protector heats: the case, not the winding in it.
    Motor {
        /// J/K.
        heat_capacity_j_per_k: f64,
        /// To the surroundings, W/K.
        conductance_w_per_k: f64,
        /// Heat over the square of the current, ohm.
        resistance_ohm: f64,
    },
}

/// A number of a motor.
macro_rules! of_motor {
    ($field:ident) => {
        Slot::Here(|s, _| match &mut s.machine_case {
            Some(MachineCase::Motor { $field, .. }) => Some($field),
            _ => None,
        })
    };
}

#[rustfmt::skip]
pub(super) const MACHINE_CASE: &[Row] = &[
    number("temperature", "its temperature", D::Temperature, AMBIENT, May,
        Slot::Here(|s, _| match &mut s.machine_case {
            Some(MachineCase::Given(points)) => match points.as_mut_slice() {
                [(_, only)] => Some(only),
                _ => None,
            },
            _ => None,
        })).alone(),
    other("temperature_points", "its temperature against time, instead", May,
        Value::Pairs([(D::Time, Bounds::not_negative(1e9, "")), (D::Temperature, AMBIENT)])),
    number("heat_capacity", "heat capacity of the motor, as one node", D::HeatCapacity,
        Bounds::positive(1e7, "motors hold 500 J/K for each kilogram"),
        Unless("temperature"), of_motor!(heat_capacity_j_per_k)).alone(),
    number("conductance", "from the case to the surroundings", D::Conductance,
        Bounds::positive(1e5, "small motors give off 0.5 to 10 W/K"),
        Unless("temperature"), of_motor!(conductance_w_per_k)).alone(),
    number("resistance", "heat of the motor over the square of its current", D::Resistance,
        Bounds::not_negative(1000.0, "the resistance of the windings, and what iron and friction add"),
        Unless("temperature"), of_motor!(resistance_ohm)).alone(),
];

const MOTOR: [&str; 3] = ["heat_capacity", "conductance", "resistance"];

/// Read `[machine_case]`; false after a problem.
pub(super) fn machine_case(f: &Fields<'_, '_>, s: &mut Scenario) -> bool {
    let t = f.t;
    let problem = |key: &str, text: &str, help: &str| {
        t.report(Problem::new(t.span_of(key), text.to_owned()).help(help.to_owned()));
        false
    };
    if s.release.mechanism.disc().is_none() {
        f.ask_all();
        let help = "remove it, or give [disc] in place of the release";
        return problem(
            "",
            "only the rim of a disc sits on the case of a machine",
            help,
        );
    }
    let given = [t.has("temperature"), t.has("temperature_points")];
    let motor = MOTOR.iter().any(|key| t.has(key));
    if given[0] as u8 + given[1] as u8 + u8::from(motor) != 1 {
        f.ask_all();
        let text = "[machine_case] needs one way to give its temperature";
        let help = "`temperature`, or `temperature_points`, or a motor by `heat_capacity`, `conductance` and `resistance`";
        return problem("", text, help);
    }
    if given[1] {
        let Some(pairs) = f.pairs("temperature_points") else {
            return false;
        };
        if pairs.windows(2).any(|w| w[1].0.value <= w[0].0.value) {
            let text = "the times of temperature points must increase";
            return problem("temperature_points", text, "give them in the order of time");
        }
        let points = pairs.iter().map(|(a, b)| (a.value, b.value)).collect();
        s.machine_case = Some(MachineCase::Given(points));
    } else if given[0] {
        s.machine_case = Some(MachineCase::Given(vec![(0.0, f64::NAN)]));
    } else {
        s.machine_case = Some(MachineCase::Motor {
            heat_capacity_j_per_k: f64::NAN,
            conductance_w_per_k: f64::NAN,
            resistance_ohm: f64::NAN,
        });
    }
    f.read(s)
}
