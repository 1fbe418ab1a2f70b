//! W. H. Wittrick, D. M. Myers & W. R. Blunden, "Stability of a Bimetallic Disk", Quart. J. Mech.
//! Appl. Math. 6 (1953) 15 (from memory; formulas derived from shallow-shell energy, not quoted).
//! Values computed by two routes. Disc of radius 10 mm, 0.20 mm thick, ν 0.3, F 26.2e-6/K, free
//! edge.

use crate::formulas::snap_disc::SnapDisc;

use crate::close;

fn disc(rise_ratio: f64) -> SnapDisc {
    SnapDisc {
        radius_m: 10e-3,
        thickness_m: 0.20e-3,
        poisson: 0.3,
        rise_m: rise_ratio * 0.20e-3,
        flexivity_per_k: 26.2e-6,
    }
}

#[test]
fn d1_flattening_temperature() {
    let rows = [
        (2.0, 61.069),
        (2.25, 68.702),
        (2.5, 76.336),
        (2.75, 83.969),
        (3.0, 91.603),
        (3.5, 106.870),
    ];
    for (ratio, expected) in rows {
        close(disc(ratio).flattening_k(), expected, 1e-5);
    }
}

#[test]
fn d2_snaps_of_uniform_curvature() {
    let rows = [
        (2.5, 77.142, 75.529),
        (2.75, 89.137, 78.802),
        (3.0, 103.853, 79.354),
        (3.5, 141.235, 72.505),
    ];
    for (ratio, forward, back) in rows {
        let (found_forward, found_back) = disc(ratio).snaps_k().unwrap();
        close(found_forward, forward, 1e-5);
        close(found_back, back, 1e-5);
        // D5: the middle of the hysteresis is flat.
        close(
            found_forward + found_back,
            2.0 * disc(ratio).flattening_k(),
            1e-12,
        );
    }
    assert_eq!(disc(2.25).snaps_k(), None); // K0 = 0.94: creeps
}
