//! All problems of one file.

use super::{Problem, render};
use std::fmt;

/// Problems of one file, with its name and text for the excerpts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Report {
    file_name: String,
    text: String,
    problems: Vec<Problem>,
}

impl Report {
    /// Most problems shown; the rest is counted.
    pub const SHOWN: usize = 20;

    /// A report on a file; the problems are put in the order of the file.
    pub fn new(file_name: &str, text: &str, mut problems: Vec<Problem>) -> Self {
        problems.sort_by_key(|p| (p.span.start, p.span.end));
        problems.dedup();
        Report {
            file_name: file_name.to_owned(),
            text: text.to_owned(),
            problems,
        }
    }

    /// Name of the file as the user gave it.
    pub fn file_name(&self) -> &str {
        &self.file_name
    }

    /// The problems in the order of the file.
    pub fn problems(&self) -> &[Problem] {
        &self.problems
    }

    /// Line (from 1) at which a problem starts.
    pub fn line_of(&self, problem: &Problem) -> usize {
        let end = problem.span.start.min(self.text.len());
        1 + self.text.as_bytes()[..end]
            .iter()
            .filter(|b| **b == b'\n')
            .count()
    }
}

impl fmt::Display for Report {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for problem in self.problems.iter().take(Self::SHOWN) {
            writeln!(
                f,
                "{}\n",
                render::render(&self.file_name, &self.text, problem)
            )?;
        }
        let count = self.problems.len();
        let hidden = count.saturating_sub(Self::SHOWN);
        let problems = if count == 1 { "problem" } else { "problems" };
        write!(f, "{count} {problems} in {}", self.file_name)?;
        if hidden > 0 {
            write!(f, "; the first {} are shown", Self::SHOWN)?;
        }
        Ok(())
    }
}

impl std::error::Error for Report {}
