//! What is measured at a strip on the bench, and what should come out.

use crate::present::block::{Block, Table};
use crate::present::number::{duration, significant};
use crate::present::words;
use crate::study::lesson::Bench;

/// How to measure, and the table to fill in.
pub(super) fn to_measure(bench: &Bench) -> Vec<Block> {
    let currents = || bench.readings.iter().map(|r| significant(r.current_a, 3));
    let squared = bench.readings.iter();
    let squared = squared.map(|r| significant(r.current_a.powi(2), 3));
    let empty = || bench.readings.iter().map(|_| "");
    let [current, of_square, voltage, deflection, resistance] = words::lesson::measured();
    vec![
        Block::subheading(words::lesson::measure()),
        Block::steps(words::lesson::how_to_measure(
            &duration(bench.settle_s, 2),
            &format!("{} A", significant(bench.most_a, 3)),
            &format!("{:.0} °C", bench.hottest_c),
        )),
        Table::new(words::lesson::readings())
            .to_fill_in()
            .text(current, currents())
            .text(of_square, squared)
            .text(voltage, empty())
            .text(deflection, empty())
            .text(resistance, empty())
            .into(),
    ]
}

/// What the full model says should be read.
pub(super) fn expected(bench: &Bench) -> Vec<Block> {
    let column = |of: fn(&crate::study::lesson::Reading) -> f64| {
        bench.readings.iter().map(move |r| significant(of(r), 3))
    };
    let [current, _, voltage, deflection, resistance] = words::lesson::measured();
    vec![
        Table::new(words::lesson::expected())
            .numbers(current, column(|r| r.current_a))
            .numbers(voltage, column(|r| 1e3 * r.voltage_v))
            .numbers(deflection, column(|r| 1e3 * r.deflection_m))
            .numbers(resistance, column(|r| 1e3 * r.voltage_v / r.current_a))
            .numbers(word!("hottest place, °C"), column(|r| r.hottest_c))
            .into(),
    ]
}
