//! What a programme of current is at any moment.

use relatch::internals::load::{Current, Programme, Repeat};

fn duty() -> Programme {
    Programme::steps([(40.0, 13.8), (25.0, 0.2)], Repeat::Forever)
}

#[test]
fn a_repeated_duty_comes_round_at_every_boundary() {
    let p = duty();
    for k in 0..1000 {
        let t = 65.0 * f64::from(k);
        let on = p.piece_after(t);
        assert_eq!(on.at(t).0, 13.8, "pass {k}");
        let off = p.piece_after(on.end_s.min(t + 40.0));
        assert_eq!(off.at(t + 41.0).0, 0.2, "pass {k}");
        assert!(off.end_s > t + 64.9 && off.end_s < t + 65.1);
    }
}

#[test]
fn a_decay_without_end_becomes_constant() {
    let mut p = Programme::constant(9.0);
    p.segments[0].current = Current::Decay {
        from_a: 50.0,
        to_a: 9.0,
        time_constant_s: 0.5,
    };
    let first = p.piece_after(0.0);
    assert!(!first.is_constant() && first.end_s == 20.0);
    let last = p.piece_after(20.0);
    assert!(last.is_constant() && last.end_s.is_infinite());
    assert_eq!(last.at(1e6).0, 9.0);
    assert!((first.at(20.0).0 - 9.0).abs() < 1e-15 * 9.0);
    assert_eq!(p.last_a(), 9.0);
}

#[test]
fn rms_of_a_duty_weighs_the_square_of_the_current() {
    let expected = ((13.8f64.powi(2) * 40.0 + 0.2f64.powi(2) * 25.0) / 65.0).sqrt();
    assert!((duty().rms_a() - expected).abs() < 1e-12);
}

#[test]
fn the_last_current_stays_after_a_programme_done_twice() {
    let mut p = duty();
    p.repeat = Repeat::Times(2);
    assert_eq!(p.piece_after(129.0).at(129.0).0, 0.2);
    assert_eq!(p.piece_after(500.0).at(500.0).0, 0.2);
    assert!(p.piece_after(500.0).end_s.is_infinite());
}
