//! What was seen, against sound parts of the nameplate and against this part as it now seems: trip
//! time against current, log-log. A low figure for a page of words.

use super::Figure;
use super::log_log::{self, NINETY_PERCENT, TimesBand, is_positive};
use crate::diagnose::{BandPoint, Diagnosis, EvidencePoint};
use crate::present::chart::style::*;
use crate::present::chart::{
    Axis, Chart, Column, Foot, Key, Mark, Panel, Sample, Shape, Sheet, extent, fill,
};
use crate::present::diagnosis::number_of;
use crate::present::number::plain;

/// As wide as half of a sheet of paper its type is 8 points.
const SIZE: (i32, i32) = (960, 520);
/// Longer times are left out where no reading asks for them, s.
const LONGEST_S: f64 = 7200.0;

/// Draws the readings on the characteristic, each with the number of its line in the list of
/// evidence. `None` when there is neither a characteristic nor a reading that can be drawn.
pub fn diagnosis_figure(diagnosis: &Diagnosis) -> Option<Figure> {
    let mut chart = chart(diagnosis)?;
    chart.has_header = false;
    chart.sheet = Sheet::of_units(SIZE);
    // The words below it say from which state.
    for panel in chart.columns.iter_mut().flat_map(|c| &mut c.panels) {
        word!("Time to trip, s").clone_into(&mut panel.y.title);
    }
    // The page around it says the cautions.
    chart.described(description(diagnosis)).map(Chart::drawn)
}

/// The same as a sheet of its own: titled, with a key, each reading in words, and the air it is
/// drawn for.
pub fn readings_figure(diagnosis: &Diagnosis) -> Option<Figure> {
    let mut chart = chart(diagnosis)?;
    let celsius = |t: f64| plain((10.0 * t).round() / 10.0);
    let reference = celsius(diagnosis.reference_ambient_c);
    let own = diagnosis.state.air_at_the_part_c.median;
    let own = Some(own).filter(|own| (own - diagnosis.reference_ambient_c).abs() > 2.0);
    let own = own.map_or(String::new(), |own| {
        let sooner = own > diagnosis.reference_ambient_c;
        let sooner = if sooner {
            word!("sooner")
        } else {
            word!("later")
        };
        say!(
            "; the air at the part seems to be {} °C, where it trips {sooner}",
            celsius(own.round())
        ; sooner)
    });
    let air =
        say!("Curves from cold, in the reference air of {reference} °C{own}."; reference, own);
    let patch =
        |band: &TimesBand| Sample::Patch(Some(band.fill), Some(band.median.unwrap_or(band.edge)));
    let keys = vec![
        Key::new(
            patch(&SOUND),
            word!("90 % of sound parts of this nameplate"),
        ),
        Key::new(
            patch(&THIS_PART),
            word!("this part as it now seems, median and 90 %"),
        ),
        Key::new(
            Sample::Shape(Shape::Square, INK),
            word!("tripped; bars hold 90 %"),
        ),
        Key::new(Sample::Shape(Shape::Triangle, INK), word!("still closed ↑")),
    ];
    let mut numbered: Vec<(usize, &str)> = diagnosis
        .points
        .iter()
        .filter_map(|p| Some((number_of(diagnosis, &p.label)?, p.label.trim())))
        .collect();
    numbered.sort_unstable();
    numbered.dedup();
    let readings = numbered.into_iter();
    let readings = readings.map(|(n, label)| Key::new(Sample::Letter(n.to_string(), true), label));
    let readings: Vec<Key> = readings.collect();
    let readings = match readings.is_empty() {
        true => Foot::Note(word!("No reading with a current and a time to draw.").to_owned()),
        false => Foot::Keys(readings),
    };
    chart.foot = vec![Foot::Note(air), Foot::Keys(keys), readings];
    let chart = chart.described(description(diagnosis))?;
    Some(chart.carrying(&diagnosis.cautions))
}

/// The characteristic with the readings; `None` without either.
fn chart(diagnosis: &Diagnosis) -> Option<Chart> {
    let seen = seen(diagnosis);
    let band: Vec<&BandPoint> = diagnosis
        .characteristic
        .iter()
        .filter(|p| is_positive(p.current_a))
        .collect();
    let times = |p: &&&BandPoint| p.sound_s.iter().chain(&p.this_part_s).any(Option::is_some);
    if !is_positive(diagnosis.rated_current_a)
        || band.iter().filter(times).count() < 2 && seen.is_empty()
    {
        return None;
    }
    let mut panel = panel(diagnosis, &band, &seen);
    let times = |of: fn(&BandPoint) -> [Option<f64>; 3]| -> Vec<(f64, [Option<f64>; 3])> {
        band.iter().map(|p| (p.current_a, of(p))).collect()
    };
    panel.items = SOUND.items(word!("sound parts"), &times(|p| p.sound_s));
    let this = THIS_PART.items(word!("this part now"), &times(|p| p.this_part_s));
    panel.items.extend(this);
    panel.items.push(log_log::rating(diagnosis.rated_current_a));
    panel.items.extend(seen.into_iter().map(|s| s.mark.into()));
    let columns = vec![Column::of(vec![panel])];
    let title = word!("Readings on the characteristic");
    Some(Chart::new(
        "readings",
        title,
        diagnosis.case.as_str(),
        columns,
    ))
}

fn description(diagnosis: &Diagnosis) -> String {
    let seen = seen(diagnosis);
    let told = match seen.iter().filter(|s| s.is_held).count() {
        _ if seen.is_empty() => String::new(),
        held => say!(
            " {} measured points are marked, {held} of them still closed.",
            seen.len()
        ; held),
    };
    say!(
        "Time to trip from cold against current on logarithmic axes. A light area with broken edges is where 90 % of \
         sound parts of this nameplate trip; an area with unbroken edges and a thick line is this part as it now \
         seems.{told}"
    ; told)
}

/// A reading on the characteristic: a square for a trip, a triangle with an arrow upwards for
/// "still closed", with bars that hold 90 %.
struct Seen {
    mark: Mark,
    currents: [f64; 2],
    times: [f64; 2],
    is_held: bool,
}

fn seen(diagnosis: &Diagnosis) -> Vec<Seen> {
    let points = diagnosis.points.iter();
    let drawable = points.filter(|p| is_positive(p.current_a) && is_positive(p.time_s));
    drawable
        .map(|p| {
            let number = number_of(diagnosis, &p.label).map(|n| n.to_string());
            Seen::of(p, number.unwrap_or_default())
        })
        .collect()
}

impl Seen {
    fn of(point: &EvidencePoint, number: String) -> Self {
        // The ends are kept above zero.
        let ends = |value: f64, u: f64| {
            let half = if is_positive(u) {
                NINETY_PERCENT * u
            } else {
                0.0
            };
            [(value - half).max(0.2 * value), value + half]
        };
        let (u, shape) = match point.held {
            true => (0.0, Shape::Upwards),
            false => (point.time_relative * point.time_s, Shape::Square),
        };
        let currents = ends(point.current_a, point.current_uncertainty_a);
        let times = ends(point.time_s, u);
        let mut mark = Mark::new((point.current_a, point.time_s), shape, INK).named(number);
        mark.across = Some(currents).filter(|c| c[0] < c[1]);
        mark.along = Some(times).filter(|t| t[0] < t[1]);
        Self {
            mark,
            currents,
            times,
            is_held: point.held,
        }
    }
}

/// Ranges that hold the rating, the readings, and the characteristic around them.
fn panel(diagnosis: &Diagnosis, band: &[&BandPoint], seen: &[Seen]) -> Panel {
    let rated = diagnosis.rated_current_a;
    let currents = seen
        .iter()
        .flat_map(|s| s.currents)
        .chain([0.8 * rated, 3.0 * rated]);
    let (i_low, i_high) = extent(currents).unwrap_or((rated, 3.0 * rated));
    let (i_low, i_high) = (i_low * 0.88, i_high * 1.14);
    let shown = band
        .iter()
        .filter(|p| (i_low..=i_high).contains(&p.current_a));
    let times = shown
        .flat_map(|p| p.sound_s.iter().chain(&p.this_part_s))
        .flatten()
        .map(|t| t.min(LONGEST_S))
        .chain(seen.iter().flat_map(|s| s.times))
        .filter(|t| is_positive(*t));
    let (t_low, t_high) = extent(times).unwrap_or((1.0, 1000.0));
    let mut panel = log_log::panel([].into_iter(), [].into_iter(), Vec::new());
    panel.x = Axis::log(word!("Current, A"), i_low, i_high);
    panel.y = Axis::log(
        word!("Time to trip from cold, s"),
        t_low * 0.6,
        t_high * 2.2,
    );
    log_log::with_multiples(panel, rated)
}

const SOUND: TimesBand = TimesBand {
    fill: fill(LAKE, 0.12),
    edge: stroke(LAKE, 4, DASHED),
    median: None,
};
const THIS_PART: TimesBand = TimesBand {
    fill: fill(EMBER, 0.26),
    edge: stroke(EMBER, 2, SOLID),
    median: Some(stroke(EMBER, 8, SOLID)),
};
