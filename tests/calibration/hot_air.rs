//! A machine in air that leaves hardly a way to release: where superposition is far off, the engine is
//! asked far enough round to find what explains the case, whatever the seed.

use super::outside::DESIGNS;
use relatch::internals::diagnose::{Cause, Judged, judged};
use relatch::internals::evidence::read_text;
use relatch::internals::family::Family;

const OVEN_FAN: &str = r#"
format = 1
kind = "case"
title = "The fan beside the oven"

[protector]
rating = "15 A"
reference_air = "23 degC"

[machine]
name = "oven fan"
rated_current = "12.9 A"
waveform = "sine"
starts_with_a_surge = false

[[trip]]
after = "6.5 s"
from = "cold"

[[reading]]
current = "12.6 A"
meter = "unknown"
taken = "up to the trip"
accuracy = "2 % + 3 digits"

[[trip]]
after = "34 s"
from = "cold"
on = "bench"
current = "30.0 A +- 2 %"
air = "25 degC"

[[air]]
at = "the part"
temperature = "79 degC"

[[trip]]
after = "35 s"
from = "cold"
part = "as new"
on = "bench"
current = "30.0 A +- 2 %"
air = "25 degC"
"#;

#[test]
fn seeds_agree_on_air_that_leaves_hardly_a_way() {
    let case = read_text("oven-fan.toml", OVEN_FAN).expect("a case");
    let family = Family::new(&case.nameplate, DESIGNS).expect("a family");
    let of_the_air = |found: &Judged| -> f64 {
        let all = found.causes.iter();
        all.filter(|c| c.cause == Cause::HotSurroundings)
            .map(|c| c.probability)
            .sum()
    };
    let shares: Vec<f64> = (1..=4)
        .map(|seed| of_the_air(&judged(&case, &family, seed)))
        .collect();
    let low = shares.iter().copied().fold(1.0, f64::min);
    let high = shares.iter().copied().fold(0.0, f64::max);
    assert!(high - low < 0.15, "{shares:.2?}");
}
