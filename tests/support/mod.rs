//! Scenarios and cases for tests.
#![allow(dead_code)]

use relatch::internals::device::{Device, Fineness, Model};
use relatch::internals::load::Programme;
use relatch::internals::predict::{Case, Converged, RunAnswer, run};
use relatch::internals::scenario::{self, Housing, Scenario, ShuntNode, Winding};
use std::path::Path;

/// A record of the library with these fields: the others as in `..base`; without a base, all of
/// them, through the JSON that reads back. Its records may grow fields, so literals do not compile.
macro_rules! made {
    (@ $field:ident) => { $field };
    (@ $field:ident, $value:expr) => { $value };
    ($name:path { $($field:ident $(: $value:expr)?,)* ..$base:expr }) => {{
        let mut made: $name = $base;
        $(made.$field = made!(@ $field $(, $value)?);)*
        made
    }};
    ($name:path { $($field:ident $(: $value:expr)?),* $(,)? }) => {{
        fn as_in<T, F>(_: impl Fn(&T) -> &F, value: F) -> F {
            value
        }
        let mut fields = serde_json::Map::new();
        $(
            let value = as_in(|it: &$name| &it.$field, made!(@ $field $(, $value)?));
            let value = serde_json::to_value(value).expect("JSON");
            fields.insert(stringify!($field).into(), value);
        )*
        serde_json::from_value::<$name>(fields.into()).expect("every field of the record")
    }};
}
#[allow(unused_imports)]
pub(crate) use made;

/// A shipped scenario.
pub fn shipped(file: &str) -> Scenario {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("scenarios")
        .join(file);
    scenario::read(&path).unwrap_or_else(|e| panic!("{file}: {e}"))
}

/// The worked strip with changes.
pub fn worked(change: impl FnOnce(&mut Scenario)) -> Scenario {
    let mut s = shipped("08-worked-strip.toml");
    change(&mut s);
    s
}

/// A part with a shunt, a winding and a housing.
pub fn everything() -> Scenario {
    let mut s = shipped("01-pug-mill.toml");
    s.strip.current_share = 0.7;
    s.strip.shunt_heat_to = Some(ShuntNode::ClampedTerminal);
    s.cooling.uncovered_fraction = 0.8;
    s.housing = s.housing.map(|housing| {
        made!(Housing {
            heat_capacity_j_per_k: 5.0,
            conductance_w_per_k: 0.04,
            ..housing
        })
    });
    s.winding = shipped("02-curtain-winch.toml").winding.map(|winding| {
        made!(Winding {
            resistance_ohm: 0.01,
            temperature_coefficient_per_k: 1e-3,
            heat_capacity_j_per_k: 0.4,
            conductance_to_strip_w_per_k: 0.02,
            conductance_to_air_w_per_k: 0.003,
            limit_k: None,
            ..winding
        })
    });
    s
}

/// Case of a scenario.
pub fn case(s: &Scenario) -> Case {
    Case {
        ambient: s.surroundings.ambient.clone(),
        before: s.before,
        rated_current_a: s.protector.rated_current_a,
        accuracy: s.ask.accuracy,
        longest_s: s.ask.longest_s,
        halt: Default::default(),
    }
}

/// Run a scenario's device at a constant current and cool it.
pub fn run_at(s: &Scenario, current_a: f64) -> Converged<RunAnswer> {
    let device = Device::new(s).expect("device");
    run(&device, &case(s), &Programme::constant(current_a), true).expect("run")
}

/// Model on a fine grid.
pub fn fine_model(s: &Scenario) -> Model {
    let device = Device::new(s).expect("device");
    Model::new(
        &device,
        Fineness {
            order: 14,
            end_element_m: device.length_m / 6.0,
        },
    )
}

/// Relative difference.
pub fn apart(a: f64, b: f64) -> f64 {
    (a - b).abs() / b.abs()
}
