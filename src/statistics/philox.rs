//! Philox4x32-10: random numbers as a function of a counter and a key, with no state.
//!
//! J. K. Salmon, M. A. Moraes, R. O. Dror, D. E. Shaw, "Parallel Random Numbers: As Easy as 1, 2,
//! 3", Proc. SC11 (2011), section 3.3. Integer arithmetic only: the same bytes on every machine.

const MULTIPLIERS: [u32; 2] = [0xD251_1F53, 0xCD9E_8D57];
const WEYL: [u32; 2] = [0x9E37_79B9, 0xBB67_AE85];
const ROUNDS: usize = 10;

/// The 128 bits that belong to a counter (128 bits) under a key (64 bits).
///
/// Every counter and every key is allowed; for one key the map is one-to-one.
///
/// ```
/// use relatch::internals::statistics::philox::philox4x32_10;
/// let block = philox4x32_10([0; 4], [0; 2]);
/// assert_eq!(block, [0x6627_e8d5, 0xe169_c58d, 0xbc57_ac4c, 0x9b00_dbd8]);
/// ```
#[must_use]
pub fn philox4x32_10(counter: [u32; 4], key: [u32; 2]) -> [u32; 4] {
    let (mut x, mut k) = (counter, key);
    for round in 0..ROUNDS {
        if round > 0 {
            k = [k[0].wrapping_add(WEYL[0]), k[1].wrapping_add(WEYL[1])];
        }
        let (high0, low0) = wide(MULTIPLIERS[0], x[0]);
        let (high1, low1) = wide(MULTIPLIERS[1], x[2]);
        x = [high1 ^ x[1] ^ k[0], low1, high0 ^ x[3] ^ k[1], low0];
    }
    x
}

/// High and low half of a product.
fn wide(a: u32, b: u32) -> (u32, u32) {
    let product = u64::from(a) * u64::from(b);
    ((product >> 32) as u32, product as u32)
}
