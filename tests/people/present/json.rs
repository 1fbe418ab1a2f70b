use super::fabricated;
use relatch::internals::present::{json, json_list};

#[test]
fn reads_back_with_units_in_the_names() {
    let outcome = fabricated::latch();
    let value: serde_json::Value = serde_json::from_str(&json(&outcome).unwrap()).unwrap();
    assert_eq!(value["trip"]["current_a"], 20.0);
    let time_s = value["trip"]["time_s"].as_f64().unwrap();
    assert!((time_s / outcome.trip.time_s().unwrap() - 1.0).abs() < 1e-15);
    assert_eq!(value["reset"]["governs"], "start_up");
    assert_eq!(value["preload_shift"][5]["loss"], 0.5);
}

#[test]
fn what_is_not_finite_is_null() {
    let mut outcome = fabricated::latch();
    outcome.trip.release_mut().unwrap().time_s = f64::INFINITY;
    outcome.part.flexivity_per_k = f64::NAN;
    let text = json(&outcome).unwrap();
    let value: serde_json::Value = serde_json::from_str(&text).unwrap();
    assert!(value["trip"]["time_s"].is_null() && value["part"]["flexivity_per_k"].is_null());
}

#[test]
fn several_outcomes_are_an_array() {
    let list = [fabricated::latch(), fabricated::holds()];
    let value: serde_json::Value = serde_json::from_str(&json_list(&list).unwrap()).unwrap();
    assert_eq!(value.as_array().map(Vec::len), Some(2));
}
