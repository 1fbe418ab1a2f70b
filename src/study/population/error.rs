//! Why a population cannot be computed.

use crate::diagnostic::{Problem, Report};
use crate::predict::PredictError;
use crate::scenario::Tolerance;
use crate::statistics::StatisticsError;
use std::fmt;
use std::io;
use std::path::PathBuf;

/// Why a population cannot be computed.
#[derive(Debug)]
#[non_exhaustive]
pub enum VaryError {
    /// No number of the scenario carries a tolerance.
    NothingVaries {
        /// The tolerances that there are, beside numbers in which units do not differ.
        idle: Vec<Tolerance>,
    },
    /// A tolerance that would make impossible parts.
    Impossible {
        /// Path of the number.
        path: String,
        /// Why.
        why: String,
    },
    /// A factory setting that cannot be.
    Setting(String),
    /// An option of the run that cannot be.
    Option {
        /// Which.
        option: &'static str,
        /// What it is, and what is allowed.
        what: String,
    },
    /// The folder holds another run, or none: what differs.
    Folder {
        /// The folder.
        path: PathBuf,
        /// What is wrong with it.
        problem: String,
        /// What to do.
        help: String,
    },
    /// Folders that do not fit together.
    Unlike {
        /// The first folder.
        first: PathBuf,
        /// The one that differs.
        second: PathBuf,
        /// What differs, with both values.
        what: String,
    },
    /// Parts of the run are missing.
    Missing(String),
    /// A file of the run cannot be read.
    Damaged {
        /// The file.
        path: PathBuf,
        /// Why.
        why: String,
    },
    /// The disk refused.
    Disk {
        /// What was being done.
        doing: &'static str,
        /// To which path.
        path: PathBuf,
        /// Why not.
        source: io::Error,
    },
    /// The nominal unit cannot be computed.
    Predict(PredictError),
    /// A statistic cannot be given.
    Statistics(StatisticsError),
}

const IDLE: &str = "all units would be the same: nothing varies these tolerances";
const HELP: &str = "units differ in dimensions, clearances, forces, resistances and the like. What is known of a metal is the \
     same for all of them, and `relatch run` says what it leaves open; coils differ in `flexivity` and \
     `resistivity` of [strip], `flexivity = \"100 % +- 2 points\"`. Wear differs in `relatch failures`; of a dial \
     `trips_at` and the latch's travel";

impl VaryError {
    /// Where a text holds tolerances but none in which units differ, these, with line and caret.
    pub fn idle(&self, name: &str, text: &str) -> Option<Report> {
        let VaryError::NothingVaries { idle } = self else {
            return None;
        };
        let problem = |t: &Tolerance| {
            let problem = Problem::new(t.span.clone(), IDLE);
            problem.label("no unit differs in it").help(HELP)
        };
        let problems: Vec<Problem> = idle.iter().map(problem).collect();
        (!problems.is_empty()).then(|| Report::new(name, text, problems))
    }

    /// Whether the input is wrong rather than the computation impossible.
    pub fn is_input(&self) -> bool {
        !matches!(
            self,
            VaryError::Disk { .. } | VaryError::Predict(_) | VaryError::Statistics(_)
        )
    }

    pub(crate) fn disk(
        doing: &'static str,
        path: impl Into<PathBuf>,
    ) -> impl FnOnce(io::Error) -> VaryError {
        let path = path.into();
        move |source| VaryError::Disk {
            doing,
            path,
            source,
        }
    }
}

impl fmt::Display for VaryError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            VaryError::NothingVaries { idle } if !idle.is_empty() => {
                let idle: Vec<&str> = idle.iter().map(|t| t.path.as_str()).collect();
                write!(f, "{IDLE}: {}\n  = help: {HELP}", idle.join(", "))
            }
            VaryError::NothingVaries { .. } => write!(
                f,
                "all units would be the same: no number of this scenario carries a tolerance\n  = help: write one \
                 beside a number, as `thickness = \"0.38 mm +- 1 %\"` (a standard uncertainty), or give a \
                 [[population.spread]] with `uncertainty`"
            ),
            VaryError::Impossible { path, why } => {
                write!(
                    f,
                    "{path}: {why}\n  = help: a tolerance is a standard uncertainty, about a third of what a drawing allows"
                )
            }
            VaryError::Setting(what) => write!(f, "{what}"),
            VaryError::Option { option, what } => write!(f, "{option}: {what}"),
            VaryError::Folder {
                path,
                problem,
                help,
            } => write!(
                f,
                "the folder {} {problem}\n  = help: {help}",
                path.display()
            ),
            VaryError::Unlike {
                first,
                second,
                what,
            } => write!(
                f,
                "{} and {} are not parts of one run: {what}\n  = help: merge only shards of the same command",
                first.display(),
                second.display()
            ),
            VaryError::Missing(what) => write!(f, "{what}"),
            VaryError::Damaged { path, why } => write!(
                f,
                "cannot read {}: {why}\n  = help: remove this file and run the same command again; only its units are computed anew",
                path.display()
            ),
            VaryError::Disk {
                doing,
                path,
                source,
            } => write!(f, "cannot {doing} {}: {source}", path.display()),
            VaryError::Predict(e) => write!(f, "{e}"),
            VaryError::Statistics(e) => write!(f, "{e}"),
        }
    }
}

impl std::error::Error for VaryError {}

impl From<PredictError> for VaryError {
    fn from(e: PredictError) -> Self {
        VaryError::Predict(e)
    }
}

impl From<StatisticsError> for VaryError {
    fn from(e: StatisticsError) -> Self {
        VaryError::Statistics(e)
    }
}
