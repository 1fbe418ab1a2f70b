//! Long whole numbers, to the base 2³² with the lowest digit first: what exact sums need and no
//! more.

/// Binary exponent of the lowest digit of an exact sum: below the square of the smallest double,
/// 2⁻²¹⁴⁸, and a multiple of 64 so that half of it is a whole number of digits.
pub(super) const LOWEST_EXPONENT: i32 = -2176;
/// Digits of an exact sum: up to 2⁷³⁶, above the sum of 2⁶³ squares of 1e100.
pub(super) const LIMBS: usize = 91;

/// Product.
pub(super) fn times(a: &[u32], b: &[u32]) -> Vec<u32> {
    let mut product = vec![0_u32; a.len() + b.len()];
    for (i, &x) in a.iter().enumerate().filter(|(_, x)| **x != 0) {
        let mut carry = 0_u64;
        for (j, &y) in b.iter().enumerate() {
            let total = u64::from(x) * u64::from(y) + u64::from(product[i + j]) + carry;
            product[i + j] = total as u32;
            carry = total >> 32;
        }
        product[i + b.len()] = carry as u32;
    }
    product
}

/// Product with a number of 64 bits.
pub(super) fn times_u64(a: &[u32], n: u64) -> Vec<u32> {
    times(a, &[n as u32, (n >> 32) as u32])
}

/// Difference; zero if it were negative.
pub(super) fn minus(a: &[u32], b: &[u32]) -> Vec<u32> {
    let length = a.len().max(b.len());
    let digit = |x: &[u32], i: usize| i64::from(x.get(i).copied().unwrap_or(0));
    let mut borrow = 0;
    let mut difference = Vec::with_capacity(length);
    for i in 0..length {
        let total = digit(a, i) - digit(b, i) + borrow;
        difference.push(total as u32);
        borrow = total >> 32;
    }
    if borrow < 0 { vec![0] } else { difference }
}

/// Number of bits up to the highest that is set.
fn bit_length(a: &[u32]) -> usize {
    a.iter()
        .rposition(|&digit| digit != 0)
        .map_or(0, |top| 32 * top + 32 - a[top].leading_zeros() as usize)
}

fn bit(a: &[u32], i: usize) -> bool {
    a[i / 32] >> (i % 32) & 1 == 1
}

/// The number times 2^exponent as a double: rounded to nearest, ties to even, also below the normal
/// doubles.
pub(super) fn to_f64(a: &[u32], exponent: i32) -> f64 {
    let length = bit_length(a);
    if length == 0 {
        return 0.0;
    }
    // Lowest bit that a double of this size holds, and none below 2⁻¹⁰⁷⁴.
    let smallest = usize::try_from(-1074 - exponent).unwrap_or(0);
    let lowest = length.saturating_sub(53).max(smallest);
    let mut mantissa = (lowest..length)
        .rev()
        .fold(0_u64, |m, i| m << 1 | u64::from(bit(a, i)));
    if lowest > 0 && lowest - 1 < length && bit(a, lowest - 1) {
        let beyond = (0..lowest - 1).any(|i| bit(a, i));
        if beyond || mantissa & 1 == 1 {
            mantissa += 1;
        }
    }
    scaled(mantissa as f64, lowest as i32 + exponent)
}

/// x · 2^n in exact steps; `to_f64` has left no bit that could be lost but by overflow.
fn scaled(x: f64, n: i32) -> f64 {
    let power = |n: i32| f64::from_bits(((n + 1023) as u64) << 52);
    let (mut x, mut n) = (x, n);
    while n > 1000 {
        x *= power(1000);
        n -= 1000;
    }
    // The whole number stays normal here; the last step alone reaches below.
    while n < -1000 {
        x *= power(-1000);
        n += 1000;
    }
    x * power(n)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn digits(n: u128) -> Vec<u32> {
        (0..4).map(|i| (n >> (32 * i)) as u32).collect()
    }

    #[test]
    fn arithmetic_agrees_with_u128() {
        let (a, b) = (0x1234_5678_9abc_def0_u128, 0xfedc_ba98_7654_3210_u128);
        assert_eq!(times(&digits(a)[..2], &digits(b)[..2]), digits(a * b));
        assert_eq!(times_u64(&digits(a)[..2], b as u64), digits(a * b));
        assert_eq!(minus(&digits(b), &digits(a)), digits(b - a));
        assert_eq!(to_f64(&minus(&digits(a), &digits(b)), 0), 0.0);
    }

    #[test]
    fn rounds_like_the_language() {
        for n in [
            1,
            3,
            (1 << 53) - 1,
            (1 << 54) + 2,
            (1 << 54) + 6,
            (1 << 60) + 129,
            u128::MAX,
        ] {
            assert_eq!(to_f64(&digits(n), 0), n as f64, "{n}");
            assert_eq!(to_f64(&digits(n), -64), n as f64 * 2f64.powi(-64));
        }
    }

    #[test]
    fn reaches_the_smallest_doubles_with_one_rounding() {
        assert_eq!(to_f64(&[1], -1074), 5e-324);
        assert_eq!(to_f64(&[3], -1075), 1e-323); // 1.5 units: to the even one, 2
        assert_eq!(to_f64(&[1], -1075), 0.0);
        assert_eq!(to_f64(&[5], -1074), 2.5e-323);
        assert_eq!(to_f64(&[1], 1023), 2f64.powi(1023));
        assert_eq!(to_f64(&[1], 1024), f64::INFINITY);
    }
}
