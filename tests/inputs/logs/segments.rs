//! Idle times, starts, runs and trips, and the thresholds between them.

use relatch::internals::logs::*;

/// Spans of one second, or of the length beside the current.
pub fn spans(currents: &[f64]) -> Vec<Span> {
    let span = |(k, i): (usize, &f64)| Span {
        from_s: k as f64,
        to_s: k as f64 + 1.0,
        current: Some(Current {
            value: *i,
            min: None,
            max: None,
        }),
        row: k as u64 + 1,
    };
    currents.iter().enumerate().map(span).collect()
}

fn segments(spans: &[Span]) -> Vec<Segment> {
    let mut levels = Levels::default();
    spans.iter().for_each(|s| levels.add(s));
    let mut finder = Finder::new(Finding::new(levels.thresholds().expect("load")));
    let mut found = Vec::new();
    spans
        .iter()
        .for_each(|s| finder.push(s, &mut |s| found.push(*s)));
    finder.finish(&mut |s| found.push(*s));
    found
}

#[test]
fn a_pump_starts_runs_trips_and_starts_again() {
    let mut currents = vec![0.2; 5];
    for _ in 0..2 {
        currents.extend([50.6, 48.0, 20.0, 9.6]);
        currents.extend([9.2; 80]);
        currents.extend([0.2; 30]);
    }
    let spans = spans(&currents);
    let found = segments(&spans);
    use SegmentKind::{Idle, Run, Start, Trip};
    let kinds: Vec<_> = found.iter().map(|s| (s.kind, s.from_s, s.to_s)).collect();
    assert_eq!(
        kinds,
        [
            (Idle, 0.0, 5.0),
            (Start, 5.0, 8.0),
            (Run, 8.0, 88.0),
            (Trip, 88.0, 89.0),
            (Idle, 89.0, 119.0),
            (Start, 119.0, 122.0),
            (Run, 122.0, 202.0),
            (Trip, 202.0, 203.0),
            (Idle, 203.0, 233.0),
        ]
    );
    // By hand: the root of the mean of the squares, not the mean.
    let start = found[1].totals;
    let heat: f64 = 50.6 * 50.6 + 48.0 * 48.0 + 20.0 * 20.0;
    assert!((start.rms_a() - (heat / 3.0).sqrt()).abs() < 1e-9);
    assert!((start.mean_a() - (50.6 + 48.0 + 20.0) / 3.0).abs() < 1e-9);
    assert!((start.peak_a - 50.6).abs() < 1e-12);
    // Segments leave nothing out.
    let all: f64 = currents.iter().map(|i| i * i).sum();
    let sum: f64 = found.iter().map(|s| s.totals.i2t_a2s).sum();
    assert!((sum / all - 1.0).abs() < 1e-12);
}

#[test]
fn a_stall_that_trips_is_no_start_and_a_slow_fall_is_no_trip() {
    let mut stall = vec![0.0; 5];
    stall.extend([55.0; 6]);
    stall.extend([0.0; 20]);
    let kinds: Vec<_> = segments(&spans(&stall)).iter().map(|s| s.kind).collect();
    use SegmentKind::{Idle, Run, Trip};
    assert_eq!(kinds, [Idle, Run, Trip, Idle]);
    let mut slow = vec![0.0; 5];
    slow.extend([13.0; 40]);
    slow.extend([9.0, 5.0, 3.0, 0.0, 0.0]);
    let kinds: Vec<_> = segments(&spans(&slow)).iter().map(|s| s.kind).collect();
    assert_eq!(kinds, [Idle, Run, Idle]);
}

/// 12 A from 20 s on, switched off by a trip at some moment of a row of 10 s: RMS and average rows.
#[test]
fn a_trip_is_found_in_whatever_phase_of_a_row_it_comes() {
    for shape in [1.0, 0.5] {
        for phase in 1..20 {
            let part = f64::from(phase) / 20.0;
            let rows = [
                0.0,
                0.0,
                12.0,
                12.0,
                12.0,
                12.0 * part.powf(shape),
                0.0,
                0.0,
                0.0,
            ];
            let wide: Vec<Span> = spans(&rows)
                .iter()
                .map(|s| Span {
                    from_s: 10.0 * s.from_s,
                    to_s: 10.0 * s.to_s,
                    ..*s
                })
                .collect();
            let trips: Vec<Segment> = segments(&wide)
                .into_iter()
                .filter(|s| s.kind == SegmentKind::Trip)
                .collect();
            assert_eq!(trips.len(), 1, "{part} {shape}");
            // Within the row, or at the end of the one before where hardly any of it was left.
            let end_s = 50.0 + 10.0 * part;
            let (from_s, to_s) = (trips[0].from_s, trips[0].to_s);
            assert!(from_s <= end_s && end_s <= to_s + 1.0, "{part} {shape}");
        }
    }
    // Over within one row.
    let kinds: Vec<_> = segments(&spans(&[0.0, 0.0, 0.0, 35.9, 0.0, 0.0, 0.0, 0.0]))
        .iter()
        .map(|s| s.kind)
        .collect();
    assert_eq!(
        kinds,
        [SegmentKind::Idle, SegmentKind::Trip, SegmentKind::Idle]
    );
}

#[test]
fn load_behind_a_gap_is_run_and_the_gap_is_told() {
    let mut all = spans(&[0.0, 0.0, 9.2, 9.2, 9.2]);
    all.push(Span {
        from_s: 5.0,
        to_s: 60.0,
        current: None,
        row: 6,
    });
    let later = spans(&[50.0, 9.2, 9.2, 9.2, 9.2, 9.2]);
    all.extend(later.iter().map(|s| Span {
        from_s: s.from_s + 60.0,
        to_s: s.to_s + 60.0,
        ..*s
    }));
    let kinds: Vec<_> = segments(&all).iter().map(|s| s.kind).collect();
    use SegmentKind::{Gap, Idle, Run};
    assert_eq!(kinds, [Idle, Run, Gap, Run]);
}

#[test]
fn thresholds_lie_in_the_valley() {
    let levels = |currents: &[(f64, f64)]| {
        let mut levels = Levels::default();
        for (i, t) in currents {
            let current = Some(Current {
                value: *i,
                min: None,
                max: None,
            });
            levels.add(&Span {
                from_s: 0.0,
                to_s: *t,
                current,
                row: 1,
            });
        }
        levels.thresholds()
    };
    // A machine that idles at 3.9 A under the same supply as one that is off at 0.05 A.
    let t = levels(&[(0.05, 100.0), (3.9, 100.0), (16.7, 100.0)]).expect("load");
    assert!(t.off_a > 0.05 && t.on_a < 3.9 && t.off_a < t.on_a, "{t:?}");
    let t = levels(&[(0.5, 1000.0), (9.0, 10.0)]).expect("load");
    assert!(t.off_a > 0.5 && t.on_a < 9.0, "{t:?}");
    assert_eq!(levels(&[(0.0, 100.0)]), None);
}

#[test]
fn averages_have_bounds() {
    // 13.8 A for 40 s and 0.2 A for 20 s within a minute: the average hides what the bounds
    // enclose.
    let average = (13.8 * 40.0 + 0.2 * 20.0) / 60.0;
    let truth: f64 = (13.8f64.powi(2) * 40.0 + 0.2f64.powi(2) * 20.0) / 60.0;
    let mut totals = Totals::default();
    let current = Some(Current {
        value: average,
        min: Some(0.2),
        max: Some(13.8),
    });
    totals.add(&Span {
        from_s: 0.0,
        to_s: 60.0,
        current,
        row: 1,
    });
    assert!(totals.rms_a() < truth.sqrt());
    // For a current that knows only two values the upper bound is the truth.
    assert!((totals.rms_high_a() - truth.sqrt()).abs() < 1e-9);
}
