//! One step of the explicit pair of orders 5 and 4 of J. R. Dormand and P. J. Prince, J. Comp.
//! Appl. Math. 6 (1980) 19, for a few unknowns and a motion with events.

/// State, its rate and the estimated error at the end of a step.
#[derive(Debug, Clone, Copy)]
pub struct Stepped<const N: usize> {
    /// State.
    pub y: [f64; N],
    /// Rate there.
    pub rate: [f64; N],
    /// Difference of both orders.
    pub error: [f64; N],
}

const C: [f64; 6] = [0.2, 0.3, 0.8, 8.0 / 9.0, 1.0, 1.0];
const A: [&[f64]; 6] = [
    &[0.2],
    &[3.0 / 40.0, 9.0 / 40.0],
    &[44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0],
    &[
        19_372.0 / 6_561.0,
        -25_360.0 / 2_187.0,
        64_448.0 / 6_561.0,
        -212.0 / 729.0,
    ],
    &[
        9_017.0 / 3_168.0,
        -355.0 / 33.0,
        46_732.0 / 5_247.0,
        49.0 / 176.0,
        -5_103.0 / 18_656.0,
    ],
    &[
        35.0 / 384.0,
        0.0,
        500.0 / 1_113.0,
        125.0 / 192.0,
        -2_187.0 / 6_784.0,
        11.0 / 84.0,
    ],
];
const E: [f64; 7] = [
    71.0 / 57_600.0,
    0.0,
    -71.0 / 16_695.0,
    71.0 / 1_920.0,
    -17_253.0 / 339_200.0,
    22.0 / 525.0,
    -0.025,
];

/// One step of length `h` from `y` with rate `rate`.
pub fn step<const N: usize>(
    f: &mut impl FnMut(f64, &[f64; N]) -> [f64; N],
    t: f64,
    y: &[f64; N],
    rate: &[f64; N],
    h: f64,
) -> Stepped<N> {
    let mut k = [[0.0; N]; 7];
    k[0] = *rate;
    let mut at = *y;
    for (s, row) in A.iter().enumerate() {
        at = std::array::from_fn(|i| {
            let sum: f64 = row.iter().zip(&k).map(|(a, k)| a * k[i]).sum();
            y[i] + h * sum
        });
        k[s + 1] = f(t + C[s] * h, &at);
    }
    let error = std::array::from_fn(|i| h * E.iter().zip(&k).map(|(e, k)| e * k[i]).sum::<f64>());
    Stepped {
        y: at,
        rate: k[6],
        error,
    }
}
