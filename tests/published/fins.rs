//! Fin with generation (textbook closed forms; H. S. Carslaw & J. C. Jaeger, Conduction of Heat in
//! Solids), values computed by two routes; F. P. Incropera & D. P. DeWitt, Ex. 3.9 (text values
//! from memory).
//!
//! Strip 10 × 0.8 × 40 mm, k 13, h 15 on 2(w + t), ρ 0.80 µΩ·m, 30 A, surroundings 25 °C.

use crate::formulas::fin::Fin;
use crate::formulas::joule::{generation_w_per_m3, power_shares, resistance_per_length};

use crate::{close, near};

const ZERO_C: f64 = 273.15;

fn strip(h: f64) -> Fin {
    let per_length = resistance_per_length(10e-3, [(0.8e-3, 0.80e-6)]);
    Fin {
        length_m: 40e-3,
        conduction_w_m_per_k: 13.0 * 8e-6,
        loss_w_per_m_k: h * 2.0 * (10e-3 + 0.8e-3),
        generation_w_per_m: 30.0 * 30.0 * per_length,
        air_k: ZERO_C + 25.0,
    }
}

#[test]
fn reference_strip() {
    let fin = strip(15.0);
    close(
        resistance_per_length(10e-3, [(0.8e-3, 0.80e-6)]) * 40e-3,
        4e-3,
        1e-12,
    );
    close(fin.generation_w_per_m, 90.0, 1e-12);
    close(fin.parameter_per_m(), 55.81563, 1e-6);
    close(fin.parameter_per_m() * fin.length_m, 2.2326252, 1e-6);
    close(fin.far_k() - ZERO_C, 302.77778, 1e-6);
}

#[test]
fn h1_both_ends_held() {
    let fin = strip(15.0);
    let (start, end) = (ZERO_C + 40.0, ZERO_C + 60.0);
    for (mm, celsius) in [(10.0, 125.03857), (20.0, 153.25197), (30.0, 133.66033)] {
        close(
            fin.held_ends_k(mm * 1e-3, start, end) - ZERO_C,
            celsius,
            1e-6,
        );
    }
    let hottest_m = fin.held_ends_hottest_m(start, end).unwrap();
    close(hottest_m, 20.87977e-3, 1e-6);
    close(
        fin.held_ends_k(hottest_m, start, end) - ZERO_C,
        153.43206,
        1e-6,
    );
    let mean = fin.held_ends_mean_k(start, end);
    close(mean - ZERO_C, 120.20320, 1e-6);
    let (out_start, out_end) = fin.held_ends_heat_w(start, end);
    close(out_start, 1.2550782, 1e-6);
    close(out_end, 1.1110883, 1e-6);
    let lateral = fin.loss_w_per_m_k * fin.length_m * (mean - fin.air_k);
    close(lateral, 1.2338335, 1e-6);
    close(out_start + out_end + lateral, 3.6, 1e-9);
}

#[test]
fn h1b_no_loss_from_the_sides() {
    close(25.0 + strip(0.0).steady_middle_rise_k(), 198.076923, 1e-9);
    close(25.0 + strip(1e-7).steady_middle_rise_k(), 198.076923, 1e-7);
}

#[test]
fn h2_free_end_insulated() {
    let fin = strip(15.0);
    let start = ZERO_C + 40.0;
    close(fin.insulated_end_k(40e-3, start) - ZERO_C, 247.05469, 1e-6);
    close(fin.insulated_end_k(20e-3, start) - ZERO_C, 208.57626, 1e-6);
    close(fin.insulated_end_mean_k(start) - ZERO_C, 187.75549, 1e-6);
}

/// Diffusivity 3.4464475e-6 m²/s from 8200 kg/m³ and 460 J/(kg K).
#[test]
fn h4_switch_on() {
    let capacity = 8200.0 * 460.0 * 8e-6;
    close(13.0 / (8200.0 * 460.0), 3.4464475e-6, 1e-7);
    let cases = [
        (15.0, 31.25349, [2.96655, 14.51695, 28.10311], 113.4637),
        (0.0, 47.03797, [2.98250, 14.91006, 29.63171], 173.07692),
    ];
    for (h, slowest_s, rises, steady) in cases {
        let fin = strip(h);
        close(fin.first_time_constant_s(capacity), slowest_s, 1e-6);
        for (time_s, expected) in [1.0, 5.0, 10.0].into_iter().zip(rises) {
            close(
                fin.switch_on_middle_rise_k(capacity, time_s),
                expected,
                1e-4,
            );
        }
        close(fin.switch_on_middle_rise_k(capacity, 1e5), steady, 1e-6);
        near(fin.switch_on_middle_rise_k(capacity, 0.0), 0.0, 1e-6);
    }
}

/// Incropera & DeWitt Ex. 3.9: very long rod of 5 mm, 100/25 °C, h 100 (text 8.3, 5.6, 1.6 W from
/// memory). 0.2 %.
#[test]
fn h18_very_long_rod() {
    for (k, m, watts) in [
        (398.0, 14.178, 8.310),
        (180.0, 21.082, 5.588),
        (14.0, 75.593, 1.558),
    ] {
        let (d, pi) = (5e-3, std::f64::consts::PI);
        let rod = Fin {
            length_m: 10.0,
            conduction_w_m_per_k: k * pi * d * d / 4.0,
            loss_w_per_m_k: 100.0 * pi * d,
            generation_w_per_m: 0.0,
            air_k: ZERO_C + 25.0,
        };
        close(rod.parameter_per_m(), m, 2e-3);
        close(rod.endless_rod_heat_w(ZERO_C + 100.0), watts, 2e-3);
    }
}

/// Derived: layers share current by t/ρ, and their heat adds up to I² R'.
#[test]
fn layers_in_parallel() {
    let (width, layers) = (
        8e-3,
        [(0.4e-3, 0.80e-6), (0.05e-3, 0.0172e-6), (0.4e-3, 0.78e-6)],
    );
    let per_length = resistance_per_length(width, layers);
    let shares = power_shares(&layers);
    near(shares.iter().sum(), 1.0, 1e-12);
    let current = 32.0;
    let mut total = 0.0;
    for ((t, rho), share) in layers.into_iter().zip(shares) {
        let watts_per_m = generation_w_per_m3(current, per_length, rho) * t * width;
        close(watts_per_m, share * current * current * per_length, 1e-12);
        // The layer alone, with its own current.
        close(
            watts_per_m,
            (share * current).powi(2) * rho / (t * width),
            1e-12,
        );
        total += watts_per_m;
    }
    close(total, current * current * per_length, 1e-12);
}
