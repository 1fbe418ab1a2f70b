//! From the first lines of a log to its [`Layout`].

use super::assumption::Assumption;
use super::clock;
use super::columns::{self, Content};
use super::detect::{Probe, Shape, is_comment, shape};
use super::draft::{Draft, span};
use super::encoding::Encoding;
use super::error::{Planned, ask};
use super::header::{Heading, heading};
use super::layout::{Column, Layout};
use super::number::{Cell, cell};
use super::options::{CurrentKind, Options};
use super::plan_time::{first_times, stamp_at, time_form, zone_s};
use super::rhythm::FirstRows;
use super::words::Statistic;
use crate::diagnostic::Problem;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::quantity::Dimension;
use std::ops::Range;

/// Finds the layout.
///
/// # Errors
/// The problem, or the question.
pub(super) fn plan(
    probe: &Probe,
    encoding: Encoding,
    options: &Options,
) -> Planned<(Layout, Vec<Heading>)> {
    let shape = shape(probe).ok_or_else(|| no_rows(probe))?;
    let rows: Vec<usize> = (shape.first..probe.lines.len())
        .filter(|at| {
            let line = probe.line(*at);
            !line.trim().is_empty() && !is_comment(line)
        })
        .collect();
    let headings = columns::headings(probe, &shape);
    let content = content(probe, &shape, &rows);
    commas_both_ways(probe, &shape)?;
    // Not a header after all, but a line of text above the rows.
    let known = headings
        .iter()
        .any(|h| h.subject.is_some() || h.statistic != Statistic::Unsaid);
    let picked = options.current_column.is_some();
    let is_header = shape.header.is_some() && (known || picked || headings.len() == shape.width);
    let headings = if is_header { headings } else { Vec::new() };
    let place = match shape.header.filter(|_| is_header) {
        Some(at) => span(probe, at),
        None => span(probe, shape.first),
    };
    let columns = columns::choose(headings, &content, place, options)?;
    let headings = columns.headings.clone();
    let layout = fill_in(Draft {
        probe,
        shape,
        rows,
        columns,
        encoding,
        is_header,
        options,
    })?;
    Ok((layout, headings))
}

fn no_rows(probe: &Probe) -> Problem {
    let first = (0..probe.lines.len()).find(|at| !probe.line(*at).trim().is_empty());
    Problem::new(
        first.map_or(0..0, |at| span(probe, at)),
        "this does not look like a log",
    )
    .label("no line has a number in at least half of its fields")
    .help("a log has one row a line, its fields set apart by `;`, `,`, tabs, bars or blanks")
}

/// A decimal comma in a file whose fields are set apart by commas cannot be told from a delimiter.
fn commas_both_ways(probe: &Probe, shape: &Shape) -> Planned<()> {
    use super::split::Delimiter;
    let Some(header) = shape.above.filter(|_| shape.delimiter == Delimiter::Comma) else {
        return Ok(());
    };
    let columns = probe.fields(header, shape.delimiter);
    let found = probe.fields(shape.first, shape.delimiter).len();
    let known = |f: &Range<usize>| heading(probe.field(header, f).0).subject.is_some();
    if columns.len() < 2 || found <= columns.len() || !columns.iter().all(known) {
        return Ok(());
    }
    ask(Problem::new(
        span(probe, shape.first),
        "commas stand both between and inside the numbers",
    )
    .label(format!("{found} fields"))
    .also(span(probe, header), format!("{} columns", columns.len()))
    .help("export with semicolons or tabs between the fields, or with decimal points"))
}

fn content(probe: &Probe, shape: &Shape, rows: &[usize]) -> Vec<Content> {
    let mut content = vec![
        Content {
            rising: true,
            ..Content::default()
        };
        shape.width
    ];
    let mut last = vec![f64::NEG_INFINITY; shape.width];
    for at in rows {
        for (i, field) in probe
            .fields(*at, shape.delimiter)
            .iter()
            .enumerate()
            .take(shape.width)
        {
            let text = probe.field(*at, field).0.as_bytes();
            let c = &mut content[i];
            if let Cell::Value(v, []) = cell(text, mark_of(text)) {
                c.numbers += 1;
                c.rising &= v > last[i];
                last[i] = v;
            } else if let Some(stamp) = clock::stamp(text) {
                c.clocks += usize::from(stamp.clock.is_some());
                c.dates += usize::from(stamp.date.is_some());
            }
        }
    }
    for c in &mut content {
        c.rising &= c.numbers > 0 && c.clocks + c.dates == 0;
        // Where rows hold dates and a stray one a clock, the column holds dates.
        if c.dates * 10 < c.clocks {
            c.dates = 0;
        }
        if c.clocks * 10 < c.dates {
            c.clocks = 0;
        }
    }
    content
}

/// The only mark in a field is its decimal mark.
fn mark_of(text: &[u8]) -> u8 {
    if text.contains(&b',') && !text.contains(&b'.') {
        b','
    } else {
        b'.'
    }
}

fn fill_in(mut d: Draft) -> Planned<Layout> {
    let mut assumptions = std::mem::take(&mut d.columns.assumptions);
    let (time_form, time) = time_form(&d, &mut assumptions)?;
    let mut current = current_column(&d, &mut assumptions)?;
    let bound = |i: Option<usize>| {
        i.map(|i| {
            let mut c = d.column(i, Dimension::Current);
            if c.unit.is_none() || d.options.amperes_per_unit.is_some() {
                c.scale = current.scale;
            }
            c
        })
    };
    let (minimum, maximum) = (bound(d.columns.minimum), bound(d.columns.maximum));
    let ambient = d
        .columns
        .ambient
        .map(|i| ambient_column(&d, i, &mut assumptions));
    let mut layout = Layout {
        encoding: d.encoding,
        delimiter: d.shape.delimiter,
        header_line: d
            .shape
            .header
            .filter(|_| d.is_header)
            .map(|at| at as u64 + 1),
        // Whatever stands below the header is a row, or a bad one.
        first_line: match d.shape.units.or(d.shape.header).filter(|_| d.is_header) {
            Some(at) => at as u64 + 2,
            None => d.shape.first as u64 + 1,
        },
        width: d.shape.width,
        time_form,
        time_of_day: d.columns.time_of_day.map(|i| d.column(i, Dimension::Time)),
        time,
        minimum,
        maximum,
        ambient,
        unit_column: d.columns.unit,
        kind: CurrentKind::MeterRms,
        statistic: d
            .heading(d.columns.current)
            .map_or(Statistic::Unsaid, |h| h.statistic),
        stamp_at: stamp_at(&d),
        interval_s: 0.0,
        rows_per_stamp: 1,
        zone_s: zone_s(&d),
        assumptions: assumptions
            .into_iter()
            .map(Assumption::fit_to_show)
            .collect(),
        current: current.clone(),
    };
    let first = FirstRows {
        times_s: first_times(&d, &layout),
        currents: d.numbers(&current),
    };
    super::rhythm::settle(&mut layout, &first, d.options);
    current.scale = layout.current.scale;
    Ok(layout)
}

fn current_column(d: &Draft, assumptions: &mut Vec<Assumption>) -> Planned<Column> {
    let i = d.columns.current;
    let mut column = d.column(i, Dimension::Current);
    if let Some(factor) = d.options.amperes_per_unit {
        column.scale = factor;
        column.unit = None;
        return Ok(column);
    }
    if column.unit.is_some() {
        return Ok(column);
    }
    if let Some(unit) = d.heading(i).and_then(|h| h.unit.as_ref()) {
        let place = span(d.probe, d.shape.header.unwrap_or(d.shape.first));
        return ask(Problem::new(
            place,
            format!("column {} \"{}\" is no current", i + 1, column.name),
        )
        .label(format!(
            "`{}` is a unit of {}",
            unit.text,
            kind(unit.dimension)
        ))
        .help("name another column, or say how many amperes one unit of it is"));
    }
    let in_cells = d.samples(i).iter().any(|s| {
        let rest = match cell(s.text.as_bytes(), column.mark) {
            Cell::Value(_, rest) => rest,
            _ => &[],
        };
        super::unit::read(&super::encoding::text(rest))
            .is_some_and(|u| u.dimension == Dimension::Current)
    });
    if !in_cells && d.columns.unit.is_none() {
        let mut sizes: Vec<f64> = d.numbers(&column).into_iter().map(f64::abs).collect();
        sizes.sort_by(f64::total_cmp);
        let large = sizes.get(sizes.len() / 2).is_some_and(|v| *v > 300.0);
        assumptions.push(Assumption::Amperes { large });
    }
    Ok(column)
}

/// `a voltage` without its article.
fn kind(dimension: Dimension) -> &'static str {
    let name = dimension.name();
    name.split_once(' ').map_or(name, |(_, rest)| rest)
}

/// Without a unit, a temperature is taken in degrees Celsius, unless its values can only be kelvin.
fn ambient_column(d: &Draft, i: usize, assumptions: &mut Vec<Assumption>) -> Column {
    let mut column = d.column(i, Dimension::Temperature);
    if column.unit.is_none() {
        let values = d.numbers(&column);
        let kelvin = !values.is_empty() && values.iter().all(|v| (230.0..400.0).contains(v));
        column.zero = if kelvin { 0.0 } else { ZERO_CELSIUS_K };
        let hot = !values.is_empty() && values.iter().all(|v| (55.0..120.0).contains(v));
        assumptions.push(match kelvin {
            true => Assumption::Kelvin,
            false => Assumption::Celsius { hot },
        });
    }
    column
}
