//! Instantaneous elements: pull, first peak of a closing current, bands.
//!
//! Peak factor 1.02 + 0.98 exp(-3R/X) of a short circuit, IEC 60909-0 (read: as quoted in the
//! documentation of a public network calculator); it fits the exact peak within 0.6 %. First peak
//! of a motor at most 2√2 times its locked-rotor rms current (read: a manufacturer's data sheet,
//! P5). Pull of one gap μ0 A (N I)²/(2 g²) without fringe and iron, and B² A/(2 μ0): textbook,
//! values computed here. Bands of IEC 60898-1 (read: as quoted in an instruction manual and a
//! product page, S4; the upper limit of D is printed as 15 by one source and is no gate).

use super::support::shipped;
use super::{about, close};
use relatch::internals::physics::closing_current::ClosingCurrent;
use relatch::internals::physics::electromagnet::MagneticCircuit;
use relatch::internals::predict::{Options, predict};
use relatch::internals::standards::Band;
use std::f64::consts::SQRT_2;

/// Largest instant over all closing angles and the first periods, over the peak of the steady
/// current.
fn peak_factor(x_over_r: f64) -> f64 {
    let current = ClosingCurrent::Alternating {
        rms_a: 1.0 / SQRT_2,
        frequency_hz: 50.0,
        x_over_r,
    };
    let angles = (0..180).map(|deg| f64::from(deg).to_radians());
    let times = |angle: f64| (0..2000).map(move |k| current.at(angle, f64::from(k) * 2e-5));
    angles
        .flat_map(|angle| times(angle).map(f64::abs))
        .fold(0.0, f64::max)
}

#[test]
fn iec_60909_peak_factor() {
    for r_over_x in [0.05, 0.1, 0.2, 0.3, 0.5, 0.8] {
        let printed = 1.02 + 0.98 * (-3.0f64 * r_over_x).exp();
        about(peak_factor(1.0 / r_over_x), printed, 0.006);
    }
}

#[test]
fn p5_first_peak_of_a_motor_is_below_twice_the_steady_peak() {
    let largest = [1.0, 3.0, 10.0, 100.0].map(peak_factor);
    assert!(largest.windows(2).all(|w| w[0] < w[1]), "{largest:?}");
    assert!(largest[3] < 2.0 && largest[3] > 1.95, "{largest:?}");
}

/// A gap without fringe and iron without reluctance.
fn bare(turns: f64, gaps: f64) -> MagneticCircuit {
    MagneticCircuit {
        turns,
        gaps,
        pole_area_m2: 1e-4,
        pole_perimeter_m: 0.04,
        gap_m: 2e-3,
        fringe: 0.0,
        iron_length_m: 1e-9,
        iron_area_m2: 1e-4,
        relative_permeability: 1e6,
        saturation_t: 1.0,
    }
}

#[test]
fn textbook_pull_of_a_gap() {
    // 4π·10⁻⁷ · 10⁻⁴ m² · (500 A)²/(2 (2 mm)²) = 3.9270 N; two gaps in series take half of it.
    close(bare(5.0, 1.0).pull_n(100.0, 0.0), 3.9270, 1e-4);
    close(bare(5.0, 2.0).pull_n(100.0, 0.0), 1.963_5, 1e-4);
    // 1 T on 1 cm²: 39.789 N, and no more than that however large the current.
    close(bare(5.0, 1.0).pull_n(1e5, 0.0), 39.789, 1e-4);
    close(bare(5.0, 1.0).pull_n(1e7, 1e-3), 39.789, 1e-4);
}

#[test]
fn s4_bands() {
    assert_eq!(Band::B.multiples(), [3.0, 5.0]);
    assert_eq!(Band::C.multiples(), [5.0, 10.0]);
    assert_eq!(Band::D.multiples()[0], 10.0);
}

/// The judgement turns where the document says: a stronger spring leaves the band upwards, a weaker
/// one downwards.
#[test]
fn s4_the_verdict_turns_at_the_band() {
    let verdict = |preload_n: f64| {
        let mut s = shipped("15-theatre-saw.toml");
        s.magnetic.as_mut().expect("an element").preload_n = preload_n;
        let mut options = Options::default();
        (options.without_tables, options.without_course) = (true, true);
        let outcome = predict(&s, &options, &mut |_, _| {}).expect("it runs");
        let check = outcome.magnetic.and_then(|m| m.band).expect("a band");
        (check.holds_lower, check.releases_upper)
    };
    assert_eq!(verdict(2.3), (true, true));
    assert_eq!(verdict(0.8), (false, true));
    assert_eq!(verdict(6.0), (true, false));
}
