//! Decides which columns are read.

use super::assumption::Assumption;
use super::detect::{Probe, Shape};
use super::error::{Planned, ask};
use super::header::{Heading, bare_unit, heading, with_unit};
use super::options::{Options, Pick};
use super::words::{Statistic, Subject};
use crate::diagnostic::{Problem, nearest};
use crate::quantity::Dimension;
use std::ops::Range;

/// The columns that are read, as places in [`Columns::headings`].
#[derive(Debug)]
pub(super) struct Columns {
    pub headings: Vec<Heading>,
    pub time: Option<usize>,
    pub time_of_day: Option<usize>,
    pub current: usize,
    pub minimum: Option<usize>,
    pub maximum: Option<usize>,
    pub ambient: Option<usize>,
    pub unit: Option<usize>,
    pub assumptions: Vec<Assumption>,
}

/// Headings of the columns, from the header and the line of units below it.
pub(super) fn headings(probe: &Probe, shape: &Shape) -> Vec<Heading> {
    let cells = |at: usize| -> Vec<String> {
        let fields = probe.fields(at, shape.delimiter);
        let text = |f: &Range<usize>| probe.field(at, f).0.to_owned();
        fields.iter().map(text).collect()
    };
    let Some(header) = shape.header else {
        return Vec::new();
    };
    let units = shape.units.map(cells).unwrap_or_default();
    let join = |(i, name): (usize, String)| match units.get(i).filter(|u| bare_unit(u).is_some()) {
        Some(unit) => heading(&with_unit(&name, unit)),
        None => heading(&name),
    };
    cells(header).into_iter().enumerate().map(join).collect()
}

/// Decides which columns are read.
///
/// # Errors
/// A question, when more than one column could be meant, or none.
pub(super) fn choose(
    headings: Vec<Heading>,
    content: &[Content],
    header: Range<usize>,
    options: &Options,
) -> Planned<Columns> {
    let mut c = Chooser {
        headings,
        content,
        header,
        assumptions: Vec::new(),
    };
    let time = match &options.time_column {
        Some(pick) => Some(c.picked(pick, "time")?),
        None => c.time(),
    };
    let time_of_day = c.time_of_day(time);
    let current = match &options.current_column {
        Some(pick) => c.picked(pick, "current")?,
        None => c.current(time, time_of_day)?,
    };
    let ambient = match &options.ambient_column {
        Some(pick) => Some(c.picked(pick, "ambient")?),
        None => c.ambient(current),
    };
    let (minimum, maximum) = (
        c.beside(current, Statistic::Minimum),
        c.beside(current, Statistic::Maximum),
    );
    let unit = c.all(|h| h.subject == Some(Subject::Unit)).first().copied();
    Ok(Columns {
        headings: c.headings,
        time,
        time_of_day,
        current,
        minimum,
        maximum,
        ambient,
        unit,
        assumptions: c.assumptions,
    })
}

/// What the rows hold in one column.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Content {
    pub numbers: usize,
    pub clocks: usize,
    pub dates: usize,
    /// The numbers rise from row to row.
    pub rising: bool,
}

struct Chooser<'a> {
    headings: Vec<Heading>,
    content: &'a [Content],
    header: Range<usize>,
    assumptions: Vec<Assumption>,
}

impl Chooser<'_> {
    fn all(&self, is: impl Fn(&Heading) -> bool) -> Vec<usize> {
        let numbered = self.headings.iter().enumerate();
        numbered.filter(|(_, h)| is(h)).map(|(i, _)| i).collect()
    }

    fn names(&self, indices: &[usize]) -> String {
        let name = |i: &usize| match self.headings.get(*i) {
            Some(h) if !h.name.is_empty() => format!("{} \"{}\"", i + 1, h.name),
            _ => format!("{}", i + 1),
        };
        let mut names: Vec<String> = indices.iter().take(12).map(name).collect();
        if indices.len() > 12 {
            names.push("...".into());
        }
        names.join(", ")
    }

    fn width(&self) -> usize {
        self.content.len().max(self.headings.len())
    }

    fn picked(&self, pick: &Pick, what: &str) -> Planned<usize> {
        let every: Vec<usize> = (0..self.width()).collect();
        match pick {
            Pick::Number(n) if (1..=self.width()).contains(n) => Ok(n - 1),
            Pick::Number(n) => ask(Problem::new(
                self.header.clone(),
                format!("there is no column {n}"),
            )
            .label(format!("{} columns", self.width()))
            .help(format!("the {what} may stand in: {}", self.names(&every)))),
            Pick::Name(name) => {
                let same = |h: &Heading| h.name.trim().eq_ignore_ascii_case(name.trim());
                if let [one] = self.all(same)[..] {
                    return Ok(one);
                }
                let mut problem =
                    Problem::new(self.header.clone(), format!("no column is called `{name}`"))
                        .label("the columns");
                if let Some(near) = nearest(name, self.headings.iter().map(|h| h.name.as_str())) {
                    problem = problem.help(format!("did you mean `{near}`?"));
                }
                ask(problem.help(format!("columns: {}", self.names(&every))))
            }
        }
    }

    fn time(&self) -> Option<usize> {
        let holds = |i: &usize, is: fn(&Content) -> bool| self.content.get(*i).is_some_and(is);
        let named = self.all(|h| matches!(h.subject, Some(Subject::Time | Subject::Date)));
        // A date with its time first, then whatever rises.
        let dated = |i: &&usize| holds(i, |c| c.dates > 0);
        let any = |i: &&usize| holds(i, |c| c.dates + c.clocks > 0 || c.rising);
        let found = named.iter().find(dated).or_else(|| named.iter().find(any));
        if found.is_some() || !named.is_empty() {
            return found.or(named.first()).copied();
        }
        // `T` beside nothing else for a time; or no header, or one that says nothing.
        let free: Vec<usize> = (0..self.content.len())
            .filter(|i| {
                self.headings
                    .get(*i)
                    .is_none_or(|h| h.subject.is_none() || (h.name == "T" && h.unit.is_none()))
            })
            .collect();
        let clocked = |i: &&usize| holds(i, |c| c.dates + c.clocks > 0);
        let rising = |i: &&usize| **i == 0 && holds(i, |c| c.rising);
        let found = free
            .iter()
            .find(dated)
            .or_else(|| free.iter().find(clocked));
        found.or_else(|| free.iter().find(rising)).copied()
    }

    /// The column of times of day beside one of dates.
    fn time_of_day(&self, time: Option<usize>) -> Option<usize> {
        let time = time?;
        let date = self.content.get(time)?;
        if date.dates == 0 || date.clocks > 0 {
            return None;
        }
        let clocked =
            |i: &usize| *i != time && self.content[*i].clocks > 0 && self.content[*i].dates == 0;
        (0..self.content.len()).find(clocked)
    }

    fn current(&mut self, time: Option<usize>, time_of_day: Option<usize>) -> Planned<usize> {
        let mut named = self.all(|h| h.subject == Some(Subject::Current));
        if named.is_empty() {
            // `Time;Avg;Min;Max`.
            named = self.all(|h| h.subject.is_none() && h.statistic != Statistic::Unsaid);
        }
        if named.is_empty() {
            return self.current_by_content(time, time_of_day);
        }
        let by = |s: Statistic| -> Vec<usize> {
            let is = |i: &&usize| self.headings[**i].statistic == s;
            named.iter().filter(is).copied().collect()
        };
        let order = [Statistic::Rms, Statistic::Average, Statistic::Unsaid];
        for statistic in order {
            let these = by(statistic);
            match these[..] {
                [] => {}
                [one] => {
                    self.say_what_is_left(&named, one);
                    return Ok(one);
                }
                _ => return ask(self.which(&these)),
            }
        }
        match by(Statistic::Maximum)[..] {
            [one] => {
                self.assumptions.push(Assumption::OnlyLargest);
                Ok(one)
            }
            _ => ask(self.which(&named)),
        }
    }

    fn which(&self, columns: &[usize]) -> Problem {
        Problem::new(
            self.header.clone(),
            "which column is the current of the protector?",
        )
        .label(format!("{} columns of current", columns.len()))
        .help(format!("name one of them: {}", self.names(columns)))
    }

    /// Currents beside the one that is used are passed over, and that is said.
    fn say_what_is_left(&mut self, named: &[usize], used: usize) {
        let left: Vec<usize> = named
            .iter()
            .filter(|i| **i != used)
            .filter(|i| {
                !matches!(
                    self.headings[**i].statistic,
                    Statistic::Minimum | Statistic::Maximum
                )
            })
            .copied()
            .collect();
        if !left.is_empty() {
            let left = self.names(&left);
            let used = self.names(&[used]);
            self.assumptions.push(Assumption::Current { used, left });
        }
    }

    /// No header says what is a current.
    fn current_by_content(
        &mut self,
        time: Option<usize>,
        time_of_day: Option<usize>,
    ) -> Planned<usize> {
        let volts = self.all(|h| {
            h.unit
                .as_ref()
                .is_some_and(|u| u.dimension == Dimension::Voltage)
        });
        let free = |i: &usize| {
            Some(*i) != time
                && Some(*i) != time_of_day
                && self.content.get(*i).is_some_and(|c| c.numbers > 0)
                && self.headings.get(*i).is_none_or(|h| h.subject.is_none())
        };
        let free: Vec<usize> = (0..self.width()).filter(free).collect();
        match free[..] {
            [one] => {
                let column = self.names(&[one]);
                self.assumptions.push(Assumption::OnlyColumn(column));
                Ok(one)
            }
            [] => {
                let label = if self.headings.is_empty() {
                    "no header"
                } else {
                    "none of these is a current"
                };
                let problem = Problem::new(self.header.clone(), "no column of currents was found")
                    .label(label);
                let every: Vec<usize> = (0..self.width()).collect();
                ask(if volts.is_empty() {
                    problem.help(format!(
                        "name the column of the current: {}",
                        self.names(&every)
                    ))
                } else {
                    problem
                        .note("a voltage may be that of a shunt or of a clamp")
                        .help(format!(
                            "if so, name its column ({}) and say how many amperes one volt is",
                            self.names(&volts)
                        ))
                })
            }
            _ => ask(
                Problem::new(self.header.clone(), "which column is the current?")
                    .label(if self.headings.is_empty() {
                        "no header says"
                    } else {
                        "the header does not say"
                    })
                    .help(format!("name one of these columns: {}", self.names(&free))),
            ),
        }
    }

    fn ambient(&mut self, current: usize) -> Option<usize> {
        let said = self.all(|h| h.subject == Some(Subject::Ambient));
        let plain = self.all(|h| h.subject == Some(Subject::Temperature));
        let found = said
            .first()
            .or(plain.first())
            .copied()
            .filter(|i| *i != current)?;
        if said.len() + plain.len() > 1 {
            let column = self.names(&[found]);
            let of = said.len() + plain.len();
            self.assumptions.push(Assumption::Air { of, column });
        }
        Some(found)
    }

    /// The column of the least or largest current that belongs to the chosen one.
    fn beside(&self, current: usize, statistic: Statistic) -> Option<usize> {
        let bare = |h: &Heading| h.subject.is_none() && h.unit.is_none();
        let unit = self.headings.get(current).map(|h| h.unit.is_some());
        let these = self.all(|h| {
            h.statistic == statistic
                && (h.subject == Some(Subject::Current) || (bare(h) && unit.is_some()))
        });
        // Only one of a kind can be matched without names.
        these
            .into_iter()
            .min_by_key(|i| i.abs_diff(current))
            .filter(|i| *i != current)
    }
}
