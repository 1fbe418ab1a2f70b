//! Bending: equal metals do not bend, splitting a layer changes nothing, order reversed flips the
//! sign.

use crate::support::{apart, fine_model, run_at, worked};

#[test]
fn equal_metals_do_not_bend_and_never_trip() {
    let s = worked(|s| {
        let low = s.strip.layers[0].clone();
        s.strip.layers[1] = low;
    });
    let model = fine_model(&s);
    let y = model.uniform(400.0);
    assert!(model.free_deflection_m(&y, 0.0).abs() < 1e-15);
    let answer = run_at(&s, 9.0);
    assert_eq!(answer.value.trip_time_s, None);
}

#[test]
fn splitting_a_layer_changes_nothing() {
    let whole = worked(|_| {});
    let split = worked(|s| {
        let mut half = s.strip.layers[1].clone();
        half.thickness_m *= 0.5;
        s.strip.layers[1] = half.clone();
        s.strip.layers.push(half);
        let mut nothing = s.strip.layers[0].clone();
        nothing.thickness_m = 0.0;
        s.strip.layers.insert(0, nothing);
    });
    let (a, b) = (run_at(&whole, 20.0), run_at(&split, 20.0));
    let times = (
        a.value.trip_time_s.expect("trips"),
        b.value.trip_time_s.expect("trips"),
    );
    assert!(apart(times.0, times.1) < 1e-10, "{times:?}");
    let waits = (
        a.value.relatch_wait_s.expect("relatches"),
        b.value.relatch_wait_s.expect("relatches"),
    );
    assert!(apart(waits.0, waits.1) < 1e-9, "{waits:?}");
}

#[test]
fn reversed_layers_bend_the_other_way_by_the_same_amount() {
    let forward = fine_model(&worked(|_| {}));
    let reversed = fine_model(&worked(|s| s.strip.layers.reverse()));
    for t in [250.0, 320.0, 400.0] {
        let (a, b) = (
            forward.free_deflection_m(&forward.uniform(t), 0.0),
            reversed.free_deflection_m(&reversed.uniform(t), 0.0),
        );
        assert!((a + b).abs() < 1e-14, "{t}: {a} {b}");
    }
}

#[test]
fn at_the_flat_temperature_the_strip_has_its_initial_curvature() {
    let s = worked(|s| s.strip.initial_curvature_per_m = 0.7);
    let model = fine_model(&s);
    let expected = 0.7 * s.strip.length_m * s.strip.length_m / 2.0;
    assert!(
        apart(
            model.free_deflection_m(&model.uniform(s.strip.flat_temperature_k), 0.0),
            expected
        ) < 1e-12
    );
}

#[test]
fn a_push_point_short_of_the_end_uses_only_what_lies_before_it() {
    let s = worked(|s| s.strip.push_point_m = 0.018);
    let model = fine_model(&s);
    let t = 360.0;
    let curvature = model.curvature_per_m(&model.uniform(t), 0.0)[0];
    assert!(
        apart(
            model.free_deflection_m(&model.uniform(t), 0.0),
            curvature * 0.018f64.powi(2) / 2.0
        ) < 1e-12
    );
}
