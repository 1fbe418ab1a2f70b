//! Logs condensed to load programmes, and their memory.

use super::segments::spans;
use relatch::internals::logs::*;
use relatch::internals::present::log_import;

/// Heat of a programme up to a time.
fn heat_at(pieces: &[(f64, f64)], time_s: f64) -> f64 {
    let mut left = time_s;
    let mut heat = 0.0;
    for (length, current) in pieces {
        heat += current * current * length.min(left);
        left = (left - length).max(0.0);
    }
    heat
}

#[test]
fn a_programme_has_the_heat_of_the_log_at_every_moment() {
    let currents: Vec<f64> = (0..5000)
        .map(|k| match k % 65 {
            0 => 40.0,
            1..40 => 13.8 + 0.1 * (k as f64 * 0.7).sin(),
            _ => 0.2,
        })
        .collect();
    for most in [10_000, 200, 12] {
        let mut condenser = Condenser::new(Condensing {
            most_pieces: most,
            ..Condensing::new(0.01, 10.0, 25.0)
        });
        spans(&currents).iter().for_each(|s| condenser.push(s));
        let programme = condenser.finish();
        assert!(
            programme.pieces.len() <= most,
            "{} pieces",
            programme.pieces.len()
        );
        let mut heat = 0.0;
        for (k, i) in currents.iter().enumerate() {
            heat += i * i;
            let off = (heat_at(&programme.pieces, k as f64 + 1.0) - heat).abs();
            assert!(
                off <= programme.tolerance_a2s * (1.0 + 1e-9),
                "{off} at {k} of {most}"
            );
        }
        let whole = heat_at(&programme.pieces, 5000.0);
        assert!((whole / programme.i2t_a2s - 1.0).abs() < 1e-9);
        if most == 10_000 {
            assert_eq!(programme.tolerance_a2s, 25.0);
            assert!(
                programme.pieces.len() < 400,
                "{} pieces",
                programme.pieces.len()
            );
        }
    }
}

#[test]
fn a_window_and_a_gap_of_a_programme() {
    let mut all = spans(&[10.0; 10]);
    all.push(Span {
        from_s: 10.0,
        to_s: 20.0,
        current: None,
        row: 11,
    });
    for (gaps, expected) in [
        (GapFill::Zero, 500.0),
        (GapFill::Before, 1000.0),
        (GapFill::Largest, 1000.0),
    ] {
        let settings = Condensing {
            gaps,
            window_s: (5.0, 15.0),
            ..Condensing::new(0.01, 10.0, 25.0)
        };
        let mut condenser = Condenser::new(settings);
        all.iter().for_each(|s| condenser.push(s));
        let programme = condenser.finish();
        assert_eq!((programme.starts_at_s, programme.filled_s), (5.0, 5.0));
        assert!((programme.i2t_a2s - expected).abs() < 1e-9);
        let time: f64 = programme.pieces.iter().map(|p| p.0).sum();
        assert!((time - 10.0).abs() < 1e-12);
    }
}

#[test]
fn memory_is_bounded_whatever_is_wrong() {
    let mut text = String::from("time (s),current (A)\n");
    for k in 0..20_000 {
        match k % 4 {
            0 => text += "x,y\n",
            1 => text += &format!("{k},9.4\n{k},9.5\n"),
            2 => text += &format!("{},-9.4\n", 50 * k),
            _ => text += "0,9.4\n",
        }
    }
    let mut log = LogReader::new("odd", text.as_bytes(), Options::default())
        .unwrap_or_else(|e| panic!("{e}"));
    while log.next_row().expect("row").is_some() {}
    let a = log.account();
    assert!(a.bad_rows.count >= 5000 && a.bad_rows.first.len() == KEPT);
    assert!(
        a.gaps.first.len() <= KEPT
            && a.duplicates.first.len() <= KEPT
            && a.clock_jumps.first.len() <= KEPT
    );
    assert!(log_import("odd", log.layout(), a).lines().count() < 250);
}

#[test]
fn a_clock_that_goes_back_leaves_no_piece_without_length() {
    let span = |from_s: f64, to_s: f64, value: f64| Span {
        from_s,
        to_s,
        current: Some(Current {
            value,
            min: None,
            max: None,
        }),
        row: 1,
    };
    let mut condenser = Condenser::new(Condensing::new(0.01, 10.0, 0.0));
    let spans = [
        (0.0, 2.0, 5.0),
        (1.0, 2.0, 5.0),
        (2.0, 3.0, 0.0),
        (3.0, 4.0, 7.0),
    ];
    for (from_s, to_s, value) in spans {
        condenser.push(&span(from_s, to_s, value));
    }
    let programme = condenser.finish();
    let sound = |p: &(f64, f64)| p.0 > 0.0 && p.1.is_finite();
    assert!(programme.pieces.iter().all(sound), "{:?}", programme.pieces);
    let whole_s: f64 = programme.pieces.iter().map(|p| p.0).sum();
    assert_eq!(whole_s, 4.0);
}
