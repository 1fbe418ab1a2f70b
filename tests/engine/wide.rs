//! Arithmetic in registers.

use crate::support::{run_at, shipped};
use pulp::{Simd, WithSimd};
use relatch::internals::solve::wide::{Wide, dispatch, register_bits, use_at_most};

struct Roots;

impl WithSimd for Roots {
    type Output = f64;
    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> f64 {
        let mut worst = 0.0f64;
        for k in 0..4000 {
            let x = 1e-9 * 1.01f64.powi(k % 3000) * (1.0 + 1e-3 * f64::from(k / 3000));
            let root = Wide::splat(simd, x).fourth_root().range().0;
            worst = worst.max((root / x.sqrt().sqrt() - 1.0).abs());
        }
        worst
    }
}

#[test]
fn the_fourth_root_is_the_square_root_of_the_square_root() {
    assert!(dispatch(Roots) < 4e-15);
    assert!(Roots.with_simd(pulp::Scalar512b) < 4e-15);
}

/// Answers of scenarios and of a population, as they are kept, every number with all its digits.
fn answers() -> Vec<(&'static str, String)> {
    let mut all = Vec::new();
    for file in [
        "01-pug-mill.toml",
        "02-curtain-winch.toml",
        "03-deck-oven.toml",
        "05-classroom-strip.toml",
        "08-worked-strip.toml",
    ] {
        let mut options = relatch::Options::default();
        options.characteristic = true;
        let outcome = relatch::predict_with(&shipped(file), &options, &mut |_, _| {});
        let text = serde_json::to_string(&outcome.expect(file)).expect("JSON");
        all.push((file, text));
    }
    // With heat across the layers resolved.
    let strong = run_at(&shipped("01-pug-mill.toml"), 200.0);
    all.push(("200 A", format!("{strong:?}")));
    // The trip points of a lot lie about 12.2 A: near them its units are slow.
    for (what, current_a) in [("a population", 20.0), ("a slow population", 12.7)] {
        let mut lot = shipped("13-kiln-lot.toml");
        lot.load = relatch::internals::load::Programme::constant(current_a);
        let lot = relatch::population(&lot, 64, 2, 1).expect("a population");
        all.push((what, serde_json::to_string(&lot).expect("JSON")));
    }
    all
}

/// A machine without wide registers gives what a machine with the widest gives, to the last bit.
/// (Where this runs without any, there is nothing to compare.)
#[test]
fn answers_are_the_same_in_registers_of_any_width() {
    let widest = answers();
    for bits in [256, 128] {
        use_at_most(bits);
        assert!(register_bits() <= bits);
        let narrow = answers();
        use_at_most(512);
        for ((what, wide), (_, narrow)) in widest.iter().zip(&narrow) {
            assert!(wide == narrow, "{what} differs in registers of {bits} bits");
        }
    }
}
