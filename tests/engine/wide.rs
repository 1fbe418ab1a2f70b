//! Arithmetic in registers.

use pulp::{Simd, WithSimd};
use relatch::internals::solve::wide::Wide;

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
    assert!(pulp::Arch::new().dispatch(Roots) < 4e-15);
    assert!(Roots.with_simd(pulp::Scalar256b) < 4e-15);
}
