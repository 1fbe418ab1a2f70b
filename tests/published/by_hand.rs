//! The formulas of the explanations, fed with worked values of others.
//!
//! T4: S. Timoshenko, J. Opt. Soc. Am. & Rev. Sci. Instrum. 11 (1925) 233, closed form and layer
//! matrix agree (not the paper's own numbers). H5, H6: one body of one temperature, evaluated
//! twice. T7: the strip T4b against a latch. T8c: one sine term of the snapping blade of the 1935
//! paper (from memory, re-derived), two routes.

use crate::close;
use relatch::internals::study::by_hand::formulas::*;

fn value(formula: &Formula, quantities: &[(&str, f64)]) -> f64 {
    formula.value(quantities).expect("all quantities")
}

/// Strip T4a or T4b.
struct Strip {
    t: [f64; 2],
    e: [f64; 2],
    strain: [f64; 2],
    kelvin: f64,
    curvature: f64,
    tip: f64,
    stiffness: f64,
}

fn strips() -> [Strip; 2] {
    [
        Strip {
            t: [0.5e-3, 0.5e-3],
            e: [145e9, 110e9],
            strain: [1.2e-4, 19.0e-4],
            kelvin: 100.0,
            curvature: 2.657245,
            tip: 1.195760e-3,
            stiffness: 10.474877,
        },
        Strip {
            t: [0.4e-3, 0.4e-3],
            e: [145e9, 190e9],
            strain: [1.9e-6 * 75.0, 18.8e-6 * 75.0],
            kelvin: 75.0,
            curvature: 2.365695,
            tip: 1.064563e-3,
            stiffness: 7.049950,
        },
    ]
}

#[test]
fn t4_two_layers_by_timoshenko_and_by_the_sums() {
    for s in strips() {
        let h = s.t[0] + s.t[1];
        let curvature = value(
            &TWO_LAYER_CURVATURE,
            &[
                ("Deltaeps", s.strain[1] - s.strain[0]),
                ("m", s.t[0] / s.t[1]),
                ("n", s.e[0] / s.e[1]),
                ("h", h),
            ],
        );
        close(curvature, s.curvature, 1e-6);
        let stiffness = value(
            &TWO_LAYER_STIFFNESS,
            &[
                ("w", 1.0),
                ("h", h),
                ("E_1", s.e[0]),
                ("E_2", s.e[1]),
                ("t_1", s.t[0]),
                ("t_2", s.t[1]),
            ],
        );
        close(stiffness, s.stiffness, 1e-6);
        let tip = value(&TIP, &[("kappa_T", curvature), ("L", 0.030)]);
        close(tip, s.tip, 1e-6);
        let (mut a, mut b, mut d, mut n, mut m, mut z) = (0.0, 0.0, 0.0, 0.0, 0.0, 0.0);
        for k in 0..2 {
            let (t, e) = (s.t[k], s.e[k]);
            let middle = z + 0.5 * t;
            a += e * t;
            b += e * t * middle;
            d += e * t * (middle * middle + t * t / 12.0);
            n += e * t * s.strain[k];
            m += e * t * middle * s.strain[k];
            z += t;
        }
        let sums = [("A", a), ("B", b), ("D", d), ("N", n), ("M", m), ("w", 1.0)];
        close(value(&LAYERED_CURVATURE, &sums), s.curvature, 1e-6);
        close(value(&LAYERED_STIFFNESS, &sums), s.stiffness, 1e-6);
        let flexivity = value(
            &FLEXIVITY,
            &[("h", h), ("kappa_T", curvature), ("DeltaT_h", s.kelvin)],
        );
        close(flexivity, h * s.curvature / s.kelvin, 1e-6);
    }
}

/// T7b: 0.5 mm of travel and a push of 2 N: 53.21347 K; of 0 N: 35.22573 K. Strip T4b, 10 mm wide,
/// 30 mm long.
#[test]
fn t7b_travel_and_push() {
    let s = &strips()[1];
    let (h, length) = (0.8e-3, 0.030);
    let give = value(&COMPLIANCE, &[("L", length), ("EI", 0.010 * s.stiffness)]);
    close(1.0 / give, 7833.278, 1e-6);
    for (push, kelvin) in [(2.0, 53.21347), (0.0, 35.22573)] {
        let d = value(
            &RELEASE_DEFLECTION,
            &[("g", 0.5e-3), ("S", give), ("P", push)],
        );
        let t = value(
            &TEMPERATURE_OF_DEFLECTION,
            &[
                ("T_flat", 0.0),
                ("h", h),
                ("d", d),
                ("F", h * s.curvature / s.kelvin),
                ("L", length),
            ],
        );
        close(t, kelvin, 1e-6);
    }
}

const C: f64 = 1.20704;
const G: f64 = 0.01296;
const R: f64 = 4e-3;

#[test]
fn h5_one_body_heated() {
    let tau = value(&TIME_CONSTANT, &[("C", C), ("G", G)]);
    close(tau, 93.135802, 1e-6);
    for (current, steady, time, adiabatic) in [
        (25.0, 192.9012, 34.69980, 28.96896),
        (30.0, 277.7778, 22.66425, 20.11733),
        (60.0, 1111.111, 5.170221, 5.029333),
    ] {
        let q = [
            ("I", current),
            ("R", R),
            ("G", G),
            ("C", C),
            ("theta", 60.0),
        ];
        let rise = value(&STEADY_RISE, &q);
        close(rise, steady, 1e-6);
        let t = value(
            &HEATING_TIME,
            &[("tau", tau), ("theta_ss", rise), ("theta", 60.0)],
        );
        close(t, time, 1e-6);
        close(value(&ADIABATIC_TIME, &q), adiabatic, 1e-6);
        let warm = value(
            &HEATING_TIME_WARM,
            &[
                ("tau", tau),
                ("theta_ss", rise),
                ("theta", 60.0),
                ("theta_0", 0.0),
            ],
        );
        close(warm, time, 1e-6);
    }
    let ultimate = value(&ULTIMATE_CURRENT, &[("G", G), ("theta", 60.0), ("R", R)]);
    close(ultimate, 13.94274, 1e-6);
}

#[test]
fn h6_one_body_cooling() {
    for (air, wait) in [(25.0, 102.3201), (40.0, 204.6403)] {
        let t = value(
            &COOLING_TIME,
            &[
                ("tau", C / G),
                ("T_rel", 85.0),
                ("T_relatch", 45.0),
                ("T_air", air),
            ],
        );
        close(t, wait, 1e-6);
    }
}

/// H1: 10 x 0.8 mm strip, k 13, h 15 on the whole perimeter, ends held: here both at the air, of
/// which the mean follows from the closed form in `physics::fin`, an independent line of the
/// program that H1 holds.
#[test]
fn h1_strip_between_cold_ends() {
    let (length, ka, faces) = (0.040, 13.0 * 8e-6, 15.0 * 21.6e-3 * 0.040);
    let fin = crate::formulas::fin::Fin {
        length_m: length,
        conduction_w_m_per_k: ka,
        loss_w_per_m_k: faces / length,
        generation_w_per_m: 90.0,
        air_k: 298.15,
    };
    let u = value(&FIN_NUMBER, &[("L", length), ("G", faces), ("kA", ka)]);
    close(2.0 * u, 2.2326252, 1e-6);
    let g = value(&FIN_CONDUCTANCE, &[("G", faces), ("u", u)]);
    let mean = fin.held_ends_mean_k(298.15, 298.15) - 298.15;
    close(90.0 * length / g, mean, 1e-10);
}

/// C7: radiation against surroundings of 25 degC: emissivity 0.6 at 75 and 225 degC.
#[test]
fn c7_radiation() {
    for (celsius, h) in [(75.0, 4.6198), (225.0, 9.1312)] {
        let q = [
            ("eps_r", 0.6),
            ("sigma", 5.670374419e-8),
            ("T_s", celsius + 273.15),
            ("T_a", 298.15),
        ];
        close(value(&RADIATION, &q), h, 1e-4);
    }
}

/// T8c: span 20 mm, thickness 0.25 mm, rise 0.30 mm, F 26.2e-6/K, rigid hinges that expand with the
/// strip: the one-term blade snaps through at +117.6186 K and back at -6.67052 K. Any modulus gives
/// the same.
#[test]
fn t8c_one_term_blade() {
    let (l, h, rise, modulus, width) = (20e-3_f64, 0.25e-3_f64, 0.30e-3, 170e9, 5e-3);
    let ei = modulus * width * h.powi(3) / 12.0;
    let axial = value(&AXIAL_RIGID, &[("EA", modulus * width * h), ("l", l)]);
    let base = [
        ("EI", ei),
        ("l", l),
        ("a_0", rise),
        ("K_e", axial),
        ("N_0", 0.0),
    ];
    let cubic = value(&BLADE_CUBIC, &base);
    let linear = value(&BLADE_LINEAR, &base);
    let fold = value(&BLADE_FOLD, &[("c_L", linear), ("c_C", cubic)]);
    for (a, kelvin) in [(fold, 117.6186), (-fold, -6.67052)] {
        let mut q = base.to_vec();
        q.extend([("c_L", linear), ("c_C", cubic), ("a", a)]);
        let kappa = value(&BLADE_CURVATURE, &q);
        let t = value(
            &TEMPERATURE_OF_CURVATURE,
            &[("T_flat", 0.0), ("kappa", kappa), ("h", h), ("F", 26.2e-6)],
        );
        assert!((t - kelvin).abs() < 1e-4, "{t} {kelvin}");
    }
}
