//! Heat given off by the surface, W/m2, from its temperature above the air: the published formulas,
//! fitted once so that the right-hand side needs two square roots and no power.
//!
//! Convection is u (0.68 k/w + u^(1/4) ...), the rest of it smooth in u; radiation is u times a
//! cubic. So q(u) = u (P1(u) + |u|^(1/4) P2(u)) with two polynomials.

/// Air, K.
pub const AIR_K: f64 = 298.15;
const WIDTH_M: f64 = 5e-3;
/// 1.2e-7 of q; two degrees more give 4e-10 and cost a tenth of the right-hand side.
const DEGREE: usize = 4;
/// Fitted from the air's temperature to this far above it.
const RANGE_K: f64 = 240.0;

/// The fitted law.
#[derive(Clone, Copy, Debug)]
pub struct Cooling {
    p1: [f64; DEGREE + 1],
    p2: [f64; DEGREE + 1],
}

/// The two smooth factors at u above the air: edge-on vertical plate of length scale w (Churchill
/// and Chu 1975, laminar), ideal air with Sutherland's viscosity and conductivity, radiation of
/// emissivity 0.40.
fn factors(u: f64) -> (f64, f64) {
    let surface = AIR_K + u;
    let film = AIR_K + 0.5 * u;
    let density = 101_325.0 / (287.052_87 * film);
    let kinematic = 1.716e-5 * (film / 273.15).powf(1.5) * 383.55 / (film + 110.4) / density;
    let k = 0.0241 * (film / 273.15).powf(1.5) * 467.15 / (film + 194.0);
    let diffusivity = k / (density * 1006.0);
    let rayleigh_per_k = 9.806_65 * WIDTH_M.powi(3) / (film * kinematic * diffusivity);
    let prandtl = kinematic / diffusivity;
    let radiation =
        0.4 * 5.670_374_419e-8 * (surface * surface + AIR_K * AIR_K) * (surface + AIR_K);
    let convection = 0.670 * rayleigh_per_k.powf(0.25)
        / (1.0 + (0.492 / prandtl).powf(9.0 / 16.0)).powf(4.0 / 9.0);
    (0.68 * k / WIDTH_M + radiation, convection * k / WIDTH_M)
}

/// q(u) without any fit.
pub fn exact(u: f64) -> f64 {
    let (p1, p2) = factors(u);
    u * (p1 + u.abs().powf(0.25) * p2)
}

/// Interpolates at Chebyshev's nodes by divided differences; powers of u out.
fn polynomial(f: impl Fn(f64) -> f64) -> [f64; DEGREE + 1] {
    let mut node = [0.0; DEGREE + 1];
    for (k, x) in node.iter_mut().enumerate() {
        let angle = std::f64::consts::PI * (k as f64 + 0.5) / (DEGREE + 1) as f64;
        *x = 0.5 * RANGE_K * (1.0 + angle.cos());
    }
    let mut difference = node.map(f);
    for order in 1..=DEGREE {
        for k in (order..=DEGREE).rev() {
            difference[k] = (difference[k] - difference[k - 1]) / (node[k] - node[k - order]);
        }
    }
    let mut power = [0.0; DEGREE + 1];
    for k in (0..=DEGREE).rev() {
        // power <- power * (u - node[k]) + difference[k]
        for i in (0..=DEGREE).rev() {
            let below = if i > 0 { power[i - 1] } else { difference[k] };
            power[i] = below - node[k] * power[i];
        }
    }
    power
}

fn horner(c: &[f64; DEGREE + 1], u: f64) -> f64 {
    c.iter().rev().fold(0.0, |sum, c| sum * u + c)
}

fn slope(c: &[f64; DEGREE + 1], u: f64) -> f64 {
    (1..=DEGREE)
        .rev()
        .fold(0.0, |sum, i| sum * u + i as f64 * c[i])
}

impl Cooling {
    /// Fits the law times `factor`.
    pub fn fit(factor: f64) -> Self {
        Self {
            p1: polynomial(|u| factor * factors(u).0),
            p2: polynomial(|u| factor * factors(u).1),
        }
    }

    /// q(u).
    #[inline(always)]
    pub fn at(&self, u: f64) -> f64 {
        u * (horner(&self.p1, u) + u.abs().sqrt().sqrt() * horner(&self.p2, u))
    }

    /// dq/du.
    pub fn slope(&self, u: f64) -> f64 {
        let root = u.abs().sqrt().sqrt();
        horner(&self.p1, u)
            + u * slope(&self.p1, u)
            + root * (1.25 * horner(&self.p2, u) + u * slope(&self.p2, u))
    }
}
