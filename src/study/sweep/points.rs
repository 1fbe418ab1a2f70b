//! The points of a sweep, by their numbers.

use super::SweepError;
use super::over::{Axis, Over};
use crate::answer::Caution;
use crate::predict::{PredictError, parallel};
use crate::scenario::{ReadError, Scenario, set};
use crate::study::summary::{Summary, cautions_of};
use serde::{Deserialize, Serialize};

/// Most points of a sweep.
pub const MOST_POINTS: u64 = 100_000;

/// Points in which a value is tried with others before it is refused.
const MOST_TRIED: usize = 50;

/// A scenario and what is moved in it.
#[derive(Debug, Clone)]
pub struct Sweep {
    /// What the scenario is called in messages.
    name: String,
    /// Its text.
    pub(super) text: String,
    scenario: Scenario,
    /// What is moved; of the points the last of them moves fastest.
    pub axes: Vec<Axis>,
    /// Whether all move together.
    pub zipped: bool,
    /// Whether each point is asked what is known of its metals.
    pub metals: bool,
}

/// One point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Point {
    /// From 0.
    pub number: u64,
    /// Which value of each axis it takes.
    pub at: Vec<usize>,
    /// What comes out.
    pub answer: PointAnswer,
}

/// What comes out at a point.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "point", rename_all = "snake_case")]
#[non_exhaustive]
pub enum PointAnswer {
    /// The answers.
    Answered(Box<Summary>),
    /// These values do not go together in a scenario.
    Impossible {
        /// Why not.
        why: String,
    },
    /// They do, and there is no prediction.
    Failed {
        /// Why not.
        why: String,
    },
}

/// A finished sweep.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct SweepOutcome {
    /// Layout of the record.
    pub format: u32,
    /// Version of the program.
    pub version: String,
    /// Title of the scenario.
    pub scenario: String,
    /// What was set in it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub changed: Vec<String>,
    /// Rated current of the scenario as it is, A.
    pub rated_current_a: f64,
    /// What was moved.
    pub axes: Vec<Axis>,
    /// Whether all moved together.
    pub zipped: bool,
    /// Every point in order.
    pub points: Vec<Point>,
    /// Cautions for whoever reads it.
    pub cautions: Vec<Caution>,
}

impl Sweep {
    /// A sweep of a scenario over paths, each as `--over` takes it.
    ///
    /// # Errors
    /// Every wrong path and value; too many points, with their number.
    pub fn new(
        (name, text): (&str, &str),
        over: &[&str],
        zipped: bool,
    ) -> Result<Sweep, SweepError> {
        if !(1..=3).contains(&over.len()) {
            return Err(SweepError::Paths(over.len()));
        }
        let asked: Vec<Over> = over
            .iter()
            .map(|o| Over::read(o))
            .collect::<Result<_, _>>()?;
        let counts: Vec<u64> = asked.iter().map(Over::count).collect();
        let points = match zipped {
            true if counts.iter().any(|count| *count != counts[0]) => {
                return Err(SweepError::Uneven(counts));
            }
            true => u128::from(counts[0]),
            false => counts
                .iter()
                .map(|c| u128::from(*c))
                .fold(1, u128::saturating_mul),
        };
        if points > u128::from(MOST_POINTS) {
            return Err(SweepError::TooMany(points));
        }
        let axes: Vec<Axis> = asked.into_iter().map(Over::axis).collect();
        for (k, axis) in axes.iter().enumerate() {
            if axes[..k].iter().any(|before| before.path == axis.path) {
                return Err(SweepError::Twice(axis.path.clone()));
            }
        }
        let (_, scenario) = set((name, text), "--over", &[])?;
        let sweep = Sweep {
            name: name.to_owned(),
            text: text.to_owned(),
            scenario,
            axes,
            zipped,
            metals: false,
        };
        for (k, axis) in sweep.axes.iter().enumerate() {
            // What is possible at both ends of a range is so between them.
            let last = axis.values.len() - 1;
            let tried = (0..=last).filter(|v| !axis.is_range || *v == 0 || *v == last);
            for value in tried {
                sweep.is_possible(k, value)?;
            }
        }
        Ok(sweep)
    }

    /// The same with what is known of the metals at every point, which takes several times as long.
    #[must_use]
    pub fn with_metals(self, metals: bool) -> Sweep {
        Sweep { metals, ..self }
    }

    /// Whether a value of an axis is possible with any values of the others; else why not with the
    /// first.
    fn is_possible(&self, axis: usize, value: usize) -> Result<(), ReadError> {
        let mut why = None;
        let with = (0..self.count()).map(|number| self.at(number));
        for at in with.filter(|at| at[axis] == value).take(MOST_TRIED) {
            match self.set(&at) {
                Ok(_) => return Ok(()),
                Err(error) => why = why.or(Some(error)),
            }
        }
        why.map_or(Ok(()), Err)
    }

    /// The scenario of a point.
    fn set(&self, at: &[usize]) -> Result<Scenario, ReadError> {
        let pairs = self.axes.iter().zip(at);
        let values: Vec<(&str, &str)> = pairs
            .map(|(axis, k)| (axis.path.as_str(), axis.values[*k].as_str()))
            .collect();
        Ok(set((&self.name, &self.text), "--over", &values)?.1)
    }

    /// How many points.
    pub fn count(&self) -> u64 {
        let counts = self.axes.iter().map(|axis| axis.values.len() as u64);
        match self.zipped {
            true => counts.min().unwrap_or(0),
            false => counts.product(),
        }
    }

    /// Which value of each axis a point takes.
    fn at(&self, number: u64) -> Vec<usize> {
        let mut left = number as usize;
        let mut places = vec![left; self.axes.len()];
        if !self.zipped {
            for (place, axis) in places.iter_mut().zip(&self.axes).rev() {
                *place = left % axis.values.len();
                left /= axis.values.len();
            }
        }
        places
    }

    /// Computes a point.
    pub(super) fn point(&self, number: u64) -> Point {
        let at = self.at(number);
        let answer = match self.set(&at) {
            Err(error) => PointAnswer::Impossible { why: short(&error) },
            Ok(scenario) => match self.answers(&scenario) {
                Ok(summary) => PointAnswer::Answered(Box::new(summary)),
                Err(error) => PointAnswer::Failed {
                    why: error.to_string(),
                },
            },
        };
        Point { number, at, answer }
    }

    fn answers(&self, scenario: &Scenario) -> Result<Summary, PredictError> {
        match self.metals {
            true => Summary::with_metals(scenario, true),
            false => Summary::predict(scenario),
        }
    }

    /// Computes every point, in memory.
    pub fn run(&self, done: &mut (dyn FnMut(usize) + Send)) -> SweepOutcome {
        let numbers: Vec<u64> = (0..self.count()).collect();
        self.outcome(parallel::map(&numbers, |k| self.point(*k), done))
    }

    pub(super) fn outcome(&self, points: Vec<Point>) -> SweepOutcome {
        let cautions = cautions_of(points.iter().filter_map(Point::summary));
        SweepOutcome {
            format: 1,
            version: env!("CARGO_PKG_VERSION").into(),
            scenario: self.scenario.name(),
            changed: self.scenario.changed.clone(),
            rated_current_a: self.scenario.protector.rated_current_a,
            axes: self.axes.clone(),
            zipped: self.zipped,
            points,
            cautions,
        }
    }
}

/// What is wrong, without the place.
fn short(error: &ReadError) -> String {
    match error {
        ReadError::Content(report) => {
            let each: Vec<&str> = report
                .problems()
                .iter()
                .map(|p| p.message.as_str())
                .collect();
            each.join("; ")
        }
        other => other.to_string(),
    }
}

impl Point {
    /// The answers, where there are any.
    pub fn summary(&self) -> Option<&Summary> {
        match &self.answer {
            PointAnswer::Answered(summary) => Some(summary),
            _ => None,
        }
    }
}
