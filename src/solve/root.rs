//! Where a function is zero.

/// Place, within a width, of a zero of a value that is negative at the low end of a bracket and not at its high end:
/// by the chord between both ends, with the value at an end that stays twice halved (the Illinois
/// rule). A chord that hardly moves an end is believed when the value changes its sign beside it.
pub fn root(
    value: &mut impl FnMut(f64) -> f64,
    (mut low, mut high): (f64, f64),
    within: f64,
) -> f64 {
    let (mut at_low, mut at_high) = (value(low), value(high));
    let (mut was_low, mut is_stuck) = (None, false);
    for _ in 0..60 {
        let chord = high - (high - low) * at_high / (at_high - at_low);
        let inside = low < chord && chord < high && !is_stuck;
        let next = if inside { chord } else { 0.5 * (low + high) };
        let found = value(next);
        let is_low = found < 0.0;
        let stays_again = was_low == Some(is_low);
        let moved = if is_low { next - low } else { high - next };
        if is_low {
            (low, at_low) = (next, found);
            at_high *= if stays_again { 0.5 } else { 1.0 };
        } else {
            (high, at_high) = (next, found);
            at_low *= if stays_again { 0.5 } else { 1.0 };
        }
        if high - low < within {
            return next;
        }
        was_low = Some(is_low);
        is_stuck = moved < within;
        if is_stuck {
            let beside = if is_low { low + within } else { high - within };
            let there = value(beside);
            match (is_low, there < 0.0) {
                (true, true) => (low, at_low) = (beside, there),
                (false, false) => (high, at_high) = (beside, there),
                _ => return next,
            }
        }
    }
    high
}

#[cfg(test)]
mod tests {
    use super::root;

    #[test]
    fn zeros_are_found_in_a_few_looks() {
        let mut looks = 0;
        let mut cosine = |x: f64| {
            looks += 1;
            -x.cos()
        };
        let found = root(&mut cosine, (1.0, 2.0), 1e-10);
        assert!(
            (found - std::f64::consts::FRAC_PI_2).abs() < 1e-10,
            "{found}"
        );
        assert!(looks < 12, "{looks}");
        // A step has no slope: halved until it is as narrow.
        let found = root(&mut |x| if x < 1.3 { -1.0 } else { 1e-9 }, (1.0, 2.0), 1e-6);
        assert!((found - 1.3).abs() < 2e-6, "{found}");
    }
}
