//! IEC 60255-149, thermal model (formula from memory, numbers computed).

use crate::formulas::heating::iec_60255_149_trip_time_s;

use crate::close;

/// H16: τ 600 s, k 1.05, cold. 1e-5.
#[test]
fn h16_cold_trip_times() {
    let rows = [
        (1.1, 1452.531),
        (1.2, 870.500),
        (1.5, 404.007),
        (2.0, 193.468),
        (3.0, 78.407),
        (6.0, 18.6622),
        (7.2, 12.8981),
    ];
    for (current, expected) in rows {
        let time_s = iec_60255_149_trip_time_s(600.0, current, 0.0, 1.05, 1.0);
        close(time_s.unwrap(), expected, 1e-5);
    }
    assert_eq!(iec_60255_149_trip_time_s(600.0, 1.05, 0.0, 1.05, 1.0), None);
    // Loaded before up to the threshold it trips at once.
    assert_eq!(
        iec_60255_149_trip_time_s(600.0, 2.0, 1.05, 1.05, 1.0),
        Some(0.0)
    );
}
