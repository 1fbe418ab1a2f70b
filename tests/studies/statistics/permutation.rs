//! Of `statistics::permutation`.

use relatch::internals::statistics::permutation::*;
use relatch::internals::statistics::stream::Purpose;

/// Up to so many places a list is shuffled, beyond a cipher walks.
const LISTED: u64 = 1 << 16;

#[test]
fn one_to_one_for_every_size() {
    for n in (1..40).chain([1000, LISTED, LISTED + 1, 90_000]) {
        let p = Permutation::new(n, 7, Purpose::LATIN_ORDER, 0).unwrap();
        let mut all: Vec<u64> = (0..n).map(|i| p.of(i)).collect();
        all.sort_unstable();
        assert!(all.iter().enumerate().all(|(i, &x)| x == i as u64), "{n}");
    }
}

/// All orders of three, four and five are equally likely over the seeds. Chi-square bounds that are
/// passed one time in a thousand: 20.5, 49.7 and 173.6 for 5, 23 and 119 degrees of freedom.
#[test]
fn all_orders_are_equally_likely() {
    for (n, orders, bound) in [(3_u64, 6_u32, 20.5), (4, 24, 49.7), (5, 120, 173.6)] {
        let seeds = 200 * orders;
        let mut counts = std::collections::BTreeMap::new();
        for seed in 0..seeds {
            let p = Permutation::new(n, u64::from(seed), Purpose::LATIN_ORDER, 3).unwrap();
            let order: Vec<u64> = (0..n).map(|i| p.of(i)).collect();
            *counts.entry(order).or_insert(0_u32) += 1;
        }
        assert_eq!(counts.len() as u32, orders);
        let chi2: f64 = counts
            .values()
            .map(|&c| (f64::from(c) - 200.0).powi(2) / 200.0)
            .sum();
        assert!(chi2 < bound, "{n}: {chi2}");
    }
}

/// The cipher too looks like chance: no more fixed places and neighbours kept than one each is the
/// rule.
#[test]
fn the_cipher_keeps_nothing_in_place() {
    let (n, mut fixed, mut neighbours) = (LISTED + 1, 0, 0);
    for seed in 0..20 {
        let p = Permutation::new(n, seed, Purpose::LATIN_ORDER, 0).unwrap();
        for i in 0..n - 1 {
            fixed += u32::from(p.of(i) == i);
            neighbours += u32::from(p.of(i) + 1 == p.of(i + 1));
        }
    }
    // Each is Poisson of mean 20: above 40 one time in 30 000, below 5 likewise.
    assert!((5..=40).contains(&fixed), "{fixed}");
    assert!((5..=40).contains(&neighbours), "{neighbours}");
}

#[test]
fn sizes_that_are_refused() {
    assert!(Permutation::new(0, 0, Purpose::LATIN_ORDER, 0).is_err());
    assert!(Permutation::new((1 << 52) + 1, 0, Purpose::LATIN_ORDER, 0).is_err());
    let largest = Permutation::new(1 << 52, 0, Purpose::LATIN_ORDER, 0).unwrap();
    assert!(largest.of(u64::MAX) < 1 << 52);
}
