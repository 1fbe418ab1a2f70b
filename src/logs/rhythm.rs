//! Usual interval, rows to a stamp, and what the numbers of the current column are.

use super::assumption::Assumption;
use super::layout::{Layout, TimeForm};
use super::options::{CurrentKind, Options};
use super::words::Statistic;

/// Samples of a mains current are less than half of a 60 Hz period apart, with room to see its sign
/// change.
const FASTEST_AVERAGE_S: f64 = 0.005;

/// Rows this far apart do not show the start of a motor.
const SLOW_S: f64 = 5.0;

/// Values of the first rows in the columns that are read.
pub(super) struct FirstRows {
    /// Times in seconds, as far as they can be read.
    pub times_s: Vec<f64>,
    pub currents: Vec<f64>,
}

/// Settles what the first rows tell together.
pub(super) fn settle(layout: &mut Layout, first: &FirstRows, options: &Options) {
    let times = &first.times_s;
    let steps: Vec<f64> = times.windows(2).map(|w| w[1] - w[0]).collect();
    let mut moving: Vec<f64> = steps.iter().copied().filter(|d| *d > 0.0).collect();
    let still = steps.iter().filter(|d| **d == 0.0).count();
    moving.sort_by(f64::total_cmp);
    let step = moving.get(moving.len() / 2).copied().unwrap_or(1.0);
    if moving.is_empty() && !matches!(layout.time_form, TimeForm::Even { .. }) {
        layout.assumptions.push(Assumption::NoInterval);
    }
    // Several rows to most stamps: the stamps are coarser than the rows.
    if still > moving.len() && !moving.is_empty() && differ_within_stamps(first) {
        let per_stamp = rows_between_changes(&steps);
        layout.rows_per_stamp = per_stamp.clamp(1.0, 1e6) as u32;
        layout.assumptions.push(Assumption::SharedStamps {
            rows: layout.rows_per_stamp,
            step_s: step,
        });
    }
    layout.interval_s = match layout.time_form {
        TimeForm::Even { interval_s } => interval_s,
        _ => step / f64::from(layout.rows_per_stamp),
    };
    let (kind, said) = kind(layout, first, options);
    layout.kind = kind;
    layout.assumptions.extend(said);
    if kind == CurrentKind::Samples {
        offset(layout, first, options);
    }
    what_is_not_seen(layout);
}

/// What a log of slow rows, or of averages, cannot show.
fn what_is_not_seen(layout: &mut Layout) {
    let mut say = |assumption| layout.assumptions.push(assumption);
    if layout.kind == CurrentKind::Average {
        say(Assumption::Stamp(layout.stamp_at));
        if layout.maximum.is_none() {
            say(Assumption::HiddenHeat);
        }
    }
    if layout.interval_s >= SLOW_S && layout.maximum.is_none() {
        say(Assumption::SlowRows(layout.interval_s));
    }
}

/// Rows from the first change of the stamp to the last, a change.
fn rows_between_changes(steps: &[f64]) -> f64 {
    let changes: Vec<usize> = (0..steps.len()).filter(|i| steps[*i] > 0.0).collect();
    match (changes.first(), changes.last()) {
        (Some(a), Some(b)) if b > a => ((b - a) as f64 / (changes.len() - 1) as f64).round(),
        (Some(a), _) => (a + 1) as f64,
        _ => 1.0,
    }
}

/// Rows under one stamp are not copies of each other.
fn differ_within_stamps(first: &FirstRows) -> bool {
    let pairs = first.times_s.windows(2).zip(first.currents.windows(2));
    let (mut same, mut other) = (0, 0);
    for (t, i) in pairs {
        if t[0] == t[1] {
            if i[0] == i[1] { same += 1 } else { other += 1 }
        }
    }
    other * 2 > same
}

fn kind(
    layout: &Layout,
    first: &FirstRows,
    options: &Options,
) -> (CurrentKind, Option<Assumption>) {
    if let Some(kind) = options.kind {
        return (kind, None);
    }
    let interval = layout.interval_s;
    match layout.statistic {
        Statistic::Rms => return (CurrentKind::MeterRms, None),
        Statistic::Average => {
            return (CurrentKind::Average, Some(Assumption::Averages));
        }
        _ => {}
    }
    if interval < FASTEST_AVERAGE_S {
        let said = Assumption::Samples {
            interval_s: interval,
            window_s: options.rms_window_s,
        };
        return (CurrentKind::Samples, Some(said));
    }
    let below = first.currents.iter().filter(|i| **i < 0.0).count();
    let said = if below * 3 > first.currents.len() {
        Assumption::ManyNegative
    } else {
        Assumption::MeterRms
    };
    (CurrentKind::MeterRms, Some(said))
}

/// A zero that is off shows in the mean of alternating samples.
fn offset(layout: &mut Layout, first: &FirstRows, options: &Options) {
    let n = first.currents.len() as f64;
    if n < 100.0 {
        return;
    }
    let mean = first.currents.iter().sum::<f64>() / n;
    let rms = (first.currents.iter().map(|i| i * i).sum::<f64>() / n).sqrt();
    let alternating = first.currents.iter().filter(|i| **i < 0.0).count() as f64 / n;
    if options.offset_a == 0.0 && alternating > 0.2 && mean.abs() > 0.003 * rms {
        layout.assumptions.push(Assumption::Offset(mean));
    }
}
