//! Relaxation of springs through the study of years. R8, R8b: the form of Larson and Miller read in
//! a public document (constant usually 20 to 25), values computed. R2, read: U. P. Sinha & D. W.
//! Levinson, J. Testing & Eval. 20 (1992) no. 2.

use crate::support::made;
use crate::{close, near};
use relatch::internals::scenario::{Scenario, read_text};
use relatch::internals::study::ageing::{AgeOutcome, Constants, Options, YEAR_S, age};

const RIGHT: &str = include_str!("../support/right.toml");
const HOUR_S: f64 = 3600.0;

/// A small part whose spring is as warm as the air.
fn part(more: &str, law: &str, celsius: f64) -> Scenario {
    let text = format!(
        "{RIGHT}\n[ageing]\nsource = \"invented for this test\"\nspring_beside = \"ambient\"\nhorizon = \"10 year\"\n\
         {more}\n[ageing.relaxation]\n{law}\n[duty]\nambient = \"{celsius} degC\"\n"
    );
    read_text("part.toml", &text).unwrap_or_else(|e| panic!("{e}"))
}

fn aged(scenario: &Scenario, years: f64) -> AgeOutcome {
    let options = made!(Options {
        years: Some(years),
        units: 0,
        ..Options::default()
    });
    age(scenario, &options, &mut |_, _| {}).unwrap_or_else(|e| panic!("{e}"))
}

const MILLER: &str =
    "law = \"Larson-Miller\"\nconstant = 20\nstart = \"8000 K\"\nloss_per_kelvin = \"0.01 %/K\"";

/// R8b: a test at 100 degC of 1000 h and one at 150 degC of 1.9155 h (C 25: 0.49145 h) bring the
/// law to the same state; so do 1000 h at 150 degC and 3.7109 h (1.09928 h) at 200 degC. R8: that
/// state is the parameter.
#[test]
fn r8b_equivalent_exposures_bring_the_law_to_one_state() {
    let rows = [
        (100.0, 150.0, 20.0, 1.9155, Some(8582.45)),
        (100.0, 150.0, 25.0, 0.49145, None),
        (150.0, 200.0, 20.0, 3.7109, Some(9732.45)),
        (150.0, 200.0, 25.0, 1.09928, None),
    ];
    for (cool, hot, constant, hours, parameter) in rows {
        let law = MILLER.replace("constant = 20", &format!("constant = {constant}"));
        let s = part("", &law, 20.0);
        let ageing = s.ageing.as_ref().expect("ageing");
        let constants = Constants::nominal(ageing, (0.0, 0.0), (0.0, 0.0));
        let state = |hours: f64, celsius: f64| {
            constants
                .state_of_test(hours * HOUR_S, celsius + 273.15)
                .expect("a state")
        };
        // Printed to five digits of an exponential: 1e-4 of the hours is 1e-4 T / ln 10 of the
        // parameter.
        near(
            state(1000.0, cool),
            state(hours, hot),
            1e-4 * (hot + 273.15) / 2.3,
        );
        if let Some(parameter) = parameter {
            close(state(1000.0, cool), parameter, 1e-5);
        }
    }
}

/// R8 through the years: 87 600 h at 100 degC is a parameter of 9307.30 K, which the integration
/// over the years has to reach; the loss is then 0.01 % of the 1307.30 K above the start.
#[test]
fn r8_ten_years_of_duty_reach_the_parameter() {
    let years = 87_600.0 * HOUR_S / YEAR_S;
    let outcome = aged(&part("", MILLER, 100.0), years);
    let row = outcome.drift.last().expect("rows");
    // The printed parameter is good to 0.005 K of 1307.30 K.
    close(1.0 - row.preload_left.expect("a number"), 0.130730, 1e-5);
}

/// R2, qualitative: fast first and slower later, faster when hot, concave against the logarithm of
/// time in the logarithm of the loss, monotone in time and temperature; for every law.
#[test]
fn r2_shape_of_relaxation_for_every_law() {
    let laws = [
        "law = \"logarithmic\"\ncoefficient = \"1 %\"\ntime_constant = \"10 h\"\nat = \"100 degC\"\n\
         activation_energy = \"90 kJ/mol\"",
        "law = \"power\"\ncoefficient = \"1 %\"\nexponent = 0.15\ntime_constant = \"10 h\"\nat = \"100 degC\"\n\
         activation_energy = \"90 kJ/mol\"",
        "law = \"Larson-Miller\"\nconstant = 20\nstart = \"6000 K\"\nloss_per_kelvin = \"0.004 %/K\"",
    ];
    for law in laws {
        let loss = |celsius: f64| -> Vec<(f64, f64)> {
            let outcome = aged(&part("", law, celsius), 10.0);
            let rows = outcome.drift.iter();
            rows.map(|r| (r.years, 1.0 - r.preload_left.expect("a number")))
                .collect()
        };
        let (cool, hot) = (loss(40.0), loss(90.0));
        for (c, h) in cool.iter().zip(&hot).skip(1) {
            assert!(h.1 > c.1, "{law}: {h:?} {c:?}");
        }
        for w in hot.windows(2).skip(1) {
            assert!(w[1].1 > w[0].1, "{law}: {w:?}");
        }
        for w in hot.windows(3) {
            let rate = |a: (f64, f64), b: (f64, f64)| (b.1 - a.1) / (b.0 - a.0);
            assert!(rate(w[1], w[2]) < rate(w[0], w[1]), "{law}: {w:?}");
            if w[0].0 > 0.0 {
                let slope = |a: (f64, f64), b: (f64, f64)| (b.1 / a.1).ln() / (b.0 / a.0).ln();
                assert!(
                    slope(w[1], w[2]) <= slope(w[0], w[1]) + 1e-9,
                    "{law}: {w:?}"
                );
            }
        }
    }
}
