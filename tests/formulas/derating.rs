//! What a rating is worth in other surroundings, by hand.

/// Current that just trips in some air over that in reference air, √((T_trip − T_air)/(T_trip −
/// T_ref)).
///
/// Elementary: the strip trips at one temperature T_trip, and what it gives off grows linearly with
/// its rise, so that I² ∝ T_trip − T_air. Makers' correction tables follow it to about their last
/// digit. Natural convection and radiation are not linear, and the ends of a strip are cooler than
/// its middle: the engine solves for the trip point at each ambient instead. Holds for air below
/// T_trip; NaN above, where it stays open.
#[must_use]
pub fn square_root_law_factor(trip_k: f64, reference_k: f64, air_k: f64) -> f64 {
    ((trip_k - air_k) / (trip_k - reference_k)).sqrt()
}
