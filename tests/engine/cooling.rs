//! The fitted laws of the surface against the published ones that they stand for.

use crate::support::worked;
use relatch::internals::device::CoolingLaw;
use relatch::internals::scenario::Convection;

fn law(convection: Convection) -> CoolingLaw {
    let s = worked(|s| {
        s.cooling.convection = convection;
        s.cooling.altitude_m = 540.0;
    });
    CoolingLaw::new(&s.cooling, &s.strip)
}

const ALL: [Convection; 6] = [
    Convection::EdgeOn,
    Convection::Upright,
    Convection::Flat,
    Convection::Constant {
        coefficient_w_per_m2_k: 11.0,
    },
    Convection::Forced {
        speed_m_per_s: 1.5,
        flow_length_m: 0.02,
    },
    Convection::Gap { gap_m: 0.002 },
];

#[test]
fn the_fitted_law_is_the_published_one() {
    for convection in ALL {
        let law = law(convection);
        for air_k in [233.15, 298.15, 341.0] {
            for u in [-40.0, -3.0, -1e-3, 1e-6, 1e-3, 0.5, 7.0, 60.0, 240.0, 700.0] {
                let (fitted, published) = (
                    law.coefficient(air_k + u, air_k),
                    law.published_coefficient(air_k + u, air_k),
                );
                assert!(
                    (fitted / published - 1.0).abs() < 1e-10,
                    "{convection:?} {air_k} {u}: {fitted} {published}"
                );
            }
        }
    }
}

/// The short fit keeps within its proved bound, and that below 1e-8.
#[test]
fn the_short_fit_keeps_its_bound() {
    for convection in ALL {
        let law = law(convection);
        let Some(short) = law.film_fit() else {
            continue;
        };
        assert!(short.bound <= 1e-8, "{convection:?}: {}", short.bound);
        let narrow = short.narrowed(280.0, 480.0);
        assert!(narrow.bound <= 2e-8, "{convection:?}: {}", narrow.bound);
        for fit in [&short, &narrow] {
            let (low, high) = fit.range_k();
            for k in 0..=2000 {
                let film_k = low + (high - low) * f64::from(k) / 2000.0;
                let z = (film_k - fit.middle_k) / fit.half_k;
                let at = |c: &[f64]| c.iter().rev().fold(0.0, |v, c| v * z + c);
                for u in [1e-3f64, 2.0, 60.0, 160.0] {
                    let h = at(&fit.still) + at(&fit.moving) * u.sqrt().sqrt();
                    let exact = law.published_coefficient(film_k + 0.5 * u, film_k - 0.5 * u);
                    // 1e-11: rounding of the two ways.
                    let off = (h / exact - 1.0).abs();
                    assert!(
                        off <= fit.bound + 1e-11,
                        "{convection:?} {film_k} {u}: {off}"
                    );
                }
            }
        }
    }
}

#[test]
fn slopes_are_those_of_the_flux() {
    for convection in ALL {
        let law = law(convection);
        for (surface, air) in [
            (300.0, 298.0),
            (380.0, 298.0),
            (280.0, 300.0),
            (298.3, 298.15),
        ] {
            let step = 1e-4;
            let (a, b) = law.flux_slopes(surface, air);
            let up = (law.flux(surface + step, air) - law.flux(surface - step, air)) / (2.0 * step);
            let across =
                (law.flux(surface, air + step) - law.flux(surface, air - step)) / (2.0 * step);
            assert!(
                (a - up).abs() < 2e-6 * up.abs(),
                "{convection:?} {surface} {air}: {a} {up}"
            );
            assert!(
                (b - across).abs() < 2e-6 * across.abs(),
                "{convection:?} {surface} {air}: {b} {across}"
            );
        }
    }
}
