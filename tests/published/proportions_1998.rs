//! R. G. Newcombe, "Two-sided confidence intervals for the single proportion: comparison of seven
//! methods", Statistics in Medicine 17 (1998) 857-872, table I: 95 % intervals of the score method
//! without continuity correction (Wilson) and the exact one (Clopper & Pearson), four decimals
//! (from memory; `scipy.stats.binomtest(k, n).proportion_ci(0.95, 'wilson' or 'exact')` of scipy
//! 1.17.1 gives the same four decimals).

use relatch::internals::statistics::proportion::{clopper_pearson, wilson};

use crate::{near, printed};

#[test]
fn four_proportions() {
    for (hits, trials, by_wilson, exact) in [
        (81, 263, [0.2553, 0.3662], [0.2527, 0.3676]),
        (15, 148, [0.0624, 0.1605], [0.0578, 0.1617]),
        (0, 20, [0.0, 0.1611], [0.0, 0.1684]),
        (1, 29, [0.0061, 0.1718], [0.0009, 0.1776]),
    ] {
        let w = wilson(hits, trials, 0.95).unwrap();
        let c = clopper_pearson(hits, trials, 0.95).unwrap();
        for (found, [low, high]) in [(w, by_wilson), (c, exact)] {
            printed(found.low, low, 1e-4);
            printed(found.high, high, 1e-4);
        }
    }
}

/// The same by scipy with all its digits.
#[test]
fn one_proportion_to_all_digits() {
    let w = wilson(81, 263, 0.95).unwrap();
    near(w.low, 0.255_288_519_878_274_2, 1e-14);
    near(w.high, 0.366_209_576_982_800_04, 1e-14);
    let c = clopper_pearson(81, 263, 0.95).unwrap();
    near(c.low, 0.252_736_745_585_042_6, 1e-9); // scipy finds it by a root search to 1e-9
    near(c.high, 0.367_621_922_601_347_46, 1e-9);
}
