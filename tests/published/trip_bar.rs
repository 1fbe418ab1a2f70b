//! Several strips on one trip bar: the even temperature at which it lets go.
//!
//! Curvature of two layers by S. Timoshenko, "Analysis of bi-metal thermostats", J. Opt. Soc. Am.
//! 11 (1925) 233; a clamped strip moves κL²/2 freely and gives L³/(3EI) a newton, EI of a bonded
//! section by the theorem of parallel axes, and springs side by side share a force by their
//! stiffness (textbooks). Computed for this project from those formulas alone; no maker or standard
//! prints such a number, and that two bars compare strips by a lever was read without one. The
//! strips are those of the worked case: 25 mm long, two layers of 5 mm by 0.2 mm, 145 and 190 GPa.
//!
//! ```python
//! from scipy.optimize import brentq                                          # SciPy 1.17.1
//! w, t, L, E1, E2, g = 5e-3, 2e-4, 25e-3, 145e9, 190e9, 1.2e-3
//! n, middle = E1/E2, t*(0.5*E1 + 1.5*E2)/(E1 + E2)
//! EI = w*t**3/12*(E1 + E2) + w*t*(E1*(0.5*t - middle)**2 + E2*(1.5*t - middle)**2)
//! def d(T):
//!     u = T - 20
//!     strain = 17e-6*u - 1e-9*u*u
//!     return L*L/2*24*strain/(2*t*(12 + (1 + n)*(1 + 1/n)))
//! S = L**3/(3*EI)
//! at = lambda f: brentq(f, 30, 400)
//! [at(lambda T: d(T) - g - S*0.45/k) for k in (1, 2, 3)]                     # sum; 1: any
//! a, F = 0.5, 0.1                                                            # differential
//! [at(lambda T: d(T) - g - S*F*((1 + a)**2 + a*a)/k) for k in (2, 3)]
//! at(lambda T: (1 + a)*(d(T) - (1 + a)*F*S/2) - a*(d(25) + a*F*S) - g)       # third one at 25
//! ```

use super::near;
use relatch::internals::device::{Device, Fineness, Model};
use relatch::internals::physics::constants::ZERO_CELSIUS_K;
use relatch::internals::scenario::{self, Scenario};

/// So many worked strips, each with the clearance of the worked case, held by a constant force.
fn strips(count: usize, force: &str, bar: &str) -> Scenario {
    let file = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/scenarios/08-worked-strip.toml"
    );
    let text = std::fs::read_to_string(file).expect("the worked strip");
    let text = text.replace("[latch]", &format!("[latch]\nconstant_force = \"{force}\""));
    let each = "[[poles.pole]]\n".repeat(count);
    let text = text.replace(
        "[surroundings]",
        &format!("[poles]\n{bar}\n{each}[surroundings]"),
    );
    scenario::read_text("bar.toml", &text).unwrap_or_else(|e| panic!("{e}"))
}

/// The temperature of the first strips, the others at 25 degC, at which the bar lets go, degC.
fn releases_at_c(s: &Scenario, warm: usize) -> f64 {
    let device = Device::new(s).expect("device");
    let end_element_m = device.length_m;
    let model = Model::new(
        &device,
        Fineness {
            order: 6,
            end_element_m,
        },
    );
    let excess_m = |warm_c: f64| {
        let mut y = model.uniform(25.0 + ZERO_CELSIUS_K);
        y[..warm * model.layout.strip].fill(warm_c + ZERO_CELSIUS_K);
        model.release_excess_m(&y, 0.0)
    };
    let (mut low, mut high) = (30.0, 400.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if excess_m(middle) < 0.0 {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

#[test]
fn pushes_add() {
    for (count, expected_c) in [(1, 107.788_239), (2, 94.247_733), (3, 89.739_064)] {
        let bar = strips(count, "0.45 N", "bar = \"sum\"");
        near(releases_at_c(&bar, count), expected_c, 1e-5);
    }
    // Of three the two warm ones share what all would.
    let bar = strips(3, "0.45 N", "bar = \"sum\"");
    near(releases_at_c(&bar, 2), 94.247_733, 1e-5);
}

#[test]
fn each_on_its_own_latch_meets_its_own_force() {
    for count in [1, 2, 3] {
        let bar = strips(3, "0.45 N", "bar = \"any\"");
        near(releases_at_c(&bar, count), 107.788_239, 1e-5);
    }
}

#[test]
fn a_second_bar_notices_the_cold_one() {
    let differential = "bar = \"differential\"\nlever = 0.5";
    for (count, expected_c) in [(2, 88.236_710), (3, 85.733_381)] {
        let bar = strips(count, "0.1 N", differential);
        near(releases_at_c(&bar, count), expected_c, 1e-5);
    }
    let bar = strips(3, "0.1 N", differential);
    near(releases_at_c(&bar, 2), 67.604_745, 1e-5);
}
