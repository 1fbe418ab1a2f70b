//! A body of one temperature that a current heats and the air cools.

/// Time from a steady state to the rise that another current holds for ever, in time constants of the
/// body: ln((I^2 - I_0^2) / (I^2 - I_h^2)), the rises going as the squares of the currents (the
/// first-order response; common practice for thermal images of machines and cables). Infinite up to
/// the current that is held, 0 where the state before is beyond it. It is what makes a trip time
/// endless at the trip point: the time over it is smooth there.
pub fn pace(current_a: f64, held_a: f64, before_a: f64) -> f64 {
    let [i, held, before] = [current_a, held_a, before_a].map(|a| a * a);
    if held <= before {
        0.0
    } else if i > held {
        libm::log((i - before) / (i - held))
    } else {
        f64::INFINITY
    }
}

/// The current above the trip point that has this pace.
pub fn current_of_pace_a(pace: f64, held_a: f64, before_a: f64) -> f64 {
    let e = libm::exp(-pace);
    let [held, before] = [held_a, before_a].map(|a| a * a);
    libm::sqrt((held - before * e) / (1.0 - e))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn twice_the_trip_point_takes_less_than_a_third_of_a_time_constant() {
        // ln(4 / 3), and after three quarters of the rise ln(3.25 / 3).
        assert!((pace(2.0, 1.0, 0.0) - 0.287_682).abs() < 1e-6);
        assert!((pace(2.0, 1.0, 0.75f64.sqrt()) - 0.080_043).abs() < 1e-6);
        assert_eq!(pace(1.0, 1.0, 0.0), f64::INFINITY);
        assert_eq!(pace(2.0, 1.0, 1.5), 0.0);
        for before_a in [0.0, 0.7] {
            let again_a = current_of_pace_a(pace(1.7, 1.2, before_a), 1.2, before_a);
            assert!((again_a / 1.7 - 1.0).abs() < 1e-12);
        }
    }
}
