//! A fit: the characteristic of the fitted parts against what is published, with the air beside it.

use super::Figure;
use super::log_log::{self, Limit, MULTIPLES, NINETY_PERCENT, TimesBand, is_positive};
use crate::family::{FitAnswer, FitCurve, FitRow, Kept, Printed, Spread};
use crate::present::chart::style::*;
use crate::present::chart::{
    Axis, Chart, Column, Foot, Item, Key, Line, Mark, Panel, Sample, Shape, fill,
};
use crate::present::number::{plain, round_duration, significant};

/// Longer times are left out where nothing published asks for them, s.
const LONGEST_S: f64 = 3600.0;
/// Dashes of the hot starts, in order.
const HOT: [Dash; 3] = [DASHED, DASH_DOT, LONG];
const SHARE: f64 = 0.16;

/// Draws the fit; `None` when the fitted parts trip nowhere.
pub fn fit_figure(answer: &FitAnswer) -> Option<Figure> {
    let trips = |c: &FitCurve| c.rows.iter().filter(|r| r.trip_s[1].is_some()).count() > 1;
    if !answer.curves.iter().any(trips) {
        return None;
    }
    let mut main = Column::of(vec![characteristic(answer)]);
    main.width = 2.2;
    let air = air(answer).map(|panel| Column::of(vec![panel]));
    let columns = [Some(main), air].into_iter().flatten().collect();
    let name = match answer.title.as_str() {
        "" => String::new(),
        title => format!("{title}: "),
    };
    let subtitle = say!(
        "{name}rated {} A at {} °C of air",
        plain(answer.rated_current_a),
        plain((answer.reference_ambient_c * 100.0).round() / 100.0)
    ; name);
    let chart = Chart::new(
        "fit",
        word!("Published, and the parts that follow it"),
        subtitle,
        columns,
    );
    chart
        .with_foot(key(answer))
        .described(description(answer))
        .map(|chart| chart.carrying(&answer.cautions))
}

fn is_point(row: &FitRow) -> bool {
    matches!(row.printed, Printed::Point { .. })
}

fn description(answer: &FitAnswer) -> String {
    let points = answer.rows.iter().filter(|r| is_point(r)).count();
    let missed = answer.rows.iter().filter(|r| r.kept != Kept::Yes).count();
    let hot = match answer.curves.iter().any(|c| c.after_multiple > 0.0) {
        false => "",
        true => word!(", from cold unbroken, from hot broken"),
    };
    let air = if answer.air_curve.is_empty() {
        ""
    } else {
        word!(
            " A small panel shows their usable current against the air beside the published table."
        )
    };
    say!(
        "Time to trip against current over rated current on logarithmic axes: the median of the fitted parts as a \
         line{hot}, 90 % of them shaded. {points} published points with their spread and {} windows are marked; the \
         best part misses {missed} of them.{air}",
        answer.rows.len() - points
    ; hot, points, missed, air)
}

fn band(colour: Colour, dash: Dash) -> TimesBand {
    TimesBand {
        fill: fill(colour, SHARE),
        edge: stroke(colour, 2, SOLID),
        median: Some(stroke(colour, 7, dash)),
    }
}

/// "after 80 % of rated"
fn after(multiple: f64) -> String {
    say!("after {} % of rated", plain((100.0 * multiple).round()))
}

fn characteristic(answer: &FitAnswer) -> Panel {
    let mut panel = axes(answer);
    let mut hot = HOT.iter().cycle();
    for curve in &answer.curves {
        let (look, name) = match curve.after_multiple > 0.0 {
            true => (
                band(EMBER, hot.next().unwrap_or(&DASHED)),
                after(curve.after_multiple),
            ),
            false => (band(LAKE, SOLID), word!("cold start").to_owned()),
        };
        let rows = curve.rows.iter();
        let times: Vec<_> = rows.map(|r| (r.multiple, r.trip_s)).collect();
        panel.items.extend(look.items(&name, &times));
    }
    let trip = &answer.trip_multiple;
    let text = say!(
        "trip point {} x ({} to {})",
        significant(trip.median, 3),
        significant(trip.low, 3),
        significant(trip.high, 3)
    );
    panel
        .items
        .push(Item::written(trip.median, stroke(PLUM, 4, DOTTED), text));
    let windows: Vec<Limit> = answer.rows.iter().filter_map(window).collect();
    panel
        .items
        .extend(log_log::limits(&windows, panel.y.value(0.9)));
    panel.items.extend(answer.rows.iter().filter_map(point));
    panel
}

/// Ranges that hold everything published and the curves around it.
fn axes(answer: &FitAnswer) -> Panel {
    let rows = || answer.curves.iter().flat_map(|c| &c.rows);
    let published: Vec<f64> = answer
        .rows
        .iter()
        .flat_map(|r| match r.printed {
            Printed::Point { time_s, relative } => ends(time_s, relative).map(Some),
            Printed::Carried => [None, None],
            Printed::Window {
                at_least_s,
                at_most_s,
            } => [Some(at_least_s), at_most_s],
        })
        .flatten()
        .filter(|t| is_positive(*t))
        .collect();
    let longest_s = published.iter().copied().fold(LONGEST_S, f64::max);
    let times = rows()
        .flat_map(|r| r.trip_s)
        .flatten()
        .map(|t| t.min(longest_s))
        .chain(published.iter().copied());
    let multiples = answer
        .rows
        .iter()
        .map(|r| r.multiple)
        .chain(rows().map(|r| r.multiple))
        .chain([1.0]);
    let mut panel = log_log::panel(multiples, times, Vec::new());
    panel.x.title = word!("Current over rated current").to_owned();
    panel.x.ticks = MULTIPLES
        .into_iter()
        .filter(|m| panel.x.contains(*m))
        .collect();
    let amperes = |m: &f64| {
        let current = (1e3 * m * answer.rated_current_a).round() / 1e3;
        (*m, format!("{} A", plain(current)))
    };
    panel.top = (panel.x.ticks.iter().map(amperes).collect(), "");
    panel
}

/// A window as the limit that it is.
fn window(row: &FitRow) -> Option<Limit> {
    let (at_least_s, at_most_s) = match row.printed {
        Printed::Point { .. } => return None,
        Printed::Carried => (None, None),
        Printed::Window {
            at_least_s,
            at_most_s,
        } => (Some(at_least_s), at_most_s),
    };
    Some(Limit {
        current: row.multiple,
        at_least_s,
        at_most_s,
        is_comparable: true,
    })
}

/// Times between which 90 % of units lie, s.
fn ends(time_s: f64, relative: f64) -> [f64; 2] {
    [-1.0, 1.0].map(|side| time_s * (side * NINETY_PERCENT * relative).exp())
}

fn point_shape(is_hot: bool) -> Shape {
    if is_hot {
        Shape::Diamond
    } else {
        Shape::Square
    }
}

/// A published point with a bar that holds 90 % of units; one that the best part misses says how.
fn point(row: &FitRow) -> Option<Item> {
    let Printed::Point { time_s, relative } = row.printed else {
        return None;
    };
    let shape = point_shape(row.after_multiple > 0.0);
    let mut mark = Mark::new((row.multiple, time_s), shape, INK).named(match row.kept {
        Kept::Yes => "",
        Kept::TooSoon => word!("best part too soon"),
        Kept::TooLate => word!("best part too late"),
    });
    mark.along = Some(ends(time_s, relative));
    Some(mark.into())
}

/// Usable current against the air, the published table beside the fitted parts; `None` where no
/// table is published.
fn air(answer: &FitAnswer) -> Option<Panel> {
    let fitted: Vec<(f64, &Spread)> = answer
        .air_curve
        .iter()
        .filter_map(|a| Some((a.ambient_c, a.usable.as_ref()?)))
        .collect();
    let rows: Vec<(f64, f64)> = published_air(answer).collect();
    if rows.is_empty() || fitted.len() < 2 {
        return None;
    }
    let airs = fitted.iter().map(|f| f.0).chain(rows.iter().map(|r| r.0));
    let factors = fitted
        .iter()
        .flat_map(|(_, s)| [s.low, s.high])
        .chain(rows.iter().map(|r| r.1));
    let x = Axis::airy(word!("Air, °C"), airs, 5, 0.08);
    let y = Axis::airy(word!("Usable current, factor"), factors, 5, 0.12);
    let line = |value: fn(&Spread) -> f64| -> Vec<(f64, f64)> {
        fitted.iter().map(|(t, s)| (*t, value(s))).collect()
    };
    let (low, high) = (line(|s| s.low), line(|s| s.high));
    let mut items = vec![Item::band(low.clone(), high.clone(), fill(LAKE, SHARE))];
    let edges = [low, high].map(|edge| Line::new(edge, stroke(LAKE, 2, SOLID)).into());
    items.extend(edges);
    items.push(Line::new(line(|s| s.median), stroke(LAKE, 7, SOLID)).into());
    let marks = rows.into_iter();
    items.extend(marks.map(|at| Mark::new(at, point_shape(false), INK).into()));
    Some(Panel::new(x, y, items).captioned(word!("What warm air leaves")))
}

fn published_air(answer: &FitAnswer) -> impl Iterator<Item = (f64, f64)> + '_ {
    let all = answer.air.iter();
    all.filter_map(|a| Some((a.ambient_c, a.printed?)))
}

/// Marks, lines, and the windows by their letters.
fn key(answer: &FitAnswer) -> Vec<Foot> {
    let has = |is_hot: bool| {
        let mut rows = answer.rows.iter();
        rows.any(|r| is_point(r) && (r.after_multiple > 0.0) == is_hot)
    };
    let is_shown = [
        has(false) || published_air(answer).next().is_some(),
        has(true),
    ];
    let words = [
        word!("published, from cold; bar: 90 % of its spread"),
        word!("published, from hot"),
    ];
    let shapes = [false, true].map(|is_hot| Sample::Shape(point_shape(is_hot), INK));
    let points = shapes.into_iter().zip(words).zip(is_shown);
    let mut keys: Vec<Key> = points
        .filter_map(|((sample, words), is_shown)| is_shown.then(|| Key::new(sample, words)))
        .collect();
    let sample = Sample::Patch(Some(fill(LAKE, SHARE)), Some(stroke(LAKE, 7, SOLID)));
    keys.push(Key::new(
        sample,
        word!("median of the fitted parts, 90 % of them shaded"),
    ));
    let windows = answer.rows.iter().filter(|r| !is_point(r)).enumerate();
    let windows = windows.map(|(k, row)| {
        let sample = Sample::Letter(log_log::letter(k), row.kept == Kept::Yes);
        Key::new(sample, window_words(row))
    });
    vec![Foot::Keys(keys), Foot::Keys(windows.collect())]
}

fn window_words(row: &FitRow) -> String {
    let from = match row.after_multiple > 0.0 {
        true => format!(" {}", after(row.after_multiple)),
        false => String::new(),
    };
    let asks = match row.printed {
        Printed::Window {
            at_least_s,
            at_most_s,
        } => match at_most_s {
            Some(most) if at_least_s > 0.0 => {
                say!("trips between {} and {}", time(at_least_s), time(most))
            }
            Some(most) => say!("trips by {}", time(most)),
            None => say!("not before {}", time(at_least_s)),
        },
        _ => word!("carried").to_owned(),
    };
    let assumed = if row.assumed { word!(" (assumed)") } else { "" };
    let kept = match row.kept {
        Kept::Yes => "",
        Kept::TooSoon => word!("; best part too soon"),
        Kept::TooLate => word!("; best part too late"),
    };
    let multiple = plain((1e3 * row.multiple).round() / 1e3);
    format!("{multiple} x{from}: {asks}{assumed}{kept}")
}

/// A printed time without zeros that were not printed.
fn time(seconds: f64) -> String {
    if seconds < 120.0 {
        format!("{} s", plain((1e3 * seconds).round() / 1e3))
    } else {
        round_duration(seconds)
    }
}
